// What a cause does to one boat's circuit: which parts it strikes, how likely each, and how far its numbers go.
#include "engine/circuit/fault.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/circuit/small_book.h"

namespace leadline::circuit {
namespace {

using knowledge::ChangeKind;
using testing::Fault;
using testing::SmallBoat;

const std::string circuit_text = R"(<circuit id="c" reference="minus"><title>t</title><condition id="rest">r</condition><condition id="push">p</condition>
  <part kind="source" id="bank" from="plus" to="minus" volt="24" ohm="0.01">bank</part>
  <part kind="resistor" id="joint-lug" from="plus" to="lug" ohm="0.1">lug</part>
  <part kind="resistor" id="joint-fuse" from="lug" to="fuse" ohm="0.2">fuse holder</part>
  <part kind="resistor" id="joint-stud" from="fuse" to="stud" ohm="0.3">stud</part>
  <part kind="motor" id="motor" in="push" from="stud" to="minus" volt="24" amp="100" ohm="0.02">motor</part>
  <part kind="current" id="glow" in="rest" from="stud" to="minus" amp="2">glow</part>
  <part kind="step-up" id="input" from="stud" to="minus" watt="60" wake="13">input</part>
  <part kind="resistor" id="H-{@from}-{@to}" each="segment" from="H at {@from}" to="H at {@to}" ohm="$segment-length">H, {@from} to {@to}</part>
  <part kind="resistor" id="L-{@from}-{@to}" each="segment" from="L at {@from}" to="L at {@to}" ohm="$segment-length">L, {@from} to {@to}</part>
  <part kind="resistor" id="tie" from="L at bow" to="minus" ohm="50">tie</part>
</circuit>)";

constexpr const char* segments = R"(<segment from="bow" to="helm" length="8"/><segment from="helm" to="wing" length="2"/>)";

// One cause on that boat, its joins put into the circuit.
struct Struck {
  SmallBoat boat;
  FittedCircuit circuit;
  std::vector<Alternative> alternatives;

  explicit Struck(const std::string& effects, const std::string& applies = "1 = 1") : boat({circuit_text, {}, {Fault{"c", effects, applies}}}, segments) {
    circuit = std::get<FittedCircuit>(fit(boat.base, 0, boat.evaluation));
    add_possible_joins(circuit, boat.base, boat.evaluation);
    alternatives = faults_of(boat.base.causes[0], circuit, boat.evaluation);
  }

  std::vector<PartNumbers> after(std::size_t alternative, double size) const {
    auto numbers = numbers_of(circuit);
    apply(alternatives[alternative], size, circuit, numbers);
    return numbers;
  }
  std::size_t part(const std::string& id) const {
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
      if (circuit.parts[i].id == id) return i;
    }
    throw std::logic_error("no part " + id);
  }
  double ohm(const std::string& id, double size, std::size_t alternative = 0) const { return after(alternative, size)[part(id)].ohm; }
  // "share words struck: part part | …"
  std::string shown() const {
    std::string text;
    for (const auto& [effect, share, words, struck, changes] : alternatives) {
      text += (text.empty() ? "" : " | ") + std::to_string(std::lround(1000 * share)) + " " + words + (struck.empty() ? "" : " at " + struck) + ":";
      for (const auto& change : changes) text += " " + circuit.parts[change.part].id;
    }
    return text;
  }
};

std::string effect(const std::string& changes, const std::string& attributes = "") {
  return "<effect circuit=\"c\" " + attributes + "><words>w</words>" + changes + "</effect>";
}

// --- which parts ---

struct PlaceRow {
  const char* name;
  std::string effects;
  const char* shown;
};

class Places : public ::testing::TestWithParam<PlaceRow> {};

TEST_P(Places, AreStruck) { EXPECT_EQ(Struck(GetParam().effects).shown(), GetParam().shown); }

