#pragma once
// The parts of one circuit of the book under one operating condition, written for ngspice. Nothing of the engine's solver is used.
#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <utility>

#include "engine/circuit/fitted.h"
#include "tests/outside/circuit/spice_session.h"

namespace leadline::testing {

using circuit::PartNumbers;
using knowledge::PartKind;
using knowledge::ProbeKind;

struct SpiceProbe {
  ProbeKind kind = ProbeKind::volts;
  std::string from, to;     // places; of amps: `from` is the part
  friend bool operator==(const SpiceProbe&, const SpiceProbe&) = default;
};

class SpiceCondition {
 public:
  SpiceCondition(const circuit::FittedCircuit& circuit, std::size_t condition, std::vector<SpiceProbe> probes)
      : circuit_(circuit), probes_(std::move(probes)) {
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
      if (circuit.parts[i].in[condition]) write(i);
    }
    for (const auto& [name, number] : nodes_) {
      if (number != 0) session_.line("Rleak" + std::to_string(number) + " n" + std::to_string(number) + " 0 1e9");
    }
    for (std::size_t p = 0; p < probes_.size(); ++p) {
      if (probes_[p].kind != ProbeKind::ohms) continue;
      session_.line("Im" + std::to_string(p) + " " + node(probes_[p].to) + " " + node(probes_[p].from) + " DC 0");
      meters_[p] = session_.knob("im" + std::to_string(p));
    }
  }

  // No operating point, or no ngspice: nothing. `stopped`: a constant power that cannot be had, so the load stands still.
  struct Reading {
    std::vector<double> probes;
    bool stopped = false;
  };

  std::vector<std::optional<Reading>> read(const std::vector<std::vector<PartNumbers>>& boats) const {
    auto readings = operating_points(boats);
    if (!meters_.empty()) read_ohms(boats, readings);
    return readings;
  }

 private:
  enum class Mode { asleep, awake_without_load, working };
  struct Port {
    double half = 1, sign = 1;   // of the open volts of a constant power
  };
  using Readings = std::vector<std::optional<Reading>>;

  std::string node(const std::string& name) {
    if (name == circuit_.reference) return "0";
    return "n" + std::to_string(nodes_.emplace(name, nodes_.size() + 1).first->second);
  }
  std::string node(const std::string& name) const { return name == circuit_.reference ? "0" : "n" + std::to_string(nodes_.at(name)); }

  // Resistances stand as a current-controlled voltage: as a conductance, a microohm would drown the gigaohms at its ends.
  void write(std::size_t i) {
    const auto& part = circuit_.parts[i];
    const auto id = std::to_string(i), from = node(part.from), to = node(part.to), inner = "x" + id;
    session_.line("V" + id + " " + from + " " + inner + " DC 0");  // the amperes of the part, and its volts when it is a source
    auto& knobs = knobs_[i];
    switch (part.kind) {
      case PartKind::resistor:
      case PartKind::cable:
      case PartKind::battery:
      case PartKind::source:
        session_.line("H" + id + " " + inner + " " + to + " V" + id + " 1");
        knobs = {session_.knob("h" + id, "gain"), session_.knob("v" + id)};
        break;
      case PartKind::current:
        session_.line("I" + id + " " + inner + " " + to + " DC 0");
        knobs = {session_.knob("i" + id)};
        break;
      case PartKind::power:
      case PartKind::step_up:
        // P / V; below half of the open volts, where no stable point lies, a constant current, so that ngspice has one answer to find.
        parameter("watt" + id, knobs);
        parameter("half" + id, knobs);
        parameter("sign" + id, knobs);
        session_.line("B" + id + " " + inner + " " + to + " I=V(watt" + id + ")*V(sign" + id + ")/max(V(sign" + id + ")*V(" + inner + "," + to +
                      "),V(half" + id + "))");
        if (std::exchange(power_, i)) throw std::logic_error("two constant powers under one condition: not written for");
        break;
      case PartKind::motor:
        // electrical.md § 6.1: V = E x + R I c x², I = I c x², both left to ngspice; the speed x is a node of its own.
        parameter("back" + id, knobs);
        parameter("drag" + id, knobs);
        parameter("full" + id, knobs);
        session_.line("Bs" + id + " speed 0 I=V(back" + id + ")*V(speed)+V(drag" + id + ")*V(speed)*abs(V(speed))-V(" + inner + "," + to + ")");
        session_.line("Bm" + id + " " + inner + " " + to + " I=V(full" + id + ")*V(speed)*abs(V(speed))");
        break;
    }
  }

