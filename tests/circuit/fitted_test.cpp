// Parts of the book with the numbers of one boat: which are there, what they are worth, and which part is named when a number is none.
#include "engine/circuit/fitted.h"

#include <gtest/gtest.h>

#include "engine/circuit/battery.h"
#include "engine/circuit/conductor.h"
#include "engine/text/number.h"
#include "tests/circuit/small_book.h"

namespace leadline::circuit {
namespace {

using testing::SmallBoat;

std::string with_parts(const std::string& parts) {
  return "<circuit id=\"c\" reference=\"minus\"><title>t</title><condition id=\"rest\">r</condition><condition id=\"push\">p</condition>\n"
         "<part kind=\"source\" id=\"bank\" from=\"plus\" to=\"minus\" volt=\"$volts\" ohm=\"0.01\">bank</part>" + parts + "</circuit>"
         "<quantity name=\"volts\" value=\"bank/@volts\"/>";
}

FittedCircuit fitted(const SmallBoat& boat) {
  auto result = fit(boat.base, 0, boat.evaluation);
  if (const auto* trouble = trouble_of(result)) throw std::logic_error(trouble->what);
  return *value_of(result);
}

std::vector<std::string> ids_of(const FittedCircuit& circuit) {
  std::vector<std::string> ids;
  for (const auto& part : circuit.parts) ids.push_back(part.id);
  return ids;
}

constexpr const char* segments = R"(<segment from="bow" to="helm" length="8"/><segment from="helm" to="wing" length="2" kind="drop"/>)";

TEST(Fit, RepeatsAPartForEveryElementAndFillsInItsFacts) {
  const SmallBoat boat({with_parts(R"(<part kind="resistor" id="plus-{@from}-{@to}" each="segment" from="plus at {@from}" to="plus at {@to}"
      ohm="0.1 * $segment-length">plus, {@from} to {@to}</part>)")}, segments);
  const auto circuit = fitted(boat);
  EXPECT_EQ(ids_of(circuit), (std::vector<std::string>{"bank", "plus-bow-helm", "plus-helm-wing"}));
  EXPECT_EQ(circuit.reference, "minus");
  EXPECT_EQ(circuit.parts[1].from, "plus at bow");
  EXPECT_EQ(circuit.parts[1].to, "plus at helm");
  EXPECT_EQ(circuit.parts[2].title, "plus, helm to wing");
  EXPECT_DOUBLE_EQ(circuit.parts[1].numbers.ohm, 0.8);
  EXPECT_DOUBLE_EQ(circuit.parts[2].numbers.ohm, 0.2);
  EXPECT_EQ(circuit.parts[0].numbers.volt, 24);
  EXPECT_EQ(circuit.parts[2].piece_from + " - " + circuit.parts[2].piece_to, "helm - wing");
  EXPECT_EQ(circuit.parts[0].piece_from + circuit.parts[0].piece_to, "");
}

TEST(Fit, RepeatsNothingWhereThereIsNoElement) {
  const SmallBoat boat({with_parts(R"(<part kind="resistor" id="plus-{@from}" each="segment" from="{@from}" to="minus" ohm="1">p</part>)")});
  EXPECT_EQ(ids_of(fitted(boat)), std::vector<std::string>{"bank"});
}

TEST(Fit, LeavesOutWhatWhenSays) {
  const SmallBoat boat({with_parts(R"(<part kind="resistor" id="long" when="run/@length > 5" from="plus" to="minus" ohm="1">l</part>
      <part kind="resistor" id="short" when="run/@length &lt;= 5" from="plus" to="minus" ohm="1">s</part>
      <part kind="resistor" id="trunk-{@from}" each="segment" when="$segment-kind = 'trunk'" from="plus" to="minus" ohm="1">t</part>)")}, segments);
  EXPECT_EQ(ids_of(fitted(boat)), (std::vector<std::string>{"bank", "long", "trunk-bow"}));
}

TEST(Fit, KeepsTheConditionsOfAPart) {
  const SmallBoat boat({with_parts(R"(<part kind="current" id="push-only" in="push" from="plus" to="minus" amp="280" spread="0.1" shared="load">p</part>
      <part kind="resistor" id="both" in="push rest" from="plus" to="minus" ohm="5">b</part>)")});
  const auto circuit = fitted(boat);
  EXPECT_EQ(circuit.parts[0].in, (std::vector<bool>{true, true}));
  EXPECT_EQ(circuit.parts[1].in, (std::vector<bool>{false, true}));
  EXPECT_EQ(circuit.parts[2].in, (std::vector<bool>{true, true}));
  EXPECT_EQ(circuit.parts[1].spread, 0.1);
  EXPECT_EQ(circuit.parts[1].shared, "load");
  const auto rest = circuit_of(circuit, 0), push = circuit_of(circuit, 1);
  EXPECT_EQ(rest.elements.size() + 1, push.elements.size());
  EXPECT_EQ(std::get<CurrentLoad>(push.elements[1].kind).amp, 280);
}

TEST(FilledIn, TakesTheFactsOfTheElement) {
  pugi::xml_document document;
  document.load_string("<segment from=\"bow {1}\" length=\"8\"/>");
  const auto segment = document.document_element();
  struct { const char *name, *filled; } const rows[] = {
      {"plain", "plain"}, {"", ""}, {"{@from}", "bow {1}"}, {"H at {@from}, {@length} m", "H at bow {1}, 8 m"},
      {"{@none}!", "!"}, {"open {@from", "open {@from"}};
  for (const auto& row : rows) EXPECT_EQ(filled_in(row.name, segment), row.filled) << row.name;
}

TEST(Fit, TakesACableFromItsTable) {
  const SmallBoat boat({with_parts(R"x(<part kind="cable" id="run" from="plus" to="far" length="run/@length" area="run/@area" temperature="45"
      class-2="number(run/@flexible = 'no')" plain="1">run</part>)x")}, R"(<run length="7" area="70" flexible="no"/>)");
  const auto table = run_ohm({70, Stranding::class_2, Surface::plain}, 7, 45);
  EXPECT_DOUBLE_EQ(fitted(boat).parts[1].numbers.ohm, std::get<double>(table));
}

double cable_ohm(const std::string& area) {
  const std::string part = R"(<part kind="cable" id="run" from="plus" to="far" length="10" area="run/@area">run</part>)";
  const SmallBoat boat({with_parts(part)}, "<run area=\"" + area + "\"/>");
  return fitted(boat).parts[1].numbers.ohm;
}

TEST(Fit, TakesACableBetweenNominalAreasByItsCopper) {
  const double at_50 = cable_ohm("50");
  EXPECT_DOUBLE_EQ(at_50, std::get<double>(run_ohm({50, Stranding::class_5, Surface::tinned}, 10, 20)));
  EXPECT_DOUBLE_EQ(cable_ohm("53.5"), at_50 * 50 / 53.5);  // a 1/0 gauge
  EXPECT_DOUBLE_EQ(cable_ohm("67.4"), cable_ohm("70") * 70 / 67.4);  // nearer to 70
  EXPECT_DOUBLE_EQ(cable_ohm("0.25"), cable_ohm("1.5") * 6);  // below the table
  double before = cable_ohm("1");
  for (double area = 1.1; area < 300; area *= 1.1) {  // nearly even: where the nearest row changes the table's own unevenness shows
    const double here = cable_ohm(text::format_number(area, 3));
    EXPECT_LT(here, before) << area;
    EXPECT_GT(here, before / 1.1 / 1.1) << area;
    before = here;
  }
}

TEST(Fit, MakesABatteryOfBlocks) {
  const SmallBoat boat({with_parts(R"(<part kind="battery" id="pair" from="plus" to="mid" amp-hours="bank/@amp-hours" charge="bank/@charge" blocks="2"
      age="bank/@age" temperature="0" chemistry="bank/@chemistry" cold-cranking="bank/@cold-cranking">pair</part>)")},
                       R"(<bank chemistry="gel" amp-hours="200" charge="75" age="5"/>)");
  const auto circuit = fitted(boat);
  EXPECT_EQ(circuit.parts[1].blocks, 2);
  EXPECT_TRUE(circuit.parts[1].chemistry.has_value());
  EXPECT_FALSE(circuit.parts[0].chemistry.has_value());
  const auto battery = circuit.parts[1].numbers;
  EXPECT_DOUBLE_EQ(battery.volt, 2 * 12.65);
  EXPECT_DOUBLE_EQ(battery.ohm, 2 * 0.0025 * 1.2 * 1.2);
}

TEST(Fit, PrefersColdCrankingToCapacity) {
  const std::string part = R"(<part kind="battery" id="b" from="plus" to="mid" amp-hours="bank/@amp-hours" charge="100" chemistry="bank/@chemistry"
      cold-cranking="bank/@cold-cranking">b</part>)";
  EXPECT_DOUBLE_EQ(fitted(SmallBoat({with_parts(part)}, R"(<bank cold-cranking="600"/>)")).parts[1].numbers.ohm, 0.005);
  EXPECT_DOUBLE_EQ(fitted(SmallBoat({with_parts(part)}, R"(<bank amp-hours="50"/>)")).parts[1].numbers.ohm, 0.01);  // not known: 0
}

// --- what no part can have ---

struct TroubleRow {
  const char *name, *part, *record, *what, *hint;
};

class FitTrouble : public ::testing::TestWithParam<TroubleRow> {};

TEST_P(FitTrouble, NamesThePart) {
  const SmallBoat boat({with_parts(GetParam().part)}, GetParam().record);
  const auto result = fit(boat.base, 0, boat.evaluation);
  ASSERT_NE(trouble_of(result), nullptr);
  EXPECT_EQ(trouble_of(result)->kind, Trouble::Kind::bad_value);
  EXPECT_EQ(trouble_of(result)->what, GetParam().what);
  EXPECT_EQ(trouble_of(result)->hint, GetParam().hint);
}

constexpr const char* battery_part = R"(<part kind="battery" id="b" from="plus" to="mid" amp-hours="bank/@amp-hours" charge="bank/@charge" age="bank/@age"
    chemistry="bank/@chemistry" cold-cranking="bank/@cold-cranking">upper battery</part>)";
constexpr const char* cable_part = R"(<part kind="cable" id="run" from="plus" to="far" length="run/@length" area="run/@area">plus run</part>)";

const TroubleRow troubles[] = {
    {"hair_thin", cable_part, "<run area=\"0.02\"/>", "a cross-section is 0.02 mm² (plus run)", "expected 0.05 mm² to 1000 mm²"},
    {"thick_as_a_mast", cable_part, "<run area=\"2000\"/>", "a cross-section is 2000 mm² (plus run)", "expected 0.05 mm² to 1000 mm²"},
    {"longer_than_any_boat", cable_part, "<run length=\"2000\"/>", "the length is 2000 m (plus run)", "expected 0.01 m to 1000 m"},
    {"unknown_chemistry", battery_part, "<bank chemistry=\"nickel\"/>", "the kind of battery 'b' is unknown (upper battery)", ""},
    {"overfull", battery_part, "<bank charge=\"150\"/>", "the state of charge is 1.5 (upper battery)", "expected 0 to 1"},
    {"tiny", battery_part, "<bank amp-hours=\"2\"/>", "the capacity is 2 Ah (upper battery)", "expected 10 Ah to 5000 Ah"},
    {"absurd_cranking", battery_part, "<bank cold-cranking=\"4000\"/>", "the cold cranking current is 4000 A (upper battery)", "expected 50 A to 3000 A"},
    {"ancient", battery_part, "<bank age=\"50\"/>", "the age is 50 years (upper battery)", "expected 0 years to 30 years"},
};

INSTANTIATE_TEST_SUITE_P(Rows, FitTrouble, ::testing::ValuesIn(troubles), [](const auto& row) { return std::string(row.param.name); });

// --- as the solver takes them ---

TEST(KindOf, GivesNumbersUnderWhichNothingFlowsToWhatSleepsOrIsOpen) {
  using knowledge::PartKind;
  PartNumbers numbers;
  numbers.ohm = 0.5, numbers.volt = 24, numbers.amp = 10, numbers.watt = 60, numbers.load = 1.5;
  EXPECT_EQ(std::get<Resistor>(kind_of(PartKind::resistor, numbers, true)).ohm, 0.5);
  EXPECT_EQ(std::get<Resistor>(kind_of(PartKind::cable, numbers, true)).ohm, 0.5);
  EXPECT_EQ(std::get<Source>(kind_of(PartKind::battery, numbers, true)).volt, 24);
  EXPECT_EQ(std::get<Source>(kind_of(PartKind::source, numbers, true)).internal_ohm, 0.5);
  EXPECT_EQ(std::get<Source>(kind_of(PartKind::source, numbers, false)).internal_ohm, open_ohm);
  EXPECT_EQ(std::get<CurrentLoad>(kind_of(PartKind::current, numbers, true)).amp, 10);
  EXPECT_EQ(std::get<CurrentLoad>(kind_of(PartKind::current, numbers, false)).amp, 0);
  EXPECT_EQ(std::get<PowerLoad>(kind_of(PartKind::step_up, numbers, true)).watt, 60);
  EXPECT_EQ(std::get<PowerLoad>(kind_of(PartKind::power, numbers, false)).watt, 0);
  EXPECT_EQ(std::get<MotorLoad>(kind_of(PartKind::motor, numbers, true)).load, 1.5);
  numbers.ohm = 0, numbers.watt = -5;
  EXPECT_EQ(std::get<Resistor>(kind_of(PartKind::resistor, numbers, true)).ohm, 1e-6);  // a joint without any resistance has a little
  EXPECT_EQ(std::get<PowerLoad>(kind_of(PartKind::power, numbers, true)).watt, 0);
  numbers.ohm = 1e15;
  EXPECT_EQ(std::get<Resistor>(kind_of(PartKind::resistor, numbers, true)).ohm, open_ohm);
}

TEST(CircuitOf, LetsEveryPlaceLeakToTheReference) {
  const SmallBoat boat({with_parts(R"(<part kind="resistor" id="stub" from="plus" to="loose end" ohm="1">s</part>)")});
  const auto circuit = circuit_of(fitted(boat), 0);
  std::vector<std::string> leaks;
  for (const auto& element : circuit.elements) {
    if (element.id.starts_with("damp ")) leaks.push_back(element.from + " > " + element.to);
  }
  EXPECT_EQ(leaks, (std::vector<std::string>{"plus > minus", "loose end > minus"}));
}

TEST(Fit, APartDrawnOpenIsAWayThatOnlyAFaultCloses) {
  const SmallBoat boat({with_parts(R"(<part kind="resistor" id="gap" from="plus" to="hull" ohm="1000000000000">g</part>)")});
  const auto circuit = fitted(boat);
  EXPECT_TRUE(circuit.parts[0].there);
  EXPECT_FALSE(circuit.parts[1].there);
}

}  // namespace
}  // namespace leadline::circuit