const PlaceRow places[] = {
    {"one_part", effect(R"(<add part="joint-lug" of="ohm" from="1"/>)"), "1000 w: joint-lug"},
    {"a_star_is_one_of_those_that_fit", effect(R"(<add part="joint-*" of="ohm" from="1"/>)"),
     "333 w at lug: joint-lug | 333 w at fuse holder: joint-fuse | 333 w at stud: joint-stud"},
    {"a_star_inside_a_name", effect(R"(<add part="joint-*d" of="ohm" from="1"/>)"), "1000 w at stud: joint-stud"},
    {"every_is_all_of_them", effect(R"(<add part="joint-*" every="yes" of="ohm" from="1"/>)"), "1000 w: joint-lug joint-fuse joint-stud"},
    {"parts_repeated_for_elements", effect(R"(<open part="H-*"/>)"),
     "500 w at H, bow to helm: H-bow-helm | 500 w at H, helm to wing: H-helm-wing"},
    {"one_star_for_all_changes", effect(R"(<open part="H-*"/><open part="L-*"/>)"),
     "500 w at H, bow to helm: H-bow-helm L-bow-helm | 500 w at H, helm to wing: H-helm-wing L-helm-wing"},
    {"one_of_many_and_every", effect(R"(<open part="H-*"/><times part="joint-*" every="yes" of="ohm" from="2"/>)"),
     "500 w at H, bow to helm: joint-lug joint-fuse joint-stud H-bow-helm | 500 w at H, helm to wing: joint-lug joint-fuse joint-stud H-helm-wing"},
    {"several_changes_of_one", effect(R"(<set part="motor" of="load" from="2"/><add part="joint-lug" of="ohm" from="1"/>)"), "1000 w: joint-lug motor"},
    {"effects_weighed_by_share", effect(R"(<open part="motor"/>)", R"(share="3")") + effect(R"(<open part="glow"/>)", R"(share="1")"),
     "750 w: motor | 250 w: glow"},
    {"a_share_divided_among_its_places", effect(R"(<open part="H-*"/>)", R"(share="0.6")") + effect(R"(<open part="glow"/>)", R"(share="0.4")"),
     "300 w at H, bow to helm: H-bow-helm | 300 w at H, helm to wing: H-helm-wing | 400 w: glow"},
    {"an_effect_left_out_by_when", effect(R"(<open part="motor"/>)", R"(share="3" when="bank/@volts = 48")") + effect(R"(<open part="glow"/>)", R"(share="1")"),
     "1000 w: glow"},
    {"none_holds", effect(R"(<open part="motor"/>)", R"(when="bank/@volts = 48")"), ""},
    {"a_join", effect(R"(<join from-place="lug" to-place="minus" from="1"/>)"), "1000 w: join lug - minus"},
    {"a_join_at_one_star", effect(R"(<join from-place="H at *" to-place="L at *" from="1"/>)"),
     "333 w at H at bow to L at bow: join H at bow - L at bow | 333 w at H at helm to L at helm: join H at helm - L at helm | "
     "333 w at H at wing to L at wing: join H at wing - L at wing"},
    {"a_join_from_a_star_to_one_place", effect(R"(<join from-place="L at *" to-place="plus" from="1"/>)"),
     "333 w at L at bow to plus: join L at bow - plus | 333 w at L at helm to plus: join L at helm - plus | "
     "333 w at L at wing to plus: join L at wing - plus"},
};

INSTANTIATE_TEST_SUITE_P(Rows, Places, ::testing::ValuesIn(places), [](const auto& row) { return std::string(row.param.name); });

TEST(FaultsOf, SharesOfOneCauseAddUpToOne) {
  for (const auto& row : places) {
    const Struck struck(row.effects);
    double sum = 0;
    for (const auto& alternative : struck.alternatives) sum += alternative.share;
    if (!struck.alternatives.empty()) { EXPECT_NEAR(sum, 1, 1e-12) << row.name; }
  }
}

TEST(FaultsOf, PartsThatAreNotFittedHereAreNotStruck) {
  const SmallBoat boat({circuit_text, {}, {Fault{"c", effect(R"(<open part="H-*"/>)")}}});  // no segments
  const auto circuit = std::get<FittedCircuit>(fit(boat.base, 0, boat.evaluation));
  EXPECT_TRUE(faults_of(boat.base.causes[0], circuit, boat.evaluation).empty());
}

// --- joins ---