  void parameter(const std::string& name, std::vector<std::size_t>& knobs) {
    session_.line("V" + name + " " + name + " 0 DC 0");
    knobs.push_back(session_.knob("v" + name));
  }

  std::vector<double> numbers(const std::vector<PartNumbers>& boat, Mode mode, Port port, std::optional<std::size_t> meter) const {
    std::vector<double> values(session_.knobs(), 0.0);
    const bool live = !meter;
    for (const auto& [i, knobs] : knobs_) {
      const auto& part = circuit_.parts[i];
      const bool sleeps = !part.awake_with.empty() && mode == Mode::asleep;
      const double ohm = std::clamp(boat[i].ohm, 1e-6, 1e12);
      switch (part.kind) {
        case PartKind::resistor:
        case PartKind::cable: values[knobs[0]] = ohm; break;
        case PartKind::battery:
        case PartKind::source:
          values[knobs[0]] = sleeps ? 1e12 : ohm;
          values[knobs[1]] = live ? boat[i].volt : 0;
          break;
        case PartKind::current: values[knobs[0]] = live && !sleeps ? boat[i].amp : 0; break;
        case PartKind::power:
        case PartKind::step_up:
          values[knobs[0]] = live && mode == Mode::working ? std::max(0.0, boat[i].watt) : 0;
          values[knobs[1]] = port.half;
          values[knobs[2]] = port.sign;
          break;
        case PartKind::motor:
          values[knobs[0]] = boat[i].volt - boat[i].amp * boat[i].ohm;
          values[knobs[1]] = boat[i].ohm * boat[i].amp * std::min(boat[i].load, 1e6);
          values[knobs[2]] = live ? boat[i].amp * std::min(boat[i].load, 1e6) : 0;
          break;
      }
    }
    if (meter) values[meters_.at(*meter)] = meter_amp;
    return values;
  }

  std::vector<std::string> vectors() const {
    std::vector<std::string> wanted;
    const auto note = [&](const std::string& vector) {
      if (vector != "v(0)" && std::find(wanted.begin(), wanted.end(), vector) == wanted.end()) wanted.push_back(vector);
    };
    for (const auto& probe : probes_) {
      if (probe.kind == ProbeKind::amps) {
        note("i(v" + std::to_string(part_of(probe.from)) + ")");
      } else {
        note("v(" + node(probe.from) + ")");
        note("v(" + node(probe.to) + ")");
      }
    }
    if (!power_) return wanted;
    note("v(" + node(circuit_.parts[*power_].from) + ")");
    note("v(" + node(circuit_.parts[*power_].to) + ")");
    return wanted;
  }

  std::size_t part_of(const std::string& id) const {
    const auto& parts = circuit_.parts;
    return static_cast<std::size_t>(std::find_if(parts.begin(), parts.end(), [&](const auto& part) { return part.id == id; }) - parts.begin());
  }

  using Values = std::vector<std::optional<std::vector<double>>>;

  double between(const std::vector<double>& values, const std::string& from, const std::string& to) const {
    const auto wanted = vectors();
    const auto volt = [&](const std::string& name) {
      const auto at = std::find(wanted.begin(), wanted.end(), "v(" + node(name) + ")") - wanted.begin();
      return static_cast<std::size_t>(at) == wanted.size() ? 0.0 : values[static_cast<std::size_t>(at)];
    };
    return volt(from) - volt(to);
  }
  double power_volts(const std::vector<double>& values) const {
    const auto& part = circuit_.parts[*power_];
    return between(values, part.from, part.to);
  }

