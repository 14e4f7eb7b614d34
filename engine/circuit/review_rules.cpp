// The rules of the review by name: what each rests on and what it may raise. Prose: docs/review.md.
#include "engine/circuit/review.h"

namespace leadline::circuit {

namespace {

const RuleSource iec_60228{"IEC 60228, largest resistance of conductors, seen through secondary tables", Tag::read};
const RuleSource drop_limits{"ABYC E-11, 3 % and 10 % drop, seen through secondary pages", Tag::read};
const RuleSource table_5{"33 CFR 183.425 Table 5 (United States), continuous current, research copy of the primary text", Tag::read};
const RuleSource engine_spaces{"33 CFR 183.425, factor of engine spaces: 0.85 at 105 °C seen, the others recalled", Tag::memory};
const RuleSource fuse_rule{"33 CFR 183.455 (c)(1) (United States), research copy of the primary text", Tag::read};
const RuleSource strip_fuses{"ISO 8820-5 style strip fuses: 135 % opens within 2 to 30 min", Tag::memory};
const RuleSource practice{"common practice", Tag::common_practice};
const RuleSource battery_switch{"ISO 13297 (ISO 10133 before), a switch that parts the bank from the circuits it feeds", Tag::memory};
const RuleSource arithmetic{"own arithmetic", Tag::derived};
const RuleSource branch_table{"CiA 303-1 branch lengths, seen through a field-bus page; the formula recalled", Tag::read};
const RuleSource trunk_table{"CiA trunk length by bit rate, seen through field-bus manuals", Tag::read};
const RuleSource marine_branches{"IEC 61162-3 style networks, 6 m a branch, seen through secondary guides", Tag::read};
const RuleSource branch_as_trunk{"marine network guide: a branch longer than its way to the nearest terminator counts as trunk", Tag::read};
const RuleSource one_string{"marine network notes: one trunk, no rings, no star", Tag::read};
const RuleSource two_ends{"ISO 11898-2, two terminators of 120 ohm, at the ends only, seen through data sheets", Tag::read};
const RuleSource terminator_range{"ISO 11898-2, 100 to 130 ohm", Tag::memory};
const RuleSource network_drop{"marine networks: 1.5 V between any two devices, seen through secondary guides", Tag::read};
const RuleSource copper{"copper 0.0175 ohm mm²/m, textbook value", Tag::memory};
const RuleSource device_volts{"marine bus-fed devices: 9 to 16 V", Tag::memory};
const RuleSource start_dip{"ISO 7637-2, dip of 4 to 7 V when a 12 V engine is cranked, seen through a test instrument's table", Tag::read};
const RuleSource lithium_limit{"lithium iron phosphate: 3.65 V a cell is the most, seen through secondary pages", Tag::read};
const RuleSource agm_charge{"AGM and gel charge volts by temperature, one general page; pages disagree", Tag::read};

std::vector<ReviewRule> power_rules() {
  return {{"cable-drop", {iec_60228, drop_limits}, {"cable-undersized"}},
          {"cable-amperage", {table_5, engine_spaces}, {"cable-undersized"}},
          {"cable-area", {iec_60228}, {}},
          {"fuse-above-cable", {fuse_rule, table_5, engine_spaces}, {}},
          {"fuse-below-motor", {strip_fuses, practice}, {"fuse-blown"}},
          {"bank-blocks", {practice}, {}},
          {"bank-ampere-hours", {practice}, {"bank-too-small"}},
          {"bank-sag", {practice, iec_60228}, {"bank-too-small"}},
          {"lithium-current", {practice}, {"lithium-cut-off"}},
          {"common-negative", {arithmetic, practice}, {"common-negative-missing"}},
          {"no-isolator", {battery_switch, practice}, {}}};
}

std::vector<ReviewRule> charging_rules() {
  return {{"no-charging", {practice}, {"bank-low-charge", "bank-used-up"}},
          {"step-up-wake", {practice}, {"step-up-never-wakes"}},
          {"step-up-on-load", {practice, iec_60228}, {"step-up-weak-tap"}},
          {"step-up-float", {practice}, {"step-up-never-wakes"}},
          {"mains-setting", {practice}, {"mains-charger-wrong-setting"}},
          {"absorption", {practice, agm_charge, lithium_limit}, {"mains-charger-wrong-setting"}}};
}

std::vector<ReviewRule> network_rules() {
  return {{"supply-upper-half", {arithmetic, practice}, {"upper-half-tap"}},
          {"supply-lower-half", {arithmetic, practice}, {"lower-half-tap"}},
          {"supply-whole-bank", {device_volts}, {"whole-bank-feed"}},
          {"supply-starter", {practice, start_dip}, {"starter-battery-noise"}},
          {"supply-drop", {network_drop, copper}, {"supply-drop-far-end"}},
          {"trunk-loop", {one_string}, {"network-loop"}},
          {"trunk-star", {one_string}, {"long-branch"}},
          {"trunk-pieces", {one_string}, {"line-open-in-trunk"}},
          {"device-off-string", {one_string}, {}},
          {"trunk-length", {trunk_table}, {}},
          {"branch-length", {branch_table, marine_branches}, {"long-branch"}},
          {"branch-sum", {branch_table}, {"long-branch"}},
          {"branch-as-trunk", {branch_as_trunk}, {"long-branch"}},
          {"terminator-count", {two_ends}, {"terminators-both-missing", "terminator-missing", "terminator-surplus"}},
          {"terminator-place", {two_ends}, {"terminators-misplaced"}},
          {"terminator-value", {terminator_range}, {"terminator-wrong-value"}},
          {"record-contradiction", {arithmetic}, {}}};
}

std::vector<ReviewRule> station_rules() {
  return {{"station-number", {practice}, {"station-number-double"}},
          {"station-role", {practice}, {"panel-wrong-thruster", "thruster-role-wrong"}},
          {"thruster-undriven", {practice}, {"panel-wrong-thruster", "thruster-role-wrong"}},
          {"thruster-roles", {practice}, {"two-thrusters-one-role"}}};
}

}  // namespace

std::span<const ReviewRule> review_rules() {
  static const auto rules = [] {
    auto all = power_rules();
    for (const auto& part : {charging_rules(), network_rules(), station_rules()}) all.insert(all.end(), part.begin(), part.end());
    return all;
  }();
  return rules;
}

}  // namespace leadline::circuit