TEST(Joins, ArePutIntoTheCircuitOpenAndOnce) {
  const Struck struck(effect(R"(<join from-place="lug" to-place="minus" from="1"/>)") + effect(R"(<join from-place="lug" to-place="minus" from="5"/>)"));
  const auto& join = struck.circuit.parts.back();
  EXPECT_EQ(join.id, "join lug - minus");
  EXPECT_EQ(join.title, "lug to minus");
  EXPECT_EQ(join.from, "lug");
  EXPECT_EQ(join.to, "minus");
  EXPECT_EQ(join.numbers.ohm, open_ohm);
  EXPECT_FALSE(join.there);
  EXPECT_EQ(join.in, (std::vector<bool>{true, true}));
  EXPECT_EQ(struck.circuit.parts.size(), std::get<FittedCircuit>(fit(struck.boat.base, 0, struck.boat.evaluation)).parts.size() + 1);
}

TEST(Joins, OfACauseThatCannotBeAreNotMade) {
  const Struck struck(effect(R"(<join from-place="lug" to-place="minus" from="1"/>)"), "bank/@volts = 48");
  EXPECT_EQ(struck.circuit.parts.back().id, "tie");
}

TEST(Joins, AreThereOnlyWhereBothPlacesAre) {
  const std::string circuit = R"(<circuit id="c" reference="minus"><title>t</title><condition id="rest">r</condition><condition id="push">p</condition>
      <part kind="source" id="bank" from="plus" to="minus" volt="24" ohm="0.01">bank</part>
      <part kind="resistor" id="load" in="push" from="plus" to="motor" ohm="1">load</part></circuit>)";
  const SmallBoat boat({circuit, {}, {Fault{"c", effect(R"(<join from-place="motor" to-place="minus" from="1"/>)")}}});
  auto fitted = std::get<FittedCircuit>(fit(boat.base, 0, boat.evaluation));
  add_possible_joins(fitted, boat.base, boat.evaluation);
  EXPECT_EQ(fitted.parts.back().in, (std::vector<bool>{false, true}));
}

// --- how far ---

TEST(SizeBetween, GrowsInEqualRatiosAboveZeroAndInEqualStepsOtherwise) {
  struct { const char* name; double from, to, size, wanted; } const rows[] = {
      {"ratio, least", 0.001, 0.1, 0, 0.001}, {"ratio, middle", 0.001, 0.1, 0.5, 0.01}, {"ratio, most", 0.001, 0.1, 1, 0.1},
      {"ratio, falling", 100, 1, 0.5, 10},    {"steps from zero", 0, 8, 0.25, 2},       {"steps to zero", 8, 0, 0.25, 6},
      {"steps through zero", -2, 2, 0.5, 0},  {"steps below zero", -4, -1, 1, -1},      {"one size", 5, 5, 0.3, 5}};
  for (const auto& row : rows) EXPECT_NEAR(size_between(row.from, row.to, row.size), row.wanted, 1e-12) << row.name;
}

TEST(Apply, AddsTimesAndSets) {
  struct { const char *name, *changes, *part; double PartNumbers::* value; double least, middle, most; } const rows[] = {
      {"add in ratios", R"(<add part="joint-fuse" of="ohm" from="0.01" to="1"/>)", "joint-fuse", &PartNumbers::ohm, 0.21, 0.3, 1.2},
      {"add in steps", R"(<add part="glow" of="amp" from="0" to="4"/>)", "glow", &PartNumbers::amp, 2, 4, 6},
      {"add below zero", R"(<add part="bank" of="volt" from="0" to="-2"/>)", "bank", &PartNumbers::volt, 24, 23, 22},
      {"times", R"(<times part="joint-lug" of="ohm" from="2" to="8"/>)", "joint-lug", &PartNumbers::ohm, 0.2, 0.4, 0.8},
      {"times nothing", R"(<times part="input" of="watt" from="0"/>)", "input", &PartNumbers::watt, 0, 0, 0},
      {"set", R"(<set part="input" of="wake" from="14" to="16"/>)", "input", &PartNumbers::wake, 14, std::sqrt(14.0 * 16), 16},
      {"set the load", R"(<set part="motor" of="load" from="1.5"/>)", "motor", &PartNumbers::load, 1.5, 1.5, 1.5},
      {"set by the record", R"(<set part="bank" of="volt" from="bank/@volts div 2"/>)", "bank", &PartNumbers::volt, 12, 12, 12},
  };
  for (const auto& row : rows) {
    SCOPED_TRACE(row.name);
    const Struck struck(effect(row.changes));
    const auto part = struck.part(row.part);
    EXPECT_NEAR(struck.after(0, 0)[part].*row.value, row.least, 1e-12);
    EXPECT_NEAR(struck.after(0, 0.5)[part].*row.value, row.middle, 1e-12);
    EXPECT_NEAR(struck.after(0, 1)[part].*row.value, row.most, 1e-12);
  }
}

