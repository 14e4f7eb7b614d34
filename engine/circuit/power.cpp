#include "engine/circuit/power.h"

#include <cmath>

#include "engine/text/number.h"

namespace leadline::circuit {
namespace {

using Eigen::VectorXd;
using Index = Eigen::Index;

// The circuit as the loads that follow their volts see it: v = open_volts - ohms * i(v).
struct Ports {
  std::vector<std::size_t> elements;
  std::vector<const MotorLoad*> motors;  // by port; none: a constant power
  VectorXd watts, open_volts;            // watts: 0 of a motor
  Eigen::MatrixXd ohms;
};

// Speed of a motor, as a share of its rated one, from E x + R I c x^2 = |V|: the propeller's torque balances the motor's.
double speed(const MotorLoad& motor, double volts) {
  const double back = motor.volt - motor.amp * motor.ohm, drag = motor.ohm * motor.amp * motor.load;
  return 2 * std::abs(volts) / (back + std::sqrt(back * back + 4 * drag * std::abs(volts)));  // this form keeps its digits at small loads
}

double motor_slope(const MotorLoad& motor, double volts) {
  const double x = speed(motor, volts);
  const double back = motor.volt - motor.amp * motor.ohm, drag = motor.ohm * motor.amp * motor.load;
  return 2 * motor.amp * motor.load * x / (back + 2 * drag * x);
}

bool follows_volts(const Kind& kind) {
  const auto* power = std::get_if<PowerLoad>(&kind);
  return std::holds_alternative<MotorLoad>(kind) || (power && power->watt > 0);
}

std::vector<double> known_currents(const Circuit& circuit) {
  std::vector<double> amps;
  for (const auto& element : circuit.elements) {
    const auto* load = std::get_if<CurrentLoad>(&element.kind);
    amps.push_back(load ? load->amp : 0);
  }
  return amps;
}

Ports ports_of(const Circuit& circuit, const LinearSystem& system) {
  Ports ports;
  for (std::size_t e = 0; e < circuit.elements.size(); ++e) {
    if (follows_volts(circuit.elements[e].kind)) ports.elements.push_back(e);
  }
  const auto count = static_cast<Index>(ports.elements.size());
  ports.watts = VectorXd(count);
  ports.ohms = Eigen::MatrixXd(count, count);
  ports.open_volts = ports.elements.empty() ? VectorXd() : system.volts_over(ports.elements, known_currents(circuit));
  for (Index k = 0; k < count; ++k) {
    const auto element = ports.elements[static_cast<std::size_t>(k)];
    const auto& kind = circuit.elements[element].kind;
    ports.motors.push_back(std::get_if<MotorLoad>(&kind));
    ports.watts(k) = ports.motors.back() ? 0 : std::get<PowerLoad>(kind).watt;
    ports.ohms.col(k) = -system.volts_over_for_an_ampere(ports.elements, element);
  }
  return ports;
}

struct Draw {
  VectorXd amps, slopes;  // of the currents, by volts
};

Draw draw_at(const Ports& ports, const VectorXd& volts, double share) {
  Draw draw{VectorXd(volts.size()), VectorXd(volts.size())};
  for (Index k = 0; k < volts.size(); ++k) {
    const auto* motor = ports.motors[static_cast<std::size_t>(k)];
    draw.amps(k) = motor ? motor_amps(*motor, volts(k)) : share * ports.watts(k) / volts(k);
    draw.slopes(k) = motor ? motor_slope(*motor, volts(k)) : -draw.amps(k) / volts(k);
  }
  return draw;
}

// A constant power at volts that have run through zero.
bool collapsed(const Ports& ports, const VectorXd& volts) {
  for (Index k = 0; k < volts.size(); ++k) {
    if (!ports.motors[static_cast<std::size_t>(k)] && volts(k) * ports.open_volts(k) <= 0) return true;
  }
  return false;
}

// Newton on v - open_volts + ohms * i(v) = 0, from the open volts downward. With ohms that are nowhere negative the steps
// only ever fall, and end at the highest solution when there is one; past it they run through zero, which is refused.
std::optional<VectorXd> volts_at(const Ports& ports, double share) {
  constexpr int most_steps = 100;
  VectorXd volts = ports.open_volts;
  for (int step = 0; step < most_steps; ++step) {
    if (collapsed(ports, volts)) return std::nullopt;
    const auto draw = draw_at(ports, volts, share);
    const VectorXd rest = volts - ports.open_volts + ports.ohms * draw.amps;
    Eigen::MatrixXd slope = ports.ohms * draw.slopes.asDiagonal();
    slope.diagonal().array() += 1;
    const VectorXd change = slope.partialPivLu().solve(rest);
    if (!change.allFinite()) return std::nullopt;
    volts -= change;
    if ((change.array().abs() <= 1e-12 * volts.array().abs()).all()) return volts;
  }
  return std::nullopt;
}

// The largest share of all the powers together that can be delivered.
double most_share(const Ports& ports) {
  for (std::size_t k = 0; k < ports.motors.size(); ++k) {
    if (!ports.motors[k] && ports.open_volts(static_cast<Index>(k)) == 0) return 0;
  }
  if (ports.elements.size() == 1) return ports.open_volts(0) * ports.open_volts(0) / (4 * ports.ohms(0, 0) * ports.watts(0));
  double possible = 0, impossible = 1;
  for (int halving = 0; halving < 50; ++halving) {
    const double middle = (possible + impossible) / 2;
    (volts_at(ports, middle) ? possible : impossible) = middle;
  }
  return possible;
}

Trouble not_available(const Circuit& circuit, const Ports& ports) {
  Trouble trouble{Trouble::Kind::power_not_available, {}, ""};
  for (std::size_t k = 0; k < ports.elements.size(); ++k) {
    if (ports.motors[k]) continue;
    const auto element = ports.elements[k];
    trouble.what += (trouble.what.empty() ? "'" : " and '") + circuit.elements[element].id + "'";
    trouble.names.push_back(circuit.elements[element].id);
  }
  trouble.most_watt = most_share(ports) * ports.watts.sum();
  trouble.what += std::string(trouble.names.size() == 1 ? " asks " : " together ask ") + text::format_number(ports.watts.sum(), 1) +
                  " W, and at most " + text::format_number(trouble.most_watt, 1) + " W can be delivered there";
  trouble.hint = "no operating point: with such a load the volts collapse";
  return trouble;
}

}  // namespace

double motor_amps(const MotorLoad& motor, double volts) {
  const double x = speed(motor, volts);
  return std::copysign(motor.amp * motor.load * x * x, volts);
}

Result<std::vector<double>> load_currents(const Circuit& circuit, const LinearSystem& system) {
  auto amps = known_currents(circuit);
  const auto ports = ports_of(circuit, system);
  if (ports.elements.empty()) return amps;
  const auto volts = volts_at(ports, 1);
  if (!volts) return not_available(circuit, ports);
  const auto draw = draw_at(ports, *volts, 1);
  for (std::size_t k = 0; k < ports.elements.size(); ++k) amps[ports.elements[k]] = draw.amps(static_cast<Index>(k));
  return amps;
}

}  // namespace leadline::circuit
