// What charges the thruster bank: whether anything does, whether the step-up charger wakes, and what the mains charger is set to.
#include <array>
#include <string_view>

#include "engine/circuit/review_run.h"

namespace leadline::circuit {

namespace {

constexpr double step_up_efficiency = 0.9;                        // common practice
constexpr double charging_v_per_block = 14.4;                     // of the bank, while it takes current: common practice
constexpr double surely_absorbing_v = 14.0;                       // above it a 12 V source is not floating
constexpr double lowest_float_v = 13.05, highest_float_v = 13.6;  // of a 12 V source: general pages disagree between these

void judge_sources(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  for (const char* source : {"charging/@mains", "charging/@step-up", "charging/@alternator", "charging/@solar"}) {
    if (facts.word(source) != "no") return;
  }
  remarks.push_back(remark(facts, "no-charging", Severity::wrong,
                           "Nothing charges the thruster bank: no mains charger, no step-up charger, no alternator, no solar panels",
                           "ask how the bank was charged so far; fit a charger, or correct the record"));
}

// 1 for a 12 V source, 2 for a 24 V source.
double blocks_of_source(double source_v) { return source_v > 18 ? 2 : 1; }

void judge_wake(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double source = facts.number("charging/@source-volts"), wake = facts.number("charging/@wake");
  if (facts.word("charging/@step-up") != "yes" || !(source < wake)) return;
  auto made = remark(facts, "step-up-wake", Severity::wrong,
                     "The battery that feeds the step-up charger is charged to " + shown(source, 2, "V") + "; the charger wakes above " +
                         shown(wake, 2, "V") + ": it sleeps for ever, though nothing is broken",
                     "raise what charges that battery, as far as its kind allows, or set the charger to wake lower");
  made.figures = {{"source", source, 2, "V", "charged"}, {"wakes above", wake, 2, "V", ""}, {"missing", wake - source, 2, "V", ""}};
  remarks.push_back(std::move(made));
}

Run input_run(Facts& facts) {
  Run run;
  run.length_m = 2 * facts.number("charging/@step-up-length");
  run.conductor.area_mm2 = facts.number("charging/@step-up-area");
  return run;
}

void judge_wake_on_load(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double source = facts.number("charging/@source-volts"), wake = facts.number("charging/@wake");
  if (facts.word("charging/@step-up") != "yes" || !(source >= wake)) return;
  const auto run = input_run(facts);
  const auto ohm = ohm_of(run);
  const double out = facts.number("charging/@step-up-amps"), bank = facts.number("bank/@volts");
  const double in = out * charging_v_per_block * bank / 12 / (source * step_up_efficiency);
  if (!ohm || !(source - in * *ohm < wake)) return;
  const double drop = in * *ohm;
  auto made =
      remark(facts, "step-up-on-load", Severity::doubtful,
             "The step-up charger wakes, but draws " + shown(in, 0, "A") + " through its input cable and then finds " + shown(source - drop, 2, "V") +
                 " at its terminals, below the " + shown(wake, 2, "V") + " that wake it: one that judges under its own load hunts on and off",
             "a thicker or shorter input cable; measure at the charger's own terminals, awake");
  made.figures = {{"source", source, 2, "V", "charged"},
                  {"input current", in, 1, "A", shown(out, 0, "A") + " into " + shown(charging_v_per_block * bank / 12, 1, "V") + ", at 90 %"},
                  {"input cable", *ohm * 1000, 1, "mΩ", shown(run.length_m, 1, "m") + " out and back, " + shown(run.conductor.area_mm2, 2, "mm²")},
                  {"drop", drop, 2, "V", ""},
                  {"at its terminals", source - drop, 2, "V", "usual chargers sleep below 12.6 to 12.9 V"}};
  if (const auto better = area_for_drop(run, in, source - wake))
    made.way_out = shown(*better, 0, "mm²") + " for the input cable, or a shorter way; " + "measure at the charger's own terminals, awake";
  remarks.push_back(std::move(made));
}

void judge_float(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double source = facts.number("charging/@source-volts"), wake = facts.number("charging/@wake");
  const double blocks = blocks_of_source(source);
  if (facts.word("charging/@step-up") != "yes" || !(source >= wake) || !(source > surely_absorbing_v * blocks) || !(wake > lowest_float_v * blocks))
    return;
  auto made = remark(facts, "step-up-float", Severity::doubtful,
                     shown(source, 2, "V") + " is what the feeding battery gets while it absorbs. Once its charger floats, at " +
                         shown(lowest_float_v * blocks, 2, "V") + " to " + shown(highest_float_v * blocks, 2, "V") +
                         ", the step-up charger may not wake: it wants " + shown(wake, 2, "V"),
                     "read the float volts of that charger and hold them against the wake volts");
  made.figures = {
      {"source", source, 2, "V", "charged"}, {"lowest usual float", lowest_float_v * blocks, 2, "V", ""}, {"wakes above", wake, 2, "V", ""}};
  remarks.push_back(std::move(made));
}

struct Absorption {
  std::string_view chemistry, words;
  double least_v, most_v;                 // for each 12 V, at 25 °C
  std::string_view too_much, too_little;  // what harm it does
  std::size_t source;                     // of the rule's sources, beside common practice
};
// Common practice; within what the pages of electrical.md § 4 give, which disagree. Lithium: 3.55 to 3.65 V a cell.
constexpr std::array<Absorption, 4> absorptions = {
    {{"flooded", "flooded lead-acid", 14.4, 14.8, "it gasses and loses water", "it is never quite full and its plates harden", 0},
     {"agm", "AGM", 14.1, 14.6, "it dries out", "it is never quite full and its plates harden", 1},
     {"gel", "gel", 13.7, 14.4, "the gel bubbles and is spoilt", "it is never quite full and its plates harden", 1},
     {"lithium", "lithium iron phosphate", 14.2, 14.6, "its management cuts out", "it is never quite full", 2}}};

void judge_absorption(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double set = facts.number("charging/@absorption");
  const auto chemistry = facts.word("bank/@chemistry");
  if (facts.word("charging/@mains") != "yes") return;
  for (const auto& usual : absorptions) {
    if (usual.chemistry != chemistry) continue;
    const bool above = set > usual.most_v + 1e-9, below = set < usual.least_v - 1e-9;
    if (!above && !below) return;
    auto made = remark(facts, "absorption", above ? Severity::wrong : Severity::doubtful,
                       "The mains charger absorbs at " + shown(set, 2, "V") + " for each 12 V; a bank of kind " + std::string(usual.words) +
                           " wants " + shown(usual.least_v, 1, "V") + " to " + shown(usual.most_v, 1, "V") +
                           " at 25 °C: " + std::string(above ? usual.too_much : usual.too_little),
                       "set the charger by the data of this very bank, which come before any table");
    made.sources = usual.source == 0 ? std::vector{made.sources[0]} : std::vector{made.sources[0], made.sources[usual.source]};
    made.figures = {{"set", set, 2, "V", "for each 12 V"}, {"least", usual.least_v, 1, "V", ""}, {"most", usual.most_v, 1, "V", ""}};
    remarks.push_back(std::move(made));
    return;
  }
}

void judge_setting(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  if (facts.word("charging/@mains") != "yes" || facts.word("charging/@set-for") != "other") return;
  remarks.push_back(remark(facts, "mains-setting", Severity::wrong, "The mains charger is said to be set for another kind of battery",
                           "set it for this bank's kind, by the data of the bank"));
}

}  // namespace

void review_charging(const installation::Installation& boat, Remarks& remarks) {
  judge_sources(boat, remarks);
  judge_wake(boat, remarks);
  judge_wake_on_load(boat, remarks);
  judge_float(boat, remarks);
  judge_setting(boat, remarks);
  judge_absorption(boat, remarks);
}

}  // namespace leadline::circuit