TEST(Apply, ChangesNothingElse) {
  const Struck struck(effect(R"(<add part="joint-fuse" of="ohm" from="1" to="2"/>)"));
  const auto before = numbers_of(struck.circuit), after = struck.after(0, 1);
  for (std::size_t i = 0; i < before.size(); ++i) {
    if (i == struck.part("joint-fuse")) continue;
    EXPECT_EQ(after[i].ohm, before[i].ohm);
    EXPECT_EQ(after[i].volt, before[i].volt);
    EXPECT_EQ(after[i].amp, before[i].amp);
    EXPECT_EQ(after[i].load, before[i].load);
  }
  EXPECT_EQ(after[struck.part("joint-fuse")].volt, 0);
}

TEST(Apply, AllChangesOfOneEffectGrowTogether) {
  const Struck struck(effect(R"(<add part="joint-lug" of="ohm" from="0.1" to="10"/><add part="joint-stud" of="ohm" from="0" to="4"/>)"));
  EXPECT_NEAR(struck.ohm("joint-lug", 0.5), 1.1, 1e-12);
  EXPECT_NEAR(struck.ohm("joint-stud", 0.5), 2.3, 1e-12);
}

TEST(Apply, OpensWhateverItIs) {
  using knowledge::PartKind;
  for (const char* id : {"bank", "joint-lug", "motor", "glow", "input"}) {
    const Struck struck(effect("<open part=\"" + std::string(id) + "\"/>"));
    const auto part = struck.part(id);
    const auto kind = kind_of(struck.circuit.parts[part].kind, struck.after(0, 1)[part], true);
    if (const auto* resistor = std::get_if<Resistor>(&kind)) { EXPECT_EQ(resistor->ohm, open_ohm); }
    if (const auto* source = std::get_if<Source>(&kind)) { EXPECT_EQ(source->internal_ohm, open_ohm); }
    if (const auto* current = std::get_if<CurrentLoad>(&kind)) { EXPECT_EQ(current->amp, 0); }
    if (const auto* power = std::get_if<PowerLoad>(&kind)) { EXPECT_EQ(power->watt, 0); }
    if (const auto* motor = std::get_if<MotorLoad>(&kind)) { EXPECT_EQ(motor_amps(*motor, 24), 0); }
    const auto solved = solve({{{"s", "a", "b", Source{12, 1}}, {"lamp", "a", "b", Resistor{10}}, {"struck", "a", "b", kind}}});
    EXPECT_NE(value_of(solved), nullptr) << id;  // still a valid part
  }
}

TEST(Apply, AJoinTakesItsOhms) {
  const Struck struck(effect(R"(<join from-place="H at *" to-place="L at *" from="0.5" to="50"/>)"));
  EXPECT_NEAR(struck.ohm("join H at bow - L at bow", 0.5), 5, 1e-12);
  EXPECT_EQ(struck.ohm("join H at helm - L at helm", 0.5), open_ohm);
  EXPECT_NEAR(struck.ohm("join H at helm - L at helm", 1, 1), 50, 1e-12);
}

TEST(Sized, OnlyWhereSizesDiffer) {
  EXPECT_TRUE(Struck(effect(R"(<add part="glow" of="amp" from="1" to="4"/>)")).alternatives[0].sized());
  EXPECT_TRUE(Struck(effect(R"(<open part="glow"/><add part="bank" of="volt" from="0" to="-2"/>)")).alternatives[0].sized());
  EXPECT_FALSE(Struck(effect(R"(<add part="glow" of="amp" from="4"/>)")).alternatives[0].sized());
  EXPECT_FALSE(Struck(effect(R"(<open part="glow"/>)")).alternatives[0].sized());
}

}  // namespace
}  // namespace leadline::circuit
