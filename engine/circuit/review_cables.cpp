// The heavy cable: drop, amperage, size; and the fuse before it.
#include <algorithm>
#include <cmath>

#include "engine/circuit/ampacity.h"
#include "engine/circuit/review_run.h"

namespace leadline::circuit {

namespace {

constexpr double design_share = 0.03, most_share = 0.10;  // of the nominal volts
constexpr double opens_in_minutes = 1.35;                 // times a fuse's rating

std::string percent_of(double part, double whole) { return shown(100 * part / whole, 1, "%"); }

struct Amperage {
  int gauge = 0;               // the next smaller of the table
  double least = 0;            // of that gauge, insulation as known
  std::optional<double> most;  // of the next larger gauge; at 105 °C where nobody stated the insulation; beyond the table: none
  double factor = 1;           // of the engine space
};

// What the table allows the heavy cable. Nothing when the table cannot say.
std::optional<Amperage> amperage_of(Facts& facts) {
  const auto around = gauges_around(facts.number("power/@area"));
  const double insulation = facts.detail("power/@insulation");
  const bool engine = facts.detail_word("power/@engine-space") == "yes";
  const double best = facts.stated("power/@insulation") ? insulation : 105;
  const auto amps = [&](int gauge, double insulation_c) -> std::optional<double> {
    const auto in_air = table_5_amps(gauge, insulation_c), factor = engine_space_factor(insulation_c);
    if (trouble_of(in_air) || trouble_of(factor)) return std::nullopt;
    return *value_of(in_air) * (engine ? *value_of(factor) : 1);
  };
  if (trouble_of(around)) return std::nullopt;
  const auto gauges = *value_of(around);
  const auto least = amps(gauges.thinner, insulation);
  if (!least) return std::nullopt;
  const auto factor = engine_space_factor(insulation);
  return Amperage{gauges.thinner, *least, gauges.thicker ? amps(*gauges.thicker, best) : std::nullopt, engine ? *value_of(factor) : 1};
}

// The factor of engine spaces, last of a rule's sources, rests on nothing here when there is none.
void keep_sources_used(const Amperage& amperage, Remark& made) {
  if (amperage.factor == 1) made.sources.pop_back();
}

Figure amperage_figure(const Amperage& amperage) {
  const auto engine = amperage.factor == 1 ? "" : ", times " + shown(amperage.factor, 2, "") + " for the engine space";
  return {"table's amperage", amperage.least, 0, "A", "Table 5, gauge " + gauge_name(amperage.gauge) + ", the next not thicker" + engine};
}

void judge_drop(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double volts = facts.number("bank/@volts"), amps = facts.number("thruster/@amps");
  const auto run = heavy_run(facts);
  const auto ohm = ohm_of(run);
  if (!ohm || !(*ohm * amps > design_share * volts * (1 + 1e-9))) return;
  const double drop = *ohm * amps;
  const bool far_too_much = drop > most_share * volts * (1 + 1e-9);
  const double limit = (far_too_much ? most_share : design_share) * volts;
  const auto better = area_for_drop(run, amps, design_share * volts);
  const auto enough = area_for_drop(run, amps, most_share * volts);
  auto made = remark(facts, "cable-drop", far_too_much ? Severity::wrong : Severity::doubtful,
                     "The heavy cable alone loses " + shown(drop, 2, "V") + " at the motor's " + shown(amps, 0, "A") + ": " +
                         percent_of(drop, volts) + " of " + shown(volts, 0, "V") + ", more than " +
                         (far_too_much ? "the 10 % that any circuit may lose" : "the 3 % of good design; joints, fuse and isolator come on top"),
                     better ? shown(*better, 0, "mm²") + " would bring it under 3 %" +
                                  (far_too_much && enough && *enough < *better ? ", " + shown(*enough, 0, "mm²") + " under 10 %" : "")
                            : "no single cable up to 240 mm² brings it under 3 %: shorten the way, or run two cables side by side");
  made.figures = {{"cable, out and back", run.length_m, 1, "m", shown(run.conductor.area_mm2, 2, "mm²")},
                  {"its resistance", *ohm * 1000, 2, "mΩ", "IEC 60228, at " + shown(run.temperature_c, 0, "°C")},
                  {"drop", drop, 2, "V", shown(amps, 0, "A") + " times that"},
                  {"limit", limit, 2, "V", (far_too_much ? "10 % of " : "3 % of ") + shown(volts, 0, "V")}};
  remarks.push_back(std::move(made));
}

void judge_amperage(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double amps = facts.number("thruster/@amps"), duty = facts.detail("thruster/@duty");
  const auto amperage = amperage_of(facts);
  if (!amperage || !(amps > amperage->least)) return;
  auto made = remark(facts, "cable-amperage", Severity::doubtful,
                     "The motor's " + shown(amps, 0, "A") + " are more than the heavy cable may carry for ever (" + shown(amperage->least, 0, "A") +
                         "). The table is for continuous current, and a thruster runs for " + shown(duty, 1, "min") +
                         " at most: no fault by itself, but feel the cable after the longest run",
                     "a thicker cable, or one with insulation for more heat");
  keep_sources_used(*amperage, made);
  made.figures = {amperage_figure(*amperage), {"motor", amps, 0, "A", ""}};
  if (!amperage->most) made.figures.push_back({"end of the table", 107.2, 1, "mm²", "the cable is thicker: its own data decide"});
  remarks.push_back(std::move(made));
}

bool is_a_gauge(double area_mm2) {
  const auto around = gauges_around(area_mm2);
  return !trouble_of(around) && value_of(around)->thicker == value_of(around)->thinner;
}

void judge_area(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double area = facts.number("power/@area");
  const auto known = most_ohm_per_km({area, Stranding::class_5, Surface::plain});
  if (std::isnan(area) || !trouble_of(known) || is_a_gauge(area)) return;
  auto made = remark(facts, "cable-area", Severity::doubtful, "No heavy cable is made with " + shown(area, 2, "mm²") + ": " + trouble_of(known)->hint,
                     "read the cross-section on the cable's jacket; two cables side by side count as their sum");
  made.figures = {{"cross-section", area, 2, "mm²", "the record"}};
  remarks.push_back(std::move(made));
}

void judge_fuse_above(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double fuse = facts.number("power/@fuse");
  const auto amperage = amperage_of(facts);
  if (!amperage || !(fuse > most_fuse_share * amperage->least)) return;
  const bool surely = amperage->most && fuse > most_fuse_share * *amperage->most;
  auto made = remark(facts, "fuse-above-cable", surely ? Severity::wrong : Severity::doubtful,
                     "The main fuse of " + shown(fuse, 0, "A") + " is too large to guard the heavy cable: the rule allows " +
                         shown(most_fuse_share * amperage->least, 0, "A") +
                         ", 150 % of the cable's amperage. In a short the cable burns before the fuse opens" +
                         (surely           ? ""
                          : amperage->most ? ". The size lies between two gauges or its insulation is not known: the thicker would bear it"
                                           : ". The cable is thicker than the table goes: its own data decide"),
                     most_fuse_share * amperage->least < facts.detail("thruster/@amps") ? "a thicker cable: a fuse that small would not bear the motor"
                                                                                        : "a smaller fuse that still bears the motor, or a thicker cable");
  keep_sources_used(*amperage, made);
  made.figures = {
      amperage_figure(*amperage), {"largest fuse", most_fuse_share * amperage->least, 0, "A", "150 % of that"}, {"fuse", fuse, 0, "A", "the record"}};
  remarks.push_back(std::move(made));
}

void judge_fuse_below(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double fuse = facts.number("power/@fuse"), amps = facts.number("thruster/@amps"), duty = facts.detail("thruster/@duty");
  if (!(amps > fuse)) return;
  const double share = amps / fuse;
  const bool opens = share >= opens_in_minutes;
  auto made = remark(facts, "fuse-below-motor", opens ? Severity::wrong : Severity::doubtful,
                     "The motor takes " + shown(amps, 0, "A") + " through a main fuse of " + shown(fuse, 0, "A") + ", " + shown(100 * share, 0, "%") +
                         " of its rating" +
                         (opens ? ": it opens within minutes, sooner with a hot holder"
                                : ": a slow fuse bears that for a run of " + shown(duty, 1, "min") + ", but ages, and a hot holder opens it"),
                     "a slow fuse rated at or above the motor's current, as far as the cable's amperage allows");
  made.figures = {{"motor", amps, 0, "A", ""},
                  {"fuse", fuse, 0, "A", "the record"},
                  {"of its rating", 100 * share, 0, "%", "above 135 % it opens in 2 to 30 min"}};
  remarks.push_back(std::move(made));
}

}  // namespace

void review_cables(const installation::Installation& boat, Remarks& remarks) {
  judge_drop(boat, remarks);
  judge_amperage(boat, remarks);
  judge_area(boat, remarks);
}

void review_fuse(const installation::Installation& boat, Remarks& remarks) {
  judge_fuse_above(boat, remarks);
  judge_fuse_below(boat, remarks);
}

}  // namespace leadline::circuit