  std::optional<Reading> reading(const std::optional<std::vector<double>>& values, bool stopped) const {
    if (!values) return std::nullopt;
    Reading reading{{}, stopped};
    const auto wanted = vectors();
    const auto amps = [&](const std::string& part) {
      const auto at = std::find(wanted.begin(), wanted.end(), "i(v" + std::to_string(part_of(part)) + ")") - wanted.begin();
      return (*values)[static_cast<std::size_t>(at)];
    };
    for (const auto& probe : probes_) {
      if (probe.kind == ProbeKind::volts) reading.probes.push_back(between(*values, probe.from, probe.to));
      else if (probe.kind == ProbeKind::amps) reading.probes.push_back(amps(probe.from));
      else reading.probes.push_back(0);  // read_ohms
    }
    return reading;
  }

  Values points(const std::vector<std::vector<PartNumbers>>& boats, const std::vector<std::size_t>& which, Mode mode,
                const std::vector<Port>& ports) const {
    std::vector<SpiceSession::Point> points;
    for (const auto b : which) points.push_back({numbers(boats[b], mode, ports[b], std::nullopt), vectors()});
    const auto found = session_.run(points);
    Values values(boats.size());
    for (std::size_t k = 0; k < which.size(); ++k) values[which[k]] = found[k];
    return values;
  }

  // As a boat comes to rest: first with the constant power away, which says whether a step-up charger wakes; then with it.
  Readings operating_points(const std::vector<std::vector<PartNumbers>>& boats) const {
    std::vector<Port> ports(boats.size());
    std::vector<std::size_t> all, waking;
    for (std::size_t b = 0; b < boats.size(); ++b) all.push_back(b);
    const auto asleep = points(boats, all, Mode::asleep, ports);
    Readings readings;
    for (const auto& values : asleep) readings.push_back(reading(values, false));
    if (!power_) return readings;
    const bool step_up = circuit_.parts[*power_].kind == PartKind::step_up;
    for (const auto b : all) {
      if (asleep[b] && (!step_up || power_volts(*asleep[b]) >= boats[b][*power_].wake)) waking.push_back(b);
    }
    const auto open = points(boats, waking, Mode::awake_without_load, ports);
    for (const auto b : waking) {
      if (open[b]) ports[b] = {std::max(1e-12, std::abs(power_volts(*open[b])) / 2), power_volts(*open[b]) < 0 ? -1.0 : 1.0};
    }
    const auto working = points(boats, waking, Mode::working, ports);
    for (const auto b : waking) {
      const bool collapsed = !working[b] || power_volts(*working[b]) * ports[b].sign < ports[b].half * (1 - 1e-9);
      if (collapsed) readings[b]->stopped = boats[b][*power_].watt > 0;  // no stable point: it stands still, as with the power away
      else readings[b] = reading(working[b], false);
    }
    return readings;
  }

  // A milliampere sent in at one lead and out at the other, sources dead and loads away.
  void read_ohms(const std::vector<std::vector<PartNumbers>>& boats, Readings& readings) const {
    std::vector<SpiceSession::Point> points;
    for (const auto& boat : boats) {
      for (const auto& [p, knob] : meters_) points.push_back({numbers(boat, Mode::asleep, {}, p), vectors()});
    }
    const auto found = session_.run(points);
    for (std::size_t b = 0; b < boats.size(); ++b) {
      std::size_t k = b * meters_.size();
      for (const auto& [p, knob] : meters_) {
        const auto& values = found[k++];
        if (!values) readings[b].reset();
        else if (readings[b]) readings[b]->probes[p] = between(*values, probes_[p].from, probes_[p].to) / meter_amp;
      }
    }
  }

  static constexpr double meter_amp = 1e-3;

  const circuit::FittedCircuit& circuit_;
  std::vector<SpiceProbe> probes_;
  SpiceSession session_;
  std::map<std::string, std::size_t> nodes_;
  std::map<std::size_t, std::vector<std::size_t>> knobs_;   // by part
  std::map<std::size_t, std::size_t> meters_;               // by probe of ohms
  std::optional<std::size_t> power_;
};

}  // namespace leadline::testing
