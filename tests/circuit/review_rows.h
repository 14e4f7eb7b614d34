#pragma once
// What is changed in the quiet record, and which rules of the review then speak: each rule fires somewhere and stays silent just beside it.
#include "tests/circuit/quiet_boat.h"

namespace leadline::testing {

struct Row {
  std::string name;
  Change change;
  std::string rules;
};
inline void PrintTo(const Row& row, std::ostream* out) { *out << row.name; }

// A helm on a branch from the middle of a trunk of 40 m.
inline Change branched(const std::string& metres, const std::string& kbit) {
  return {{{"segment[1]/@to", "tee"},
           {"segment[1]/@length", "20"},
           {"segment[2]/@from", "tee"},
           {"segment[2]/@length", "20"},
           {"network/@length", "40"},
           {"network/@bit-rate", kbit}},
          "<segment from='tee' to='helm' length='" + metres + "' kind='branch'/>"};
}

// Branches of one length from the middle of a trunk of 40 m.
inline Change comb(int count, const std::string& metres, const std::string& kbit) {
  auto change = branched(metres, kbit);
  for (int b = 1; b < count; ++b) change.add += "<segment from='tee' to='joint " + std::to_string(b) + "' length='" + metres + "' kind='branch'/>";
  return change;
}

// A stern thruster beyond the wing, at the end of the string.
inline Change with_stern(std::vector<std::pair<std::string, std::string>> set) {
  set.insert(set.end(), {{"terminator[2]/@at", "stern"}, {"network/@length", "16"}});
  return {std::move(set),
          "<thruster name='stern' role='stern' motor='brushed' amps='200'/><segment from='wing' to='stern' length='2' kind='trunk'/>"};
}

inline const std::vector<std::pair<std::string, std::string>> without_string{
    {"segment[1]", "-"}, {"segment[1]", "-"}, {"terminator[1]", "-"}, {"terminator[1]", "-"}};
inline Change string_in_words(const std::string& fact, const std::string& value) {
  Change change{without_string};
  change.set.emplace_back(fact, value);
  return change;
}

inline const std::vector<Row>& power_rows() {
  static const std::vector<Row> rows{
      {"quiet", {}, ""},
      {"no_isolator", {{{"power/@isolator", "none"}}}, "no-isolator:doubtful"},
      {"remote_isolator", {{{"power/@isolator", "remote"}}}, ""},
      // 280 A through 95 mm² of class 5 tinned at 20 °C: 0.210 mΩ/m, so 3 % of 24 V at 6.12 m one way and 10 % at 20.41 m.
      {"drop_within_three_percent", {{{"power/@length", "6.1"}}}, ""},
      {"drop_over_three_percent", {{{"power/@length", "6.2"}}}, "cable-drop:doubtful"},
      {"drop_within_ten_percent", {{{"power/@length", "20.3"}}}, "cable-drop:doubtful"},
      {"drop_over_ten_percent", {{{"power/@length", "20.5"}}}, "cable-drop:wrong"},
      {"drop_grows_with_heat", {{{"power/@length", "6.1"}, {"power/@temperature", "30"}}}, "cable-drop:doubtful"},
      {"drop_over_ten_percent_of_an_assumed_cable",
       {{{"power/@length", "60"}, {"power/@area", "-"}, {"power/@fuse", "-"}, {"thruster/@amps", "250"}}},
       "cable-drop:doubtful bank-sag:doubtful"},
      {"amperage_enough", {{{"thruster/@amps", "385"}, {"power/@fuse", "400"}}}, ""},
      {"amperage_too_small", {{{"thruster/@amps", "390"}, {"power/@fuse", "400"}}}, "cable-amperage:doubtful"},
      {"amperage_too_small_in_engine_space",
       {{{"thruster/@amps", "330"}, {"power/@fuse", "400"}, {"power/@engine-space", "yes"}}},
       "cable-amperage:doubtful"},
      {"area_of_a_gauge", {{{"power/@area", "107"}}}, ""},
      {"area_of_nothing", {{{"power/@area", "100"}}}, "cable-area:doubtful"},
      {"fuse_at_the_limit", {{{"power/@fuse", "577"}}}, ""},
      {"fuse_between_two_gauges", {{{"power/@fuse", "600"}}}, "fuse-above-cable:doubtful"},
      {"fuse_above_both_gauges", {{{"power/@fuse", "700"}}}, "fuse-above-cable:wrong"},
      {"fuse_above_in_engine_space", {{{"power/@fuse", "500"}, {"power/@engine-space", "yes"}}}, "fuse-above-cable:doubtful"},
      {"fuse_with_unstated_insulation", {{{"power/@fuse", "600"}, {"power/@insulation", "-"}}}, "fuse-above-cable:doubtful"},
      {"fuse_too_large_whatever_the_insulation", {{{"power/@fuse", "700"}, {"power/@insulation", "-"}}}, "fuse-above-cable:wrong"},
      {"fuse_before_more_than_the_table", {{{"power/@area", "120"}, {"power/@fuse", "800"}}}, "fuse-above-cable:doubtful"},
      {"fuse_of_the_motor", {{{"power/@fuse", "280"}}}, ""},
      {"fuse_a_little_small", {{{"power/@fuse", "275"}}}, "fuse-below-motor:doubtful"},
      {"fuse_far_too_small", {{{"power/@fuse", "205"}}}, "fuse-below-motor:wrong"},
      {"fuse_assumed", {{{"power/@fuse", "-"}, {"thruster/@amps", "320"}}}, "fuse-below-motor:doubtful"}};
  return rows;
}

inline const std::vector<Row>& bank_rows() {
  static const std::vector<Row> rows{
      {"lead_single_at_24", {{{"bank/@arrangement", "single"}}}, "bank-blocks:doubtful"},
      {"lithium_single_at_24", {{{"bank/@arrangement", "single"}, {"bank/@chemistry", "lithium"}, {"bank/@amp-hours", "300"}}}, ""},
      {"series_at_12", {{{"bank/@volts", "12"}, {"power/@length", "1"}}}, "bank-blocks:doubtful"},
      {"parallel_at_12", {{{"bank/@volts", "12"}, {"bank/@arrangement", "parallel"}, {"power/@length", "1"}}}, ""},
      {"ampere_hours_enough", {{{"bank/@amp-hours", "85"}}}, ""},
      {"ampere_hours_few", {{{"bank/@amp-hours", "80"}}}, "bank-ampere-hours:doubtful"},
      {"lithium_enough", {{{"bank/@chemistry", "lithium"}, {"bank/@amp-hours", "280"}}}, ""},
      {"lithium_few", {{{"bank/@chemistry", "lithium"}}}, "lithium-current:doubtful"},
      // 2 * 3 V / CCA * 1.08 (two years) and 1.26 mΩ of cable at 280 A from 25.52 V: 19 V at 294 A, 18 V at 253 A of cranking current.
      {"sag_borne", {{{"bank/@cold-cranking", "300"}}}, ""},
      {"sag_doubtful", {{{"bank/@cold-cranking", "290"}}}, "bank-sag:doubtful"},
      {"sag_to_drop_out", {{{"bank/@cold-cranking", "240"}}}, "bank-sag:wrong"},
      {"minus_not_joined", {{{"power/@common-negative", "no"}}}, "common-negative:wrong"},
      {"minus_not_joined_but_converter",
       {{{"power/@common-negative", "no"}, {"network/@supply", "converter"}, {"charging/@step-up", "no"}}},
       "common-negative:doubtful"},
      {"minus_not_needed", {{{"power/@common-negative", "no"}, {"network/@supply", "none"}, {"charging/@step-up", "no"}}}, ""}};
  return rows;
}

inline const std::vector<Row>& charging_rows() {
  static const std::vector<Row> rows{
      {"nothing_charges", {{{"charging/@mains", "no"}, {"charging/@step-up", "no"}}}, "no-charging:wrong"},
      {"nothing_known_charges", {{{"charging/@mains", "no"}, {"charging/@step-up", "no"}, {"charging/@solar", "-"}}}, "no-charging:doubtful"},
      {"alternator_charges", {{{"charging/@mains", "no"}, {"charging/@step-up", "no"}, {"charging/@alternator", "yes"}}}, ""},
      {"source_below_wake", {{{"charging/@source-volts", "13.1"}}}, "step-up-wake:wrong"},
      {"source_below_an_assumed_wake", {{{"charging/@source-volts", "13.1"}, {"charging/@wake", "-"}}}, "step-up-wake:doubtful"},
      {"source_below_wake_without_charger", {{{"charging/@source-volts", "13.1"}, {"charging/@step-up", "no"}}}, ""},
      {"source_at_wake", {{{"charging/@source-volts", "13.2"}}}, "step-up-on-load:doubtful"},
      {"thin_input_cable", {{{"charging/@step-up-area", "2.5"}}}, "step-up-on-load:doubtful"},
      {"source_while_absorbing", {{{"charging/@source-volts", "14.4"}}}, "step-up-float:doubtful"},
      {"source_while_absorbing_wake_below_float", {{{"charging/@source-volts", "14.4"}, {"charging/@wake", "13"}}}, ""},
      {"other_kind", {{{"charging/@set-for", "other"}}}, "mains-setting:wrong"},
      {"other_kind_without_charger", {{{"charging/@set-for", "other"}, {"charging/@mains", "no"}}}, ""},
      {"agm_high", {{{"charging/@absorption", "14.7"}}}, "absorption:wrong"},
      {"agm_top", {{{"charging/@absorption", "14.6"}}}, ""},
      {"agm_low", {{{"charging/@absorption", "14"}}}, "absorption:doubtful"},
      {"gel_high", {{{"charging/@absorption", "14.5"}, {"bank/@chemistry", "gel"}}}, "absorption:wrong"},
      {"gel_high_of_an_assumed_bank", {{{"charging/@absorption", "15"}, {"bank/@chemistry", "-"}}}, "absorption:doubtful"},
      {"flooded_top", {{{"charging/@absorption", "14.8"}, {"bank/@chemistry", "flooded"}}}, ""},
      {"flooded_low", {{{"charging/@absorption", "14.1"}, {"bank/@chemistry", "flooded"}}}, "absorption:doubtful"},
      {"lithium_high", {{{"charging/@absorption", "14.7"}, {"bank/@chemistry", "lithium"}, {"bank/@amp-hours", "300"}}}, "absorption:wrong"}};
  return rows;
}

inline const std::vector<Row>& network_rows() {
  static const std::vector<Row> rows{
      {"upper_half", {{{"network/@supply", "bank-upper"}}}, "supply-upper-half:wrong"},
      {"upper_half_of_12_volts",
       {{{"network/@supply", "bank-upper"}, {"bank/@volts", "12"}, {"bank/@arrangement", "single"}, {"power/@length", "1"}}}, "record-contradiction:doubtful"},
      {"lower_half_of_12_volts",
       {{{"network/@supply", "bank-lower"}, {"bank/@volts", "12"}, {"bank/@arrangement", "single"}, {"power/@length", "1"}}}, "record-contradiction:doubtful"},
      {"lower_half", {{{"network/@supply", "bank-lower"}}}, "supply-lower-half:doubtful"},
      {"whole_bank", {{{"network/@supply", "bank"}}}, "supply-whole-bank:wrong"},
      {"whole_bank_of_12", {{{"network/@supply", "bank"}, {"bank/@volts", "12"}, {"bank/@arrangement", "single"}, {"power/@length", "1"}}}, ""},
      {"starter", {{{"network/@supply", "starter"}}}, "supply-starter:doubtful"},
      {"converter", {{{"network/@supply", "converter"}}}, ""},
      // 3 A over 8 m out and back: 1.12 V through 0.75 mm², 1.68 V through 0.5 mm².
      {"supply_drop_borne", {{{"network/@device-amps", "3"}}}, ""},
      {"supply_drop", {{{"network/@device-amps", "3"}, {"network/@supply-area", "0.5"}}}, "supply-drop:wrong"},
      {"supply_drop_of_an_assumed_string",
       {{{"network/@device-amps", "3"},
         {"network/@supply-area", "0.5"},
         {"network/@length", "30"},
         {"segment[1]", "-"},
         {"segment[1]", "-"},
         {"terminator[1]", "-"},
         {"terminator[1]", "-"}}},
       "supply-drop:doubtful"},
      {"supply_fed_at_the_end_unless_said",
       {{{"network/@device-amps", "1"}, {"network/@supply-area", "0.4"}, {"network/@feed", "-"}}}, "supply-drop:wrong"},
      {"supply_fed_in_the_middle", {{{"network/@device-amps", "1"}, {"network/@supply-area", "0.4"}}}, ""},
      {"ring_of_trunk", {{{"network/@length", "18"}}, "<segment from='wing' to='bow' length='4' kind='trunk'/>"}, "trunk-loop:wrong"},
      {"ring_by_a_branch", {{}, "<segment from='wing' to='bow' length='4' kind='branch'/>"}, "trunk-loop:wrong"},
      {"ring_upon_itself", {{}, "<segment from='wing' to='wing' length='0.1' kind='trunk'/>"}, "trunk-loop:wrong"},
      {"ring_in_words", string_in_words("network/@shape", "loop"), "trunk-loop:wrong"},
      {"branches_in_words", string_in_words("network/@shape", "branches"), "trunk-star:doubtful"},
      {"fork", {{{"network/@length", "19"}}, "<segment from='helm' to='locker' length='5' kind='trunk'/>"}, "trunk-star:wrong"},
      {"no_trunk", {{{"segment[1]/@kind", "branch"}, {"segment[2]/@kind", "branch"}}}, "trunk-star:wrong"},
      {"two_parts", {{{"segment[2]/@from", "joint"}}}, "trunk-pieces:wrong"},
      {"trunk_joined_by_a_branch",
       {{{"segment[2]/@from", "joint"}}, "<segment from='helm' to='joint' length='1' kind='branch'/>"},
       "trunk-pieces:wrong"},
      {"device_nowhere", {{{"station[2]/@name", "fly"}}}, "device-off-string:wrong"},
      {"hand_held_nowhere", {{{"station[2]/@name", "pocket"}, {"station[2]/@kind", "remote"}}}, ""},
      {"trunk_borne", {{{"segment[1]/@length", "190"}, {"network/@length", "196"}}}, ""},
      {"trunk_long_for_the_stricter", {{{"segment[1]/@length", "210"}, {"network/@length", "216"}}}, "trunk-length:doubtful"},
      {"trunk_too_long", {{{"segment[1]/@length", "250"}, {"network/@length", "-"}}}, "trunk-length:wrong"},
      {"trunk_borne_at_125", {{{"segment[1]/@length", "250"}, {"network/@length", "-"}, {"network/@bit-rate", "125"}}}, ""},
      {"trunk_too_long_at_1000", {{{"segment[1]/@length", "20"}, {"network/@length", "26"}, {"network/@bit-rate", "1000"}}}, "trunk-length:wrong"},
      {"no_network", {{{"network/@supply", "none"}, {"station[2]/@number", "1"}, {"terminator[1]/@ohm", "60"}, {"segment[2]/@from", "joint"}}}, ""}};
  return rows;
}

inline const std::vector<Row>& end_rows() {
  static const std::vector<Row> rows{
      {"branch_short", branched("6", "250"), ""},
      {"branch_long_for_the_trade", branched("7", "250"), "branch-length:doubtful"},
      {"branch_too_long", branched("12", "250"), "branch-length:wrong"},
      {"branch_too_long_at_500", branched("5.6", "500"), "branch-length:wrong"},
      {"branch_borne_at_125", branched("12", "125"), "branch-length:doubtful"},
      {"branch_of_a_branch",
       {{{"segment[1]/@length", "20"}, {"segment[2]/@length", "20"}, {"network/@length", "40"}},
        "<segment from='helm' to='joint' length='6' kind='branch'/><segment from='joint' to='mast' length='6' kind='branch'/>"},
       "branch-length:wrong"},
      {"branches_borne_together", comb(9, "6", "250"), ""},
      {"branches_too_long_together", comb(10, "6", "250"), "branch-sum:wrong"},
      {"branch_longer_than_to_the_end",
       {{{"segment[1]/@to", "tee"}, {"segment[2]/@from", "tee"}, {"segment[2]/@length", "4"}, {"network/@length", "12"}},
        "<segment from='tee' to='helm' length='5' kind='branch'/>"},
       "branch-as-trunk:doubtful"},
      {"branch_as_long_as_to_the_end",
       {{{"segment[1]/@to", "tee"}, {"segment[2]/@from", "tee"}, {"segment[2]/@length", "5"}, {"network/@length", "13"}},
        "<segment from='tee' to='helm' length='5' kind='branch'/>"},
       ""},
      {"one_terminator", {{{"terminator[2]", "-"}, {"network/@terminators", "one"}}}, "terminator-count:wrong"},
      {"no_terminator", {{{"terminator[1]", "-"}, {"terminator[1]", "-"}, {"network/@terminators", "none"}}}, "terminator-count:wrong"},
      {"three_terminators", {{{"network/@terminators", "more"}}, "<terminator at='helm'/>"}, "terminator-count:wrong"},
      {"three_terminators_against_the_word", {{}, "<terminator at='helm'/>"}, "terminator-count:wrong record-contradiction:doubtful"},
      {"terminator_in_the_middle", {{{"terminator[1]/@at", "helm"}}}, "terminator-place:wrong"},
      {"both_at_one_end", {{{"terminator[1]/@at", "wing"}}}, "terminator-place:wrong"},
      {"terminator_nowhere", {{{"terminator[1]/@at", "cupboard"}}}, "terminator-place:wrong"},
      {"terminator_on_a_branch",
       [] {
         auto c = branched("3", "250");
         c.set.emplace_back("terminator[2]/@at", "helm");
         return c;
       }(),
       "terminator-place:wrong"},
      {"terminator_of_60", {{{"terminator[1]/@ohm", "60"}}}, "terminator-value:wrong"},
      {"terminator_at_the_edges", {{{"terminator[1]/@ohm", "100"}, {"terminator[2]/@ohm", "130"}}}, ""},
      {"terminator_beyond_the_edge", {{{"terminator[1]/@ohm", "131"}}}, "terminator-value:wrong"},
      {"length_nearly_agrees", {{{"network/@length", "15"}}}, ""},
      {"length_contradicts", {{{"network/@length", "20"}}}, "record-contradiction:doubtful"}};
  return rows;
}

inline const std::vector<Row>& station_rows() {
  static const std::vector<Row> rows{
      {"one_number_twice", {{{"station[2]/@number", "1"}}}, "station-number:wrong"},
      {"one_number_one_not_stated", {{{"station[2]/@number", "-"}}}, ""},
      {"one_number_twice_a_third_not_stated",
       {{{"station[2]/@number", "1"}, {"terminator[2]/@at", "aft"}, {"network/@length", "16"}},
        "<station name='aft' drives='bow'/><segment from='wing' to='aft' length='2' kind='trunk'/>"},
       "station-number:wrong"},
      {"one_number_two_thrusters", with_stern({{"station[2]/@number", "1"}, {"station[2]/@drives", "stern"}}), "station-number:doubtful"},
      {"two_thrusters_well_driven", with_stern({{"station[2]/@drives", "stern"}}), ""},
      {"drives_what_is_not_fitted", {{{"station[2]/@drives", "stern"}}}, "station-role:wrong"},
      {"drives_both_of_one", {{{"station[2]/@drives", "both"}}}, "station-role:doubtful"},
      {"nobody_drives_the_stern", with_stern({}), "thruster-undriven:wrong"},
      {"two_in_one_role",
       [] {
         auto c = with_stern({});
         c.add.replace(c.add.find("role='stern'"), 12, "role='bow'");
         return c;
       }(),
       "thruster-roles:wrong"}};
  return rows;
}

}  // namespace leadline::testing
