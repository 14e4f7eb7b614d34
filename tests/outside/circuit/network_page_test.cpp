// The shipped page of the control network on the standing example net of the shared reference (control-network.md: 25 m of 0.25 mm², five
// devices, two terminators), healthy and under effects of the shipped causes, against the rows published there. Each row names its section
// and tag. Devices take next to nothing here, for the reference's nets of lines have no supply.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "engine/circuit/expectation.h"
#include "tests/circuit/shipped_base.h"

namespace leadline {
namespace {

const knowledge::KnowledgeBase& shipped() { return testing::shipped_base(); }

const char* const standing_net =
    R"(<installation name="Curlew"><bank volts="24" arrangement="series"/><network supply="house" length="25" area="0.25" device-amps="0.01"/>
<thruster name="d0"/><station name="d1" number="1"/><station name="d2" number="2"/><station name="d3" number="3"/><station name="d4" number="4"/>
<segment from="d0" to="d1" length="6.25"/><segment from="d1" to="d2" length="6.25"/><segment from="d2" to="d3" length="6.25"/>
<segment from="d3" to="d4" length="6.25"/><terminator at="d0" ohm="120"/><terminator at="d4" ohm="120"/></installation>)";

std::size_t page() { return knowledge::find_id(shipped().circuits, "network")->index; }

const circuit::Expectation& expectation() {
  static const auto made = [] {
    const std::vector<text::Source> files = {{"standing net", standing_net}};
    auto loaded = installation::read_installation(shipped(), files.front());
    if (!loaded.value) throw std::runtime_error(text::render(loaded.problems, files));
    return circuit::Expectation(shipped(), installation::Evaluation(shipped(), *loaded.value));
  }();
  return made;
}

// One way of a cause: its effect's words begin so, the part struck is titled so ("" when there is no choice), at a size of 0 … 1.
struct Fault {
  const char* cause = "";
  const char* words = "";
  const char* struck = "";
  double size = 0;
};

std::vector<circuit::PartNumbers> numbers_under(const Fault& fault) {
  const auto& healthy = expectation().bench(page())->healthy();
  auto numbers = numbers_of(healthy);
  if (std::string_view(fault.cause).empty()) return numbers;
  const auto cause = knowledge::find_id(shipped().causes, fault.cause);
  if (!cause) throw std::runtime_error(std::string("no cause ") + fault.cause);
  for (const auto& way : expectation().faults(page(), cause->index)) {
    if (!way.words.starts_with(fault.words) || way.struck.find(fault.struck) == std::string::npos) continue;
    apply(way, fault.size, healthy, numbers);
    return numbers;
  }
  throw std::runtime_error(std::string("no such effect of ") + fault.cause);
}

double reading(const char* finding, const Fault& fault) {
  const auto tie = expectation().tie_of(knowledge::find_id(shipped().findings, finding)->index);
  if (!tie || tie->circuit != page()) throw std::runtime_error(std::string("not tied to the network: ") + finding);
  const auto& bench = *expectation().bench(page());
  const std::vector<bool> all(shipped().circuits[page()].conditions.size(), true);
  return bench.measured(bench.probed(numbers_under(fault), all, bench.probed_healthy()))[tie->measure];
}

// The size at which a change in equal ratios between `from` and `to` has this value.
double at(double value, double from, double to) { return std::log(value / from) / std::log(to / from); }

struct Row {
  const char* name;  // with section and tag
  const char* finding;
  Fault fault;
  double least, most;
};
void PrintTo(const Row& row, std::ostream* out) { *out << row.name; }
// A printed value and how far off we may be: its last digit, or what the row's words leave out.
Row near(const char* name, const char* finding, const Fault& fault, double printed, double off) {
  return {name, finding, fault, printed - off, printed + off};
}

const Fault sound{};
const Fault rt_near{"terminator-missing", "one", "at d0"};
const Fault rt_far{"terminator-missing", "one", "at d4"};
const Fault rt_both{"terminators-both-missing", "neither", ""};
const Fault third{"terminator-surplus", "a third", "at d2"};
const Fault four{"terminator-surplus", "two terminators", ""};
const Fault h_open{"line-open-in-trunk", "H open in one piece of the string", "d1 to d2"};
const Fault l_open{"line-open-in-trunk", "L open in one piece of the string", "d1 to d2"};
const Fault both_open{"line-open-in-trunk", "H and L", "d1 to d2"};
const Fault h_negative{"line-to-negative", "H", ""}, l_negative{"line-to-negative", "L", ""};
const Fault h_plus{"line-to-plus", "H", ""}, l_plus{"line-to-plus", "L", ""};
const Fault dark{"network-fuse-blown", "", ""};
const Fault crossed{"pair-swapped", "", "d1 to d2"};
const Fault stuck{"node-stuck", "one device holds", "d2", at(45, 30, 70)};
const Fault upper{"upper-half-tap", "the network minus sits one battery above the common negative", ""};
Fault contact(double ohm) { return {"plug-corroded", "50 to 1000 ohm in H", "d1 to d2", at(ohm, 50, 1000)}; }
Fault low_part(double ohm) { return {"terminator-wrong-value", "one terminator has 30", "at d0", at(ohm, 100, 30)}; }
Fault high_part(double ohm) { return {"terminator-wrong-value", "one terminator has 150", "at d0", at(ohm, 150, 1000)}; }
// What a meter shows on average when the thruster speaks for 5 % of the time and the panel at the other end for 10 %: the shares of the page.
double shown(double idle, double thruster, double panel) { return 0.85 * idle + 0.05 * thruster + 0.1 * panel; }

class PublishedRow : public ::testing::TestWithParam<Row> {};
TEST_P(PublishedRow, IsWhatTheShippedPageReads) {
  const auto& row = GetParam();
  const double read = reading(row.finding, row.fault);
  EXPECT_GE(read, row.least) << row.name;
  EXPECT_LE(read, row.most) << row.name;
}
std::string name_of(const ::testing::TestParamInfo<Row>& row) {
  std::string name;
  for (const char c : std::string_view(row.param.name)) {
    if (std::isalnum(static_cast<unsigned char>(c))) name += c;
  }
  return name;
}

const Row ohm_rows[] = {
    near("§ 8 SIM two terminators, five nodes, at A", "network-ohms", sound, 60.268, 0.003),
    near("§ 8 SIM terminator at B missing, at A", "network-ohms", rt_far, 117.647, 0.005),
    near("§ 8 SIM terminator at A missing, at A", "network-ohms", rt_near, 121.078, 0.005),
    near("§ 8 SIM both terminators missing", "network-ohms", rt_both, 6001.05, 0.5),
    near("§ 8 SIM H open at 40 percent, with legs, at A", "network-ohms", h_open, 118.486, 0.005),
    near("§ 8 SIM H and L open at 40 percent, at A", "network-ohms", both_open, 119.048, 0.005),
    near("§ 8 SIM third terminator at the middle, at A", "network-ohms", third, 40.694, 0.005),
    {"§ 6 DERIVED four terminators 28 to 32", "network-ohms", four, 28, 32},
    near("§ 1.5 SIM contact of 50 ohm", "network-ohms", contact(50), 70.20, 0.35),
    near("§ 1.5 SIM contact of 100 ohm", "network-ohms", contact(100), 77.30, 0.35),
    near("§ 1.5 SIM contact of 500 ohm", "network-ohms", contact(500), 99.6, 0.7),
    near("§ 1.5 SIM contact of 1000 ohm", "network-ohms", contact(1000), 107.2, 0.7),
    near("§ 1.3 DERIVED 47 ohm at one end, no cable", "network-ohms", low_part(47), 33.77, 0.4),
    near("§ 1.3 DERIVED 60 ohm at one end, no cable", "network-ohms", low_part(60), 40.00, 0.4),
    near("§ 1.3 DERIVED 75 ohm at one end, no cable", "network-ohms", low_part(75), 46.15, 0.4),
    near("§ 1.3 DERIVED 150 ohm at one end, no cable", "network-ohms", high_part(150), 66.67, 0.6),
    near("§ 1.3 DERIVED 330 ohm at one end, no cable", "network-ohms", high_part(330), 88.00, 1.0),
    near("§ 1.3 DERIVED 1 kiloohm at one end, no cable", "network-ohms", high_part(1000), 107.14, 1.5),
    near("§ 1.7 SIM far end bridged, whole", "far-end-short-ohms", sound, 3.40, 0.06),
    near("§ 1.7 SIM far end bridged, terminator at B missing", "far-end-short-ohms", rt_far, 3.40, 0.06),
    near("§ 1.7 SIM far end bridged, H open", "far-end-short-ohms", h_open, 119.0, 0.6),
    near("§ 1.8 DERIVED H and L touch at 6.25 m with 0.05 ohm, at A", "network-ohms", {"lines-shorted", "", "at d1", 0}, 0.918, 0.005),
    near("§ 1.8 DERIVED H and L touch at 25 m with 0.05 ohm, at A", "network-ohms", {"lines-shorted", "", "at d4", 0}, 3.447, 0.01),
    near("§ 1.8 DERIVED H on negative, pair", "network-ohms", h_negative, 60, 1),
    near("§ 1.8 DERIVED H on negative, H to negative", "h-to-negative-ohms", h_negative, 0.05, 0.05),
    {"§ 6 DERIVED H on negative, L to negative 55 to 65", "l-to-negative-ohms", h_negative, 55, 65},
    {"§ 6 DERIVED L on negative, H to negative 55 to 65", "h-to-negative-ohms", l_negative, 55, 65},
    near("§ 1.8 DERIVED H on plus, H to plus", "line-to-plus-ohms", h_plus, 0.05, 0.05),
    // § 1.8 gives 3 kiloohm, five times 15 in parallel; through the pair the other line's five stand beside them.
    near("§ 1.8 DERIVED sound, H to negative", "h-to-negative-ohms", sound, 1515, 8),
    near("§ 1.8 DERIVED sound, L to negative is alike", "l-to-negative-ohms", sound, 1515, 8),
    {"§ 6 DERIVED stuck node, pair 57 to 63", "network-ohms", stuck, 57, 63},
    {"§ 6 DERIVED crossed at a joint, pair 57 to 63", "network-ohms", crossed, 57, 63},
    {"§ 6 DERIVED fuse, pair 57 to 63", "network-ohms", dark, 57, 63},
};
INSTANTIATE_TEST_SUITE_P(Ohms, PublishedRow, ::testing::ValuesIn(ohm_rows), name_of);

const Row line_rows[] = {
    near("§ 2.2 DERIVED 30 percent load, H", "h-volts", sound, 2.65, 0.02),
    near("§ 2.2 DERIVED 30 percent load, L", "l-volts", sound, 2.35, 0.02),
    near("§ 2.2 DERIVED 30 percent load, H less L", "h-minus-l-volts", sound, 0.30, 0.005),
    near("§ 2.2 DERIVED 30 percent load, H and L", "h-plus-l-volts", sound, 5.00, 0.03),
    near("§ 2.1 DERIVED third terminator, H less L", "h-minus-l-volts", third, 0.15 * 1.54, 0.01),
    near("§ 2.1 DERIVED four terminators, H less L", "h-minus-l-volts", four, 0.15 * 1.25, 0.01),
    near("§ 2.1 DERIVED one terminator, H less L", "h-minus-l-volts", rt_far, 0.15 * 2.86, 0.015),
    near("§ 2.1 DERIVED no terminator, H less L", "h-minus-l-volts", rt_both, 0.15 * 4.93, 0.01),
    {"§ 2.3 SIM no power, H", "h-volts", dark, -0.1, 0.1},
    {"§ 2.3 SIM no power, L", "l-volts", dark, -0.1, 0.1},
    {"§ 2.3 SIM H to negative, H", "h-volts", h_negative, 0, 0.2},
    {"§ 2.3 SIM H to negative, L", "l-volts", h_negative, 0, 0.2},
    near("§ 2.3 SIM L to negative, H", "h-volts", l_negative, shown(0.05, 2.86, 2.86), 0.03),
    {"§ 2.3 SIM L to negative, L", "l-volts", l_negative, 0, 0.1},
    {"§ 2.3 SIM H to plus, H", "h-volts", h_plus, 11.5, 12.7},
    near("§ 2.3 SIM H to plus, L less than the supply", "l-volts", h_plus, shown(11.8, 5.1, 5.1) + 0.65, 0.3),
    {"§ 2.3 SIM L to plus, L", "l-volts", l_plus, 11.5, 12.7},
    near("§ 2.3 SIM H to L touching, H less L", "h-minus-l-volts", {"lines-shorted", "", "at d1", 0}, 0, 0.05),
    {"§ 2.3 SIM H to L touching, H", "h-volts", {"lines-shorted", "", "at d1", 0}, 2.3, 2.7},
    near("§ 2.3 SIM H open, seen at A, H", "h-volts", h_open, shown(2.5, 3.93, 1.13), 0.02),
    near("§ 2.3 SIM H open, seen at A, L", "l-volts", h_open, shown(2.5, 1.10, 1.10), 0.02),
    near("§ 2.3 SIM L open, seen at A, H", "h-volts", l_open, shown(2.5, 3.90, 3.90), 0.02),
    near("§ 2.3 SIM L open, seen at A, L", "l-volts", l_open, shown(2.5, 1.10, 3.87), 0.02),
    near("§ 2.3 SIM H and L open, only the near side is heard", "h-minus-l-volts", both_open, shown(0, 2.83, 0), 0.01),
    {"§ 2.3 SIM stuck dominant, H", "h-volts", stuck, 3.2, 3.8},
    {"§ 2.3 SIM stuck dominant, L", "l-volts", stuck, 1.2, 1.8},
    {"§ 2.3 SIM stuck dominant, H less L", "h-minus-l-volts", stuck, 1.5, 3.0},
    {"§ 2.3 DERIVED crossed beyond a joint: what comes from there reads upside down", "h-minus-l-volts", crossed, -0.2, -0.05},
    // One of five nodes stands 12.6 V below the negative of the others: at rest both lines fall by a fifth of that, § 4.5; who speaks sets them to
    // his own 3.5 V.
    near("§ 4.5 DERIVED one of five nodes on another negative, H", "h-volts",
         {"upper-half-tap", "the network minus sits one battery above the common negative, the thruster speaks", ""},
         shown(2.5 - 12.6 / 5, 3.5 - 12.6, 3.5), 0.03),
};
INSTANTIATE_TEST_SUITE_P(Lines, PublishedRow, ::testing::ValuesIn(line_rows), name_of);

const Row supply_rows[] = {
    {"§ 6 DERIVED sound, near", "network-supply-near-volts", sound, 12, 14.4},
    {"§ 4.1 READ sound, far, within 1.5 V", "network-supply-volts", sound, 11, 14.4},
    {"§ 6 DERIVED fuse, near", "network-supply-near-volts", dark, 0, 0.1},
    {"§ 6 DERIVED fuse, far", "network-supply-volts", dark, 0, 0.1},
    {"§ 6 DERIVED plus open between, near ok", "network-supply-near-volts", {"network-plus-open", "plus open in one piece", "d1 to d2"}, 12, 14.4},
    {"§ 6 DERIVED plus open between, far none", "network-supply-volts", {"network-plus-open", "plus open in one piece", "d1 to d2"}, 0, 1},
    {"§ 6 DERIVED plus open between, pair 57 to 63", "network-ohms", {"network-plus-open", "plus open in one piece", "d1 to d2"}, 57, 63},
    {"§ 4.4 DERIVED upper tap, across its own pair", "network-supply-volts", upper, 12, 13},
    {"§ 4.4 DERIVED upper tap, plus to common negative", "network-plus-to-common-negative-volts", upper, 24, 26},
    {"§ 4.4 DERIVED upper tap, minus to common negative", "network-minus-under-push-volts", upper, 12, 13},
    {"§ 4.4 DERIVED whole bank", "network-supply-volts", {"whole-bank-feed", "the volts of the whole bank on the network", ""}, 24, 26},
    // § 4.3 READ [S38]: the plateau while cranking lies 2.5 to 6 V below the battery.
    {"§ 4.3 READ starter battery while cranking, mild", "supply-dip-volts", {"starter-battery-noise", "", "", 0.1}, 12.6 - 6, 12.6 - 2.5},
    {"§ 4.3 READ starter battery while cranking, deep", "supply-dip-volts", {"starter-battery-noise", "", "", 0.9}, 12.6 - 6.1, 12.6 - 2.5},
};
INSTANTIATE_TEST_SUITE_P(Supply, PublishedRow, ::testing::ValuesIn(supply_rows), name_of);

// § 1.7: what decides between a missing terminator and an open conductor, which read alike from the end.
TEST(FarEndBridge, TellsAnOpenConductorFromAMissingTerminator) {
  EXPECT_NEAR(reading("network-ohms", rt_far), reading("network-ohms", h_open), 1.0);
  EXPECT_GT(reading("far-end-short-ohms", h_open) / reading("far-end-short-ohms", rt_far), 30);
}

}  // namespace
}  // namespace leadline
