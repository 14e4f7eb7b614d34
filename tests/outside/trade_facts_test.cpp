// Facts of the trade, end to end: shipped knowledge, a recorded call-out as text, the ranking. Each fact is
// "common practice, no source": what any electrician of the trade would say first. Boats and readings are invented.
// The facts were written before the rules were looked at; a fact that fails is a matter for the knowledge, not for this
// table.
#include <gtest/gtest.h>

#include <algorithm>
#include <memory>
#include <numeric>

#include "engine/callout/case_file.h"
#include "tests/circuit/shipped_base.h"

namespace leadline {
namespace {

const knowledge::KnowledgeBase& shipped() { return testing::shipped_base(); }

// A call-out judged; it keeps the record that the assessment looks at.
struct Judged {
  callout::Record record;
  callout::Assessment assessment;
  Judged(callout::Record r) : record(std::move(r)), assessment(shipped(), record) {}
};

std::unique_ptr<Judged> judge(const std::string& installation, const std::string& answers) {
  const text::Source file{
      "fact.xml", "<callout>\n<title>A fact of the trade</title>\n<installation name=\"Sandpiper\">" + installation +
                      "</installation>\n" + answers + "\n</callout>"};
  auto loaded = callout::read_case(shipped(), file);
  if (!loaded.value) throw std::runtime_error(text::render(loaded.problems, std::vector<text::Source>{file}));
  return std::make_unique<Judged>(*std::move(loaded.value));
}

std::string id_of(const callout::Assessment& assessment, std::size_t cause) {
  const auto ref = assessment.boat().cause_refs[cause];
  return ref ? shipped()[*ref].id : "(unlisted)";
}

// Ids of causes, most believed first.
std::vector<std::string> ranking(const callout::Assessment& assessment) {
  const auto& belief = assessment.diagnosis().belief;
  std::vector<std::size_t> order(belief.size());
  std::iota(order.begin(), order.end(), 0U);
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return belief[a] > belief[b]; });
  std::vector<std::string> ids;
  for (const auto cause : order) ids.push_back(id_of(assessment, cause));
  return ids;
}

std::string shown(const callout::Assessment& assessment) {
  std::string text;
  const auto ids = ranking(assessment);
  for (std::size_t k = 0; k < std::min<std::size_t>(6, ids.size()); ++k) {
    for (std::size_t i = 0; i < assessment.boat().cause_refs.size(); ++i) {
      if (id_of(assessment, i) == ids[k])
        text += "\n  " + std::to_string(assessment.diagnosis().belief[i]) + "  " + ids[k];
    }
  }
  return text;
}

// What was told, and what the trade would say first.
struct Fact {
  const char* name;
  const char* installation;
  const char* answers;
  std::vector<std::string> causes;  // any of them may lead
  std::size_t all_within = 1;       // and all of them stand among the first so many
};

void PrintTo(const Fact& fact, std::ostream* out) {
  *out << fact.name;
}

const char* const series_bank =
    R"(<bank volts="24" arrangement="series" chemistry="agm"/><power length="6" area="70"/><thruster motor="brushed" amps="280"/><network supply="house"/>)";
const char* const brushless =
    R"(<bank volts="24" arrangement="series"/><thruster motor="brushless" amps="280"/><network supply="house"/>)";
const char* const brushless_new_cables =
    R"(<bank volts="24" arrangement="series"/><thruster motor="brushless" amps="280"/><network supply="house"/><lately work="cables"/>)";
const char* const two_stations =
    R"(<bank volts="24"/><network supply="house"/><station name="wheelhouse" number="1"/><station name="flybridge" number="2"/>)";
const char* const starter_fed = R"(<bank volts="24"/><network supply="starter"/>)";
const char* const stepped_up = R"(<bank volts="24"/><charging mains="no" step-up="yes" wake="13.2"/>)";
const char* const mains_charged = R"(<bank volts="24" chemistry="agm"/><charging mains="yes"/>)";
const char* const two_thrusters =
    R"(<bank volts="24"/><thruster name="bow" role="bow"/><thruster name="stern" role="stern"/><network supply="house"/><station name="helm" number="1" drives="bow"/><station name="cockpit" number="2" drives="stern"/>)";
const char* const hand_held =
    R"(<bank volts="24"/><network supply="house"/><station name="helm" number="1"/><station name="hand-held" number="2" kind="remote"/>)";

const Fact facts[] = {
    {"TwoStationsLiveAtOnceBearOneNumber",
     two_stations,
     R"(<complaint finding="stations-live" state="two"/>)",
     {"station-number-double"}},
    {"HundredAndTwentyOhmMeansATerminatorOrAConductor",
     series_bank,
     R"(<complaint finding="panel-error" state="steady"/><answer finding="network-ohms" reading="120 ohm"/>)",
     {"terminator-missing", "line-open-in-trunk"},
     2},
    {"FortyOhmMeansATerminatorTooMany",
     series_bank,
     R"(<complaint finding="panel-error" state="occasional"/><answer finding="network-ohms" reading="40 ohm"/>)",
     {"terminator-surplus"}},
    {"NoOhmMeansTheLinesTouch",
     series_bank,
     R"(<complaint finding="panel-error" state="steady"/><answer finding="network-ohms" reading="0.4 ohm"/>)",
     {"lines-shorted"}},
    {"ErrorsWithTheEngineRunningComeFromTheStarterBattery",
     starter_fed,
     R"(<complaint finding="panel-error" state="occasional"/><answer finding="error-moment" state="when-engine-runs"/>)",
     {"starter-battery-noise"}},
    {"PanelsThatRestartWithTheEngineHangOnTheStarterBattery",
     starter_fed,
     R"(<complaint finding="panel-lights" state="restarts"/><answer finding="error-moment" state="when-engine-starts"/>)",
     {"starter-battery-noise"}},
    {"TwiceTheVoltsToTheCommonNegativeAreTheUpperHalf",
     series_bank,
     R"(<complaint finding="panel-error" state="occasional"/><answer finding="network-supply-volts" reading="12.6 V"/><answer finding="network-plus-to-common-negative-volts" reading="25.1 V"/>)",
     {"upper-half-tap"}},
    {"MotorTerminalErrorAfterNewCablesIsTheLug",
     brushless_new_cables,
     R"(<complaint finding="push" state="none"/><answer finding="error-kind" state="motor-terminal"/>)",
     {"lug-touches-motor-terminal"}},
    {"CutsOutAndRecoversWithAGoodBankIsTheMotorsGuard",
     series_bank,
     R"(<complaint finding="push-lasts" state="cuts-out"/><answer finding="duty-recovery" state="recovers"/><answer finding="bank-volts-rest" reading="25.6 V"/>)",
     {"duty-exceeded"}},
    {"ThirteenVoltsDoNotWakeAChargerThatWantsMore",
     stepped_up,
     R"(<complaint finding="bank-charging" state="never"/><answer finding="step-up-input-volts" reading="13.0 V"/>)",
     {"step-up-never-wakes"}},
    {"ABadLugOnTheMinusSideIsTheMinusLug",
     series_bank,
     R"(<complaint finding="push" state="weak"/><answer finding="joint-drop" reading="0.84 V"/><answer finding="worst-lug-at" state="minus"/>)",
     {"negative-lug-bad"}},
    {"ABadLugOnTheIsolatorIsTheIsolatorsLug",
     series_bank,
     R"(<complaint finding="push" state="weak"/><answer finding="joint-drop" reading="0.84 V"/><answer finding="worst-lug-at" state="isolator"/>)",
     {"isolator-lug-loose"}},
    {"GrindingLoudestOnTheMotorIsItsBearing",
     series_bank,
     R"(<complaint finding="motor-sound" state="grinding"/><answer finding="push" state="normal"/><answer finding="noise-loudest-at" state="motor"/>)",
     {"motor-bearing-worn"}},
    {"GrindingLoudestOnTheLegIsItsGear",
     series_bank,
     R"(<complaint finding="motor-sound" state="grinding"/><answer finding="noise-loudest-at" state="leg"/><answer finding="drive-oil-look" state="metal"/>)",
     {"gear-worn"}},
    {"LabouringWithTooManyAmpereIsARope",
     series_bank,
     R"(<complaint finding="push" state="weak"/><complaint finding="motor-sound" state="laboured"/><answer finding="motor-amps-load" reading="390 A"/>)",
     {"rope-round-propeller"}},
    {"OverCurrentWithLabouringIsARope",
     brushless,
     R"(<complaint finding="motor-sound" state="laboured"/><answer finding="error-kind" state="over-current"/><answer finding="motor-amps-load" reading="400 A"/>)",
     {"rope-round-propeller"}},
    {"RacingWithoutPushIsTheDrive",
     series_bank,
     R"(<complaint finding="push" state="none"/><complaint finding="motor-sound" state="racing"/>)",
     {"shear-pin-broken", "coupling-slipping", "propeller-lost"},
     3},
    {"OneSideOnlyIsTheContactorOfTheOther",
     series_bank,
     R"(<complaint finding="push-sides" state="one-side"/>)",
     {"contactor-direction-dead"}},
    {"RunsOnAfterReleaseIsAWeldedContactor",
     series_bank,
     R"(<complaint finding="push-unbidden" state="runs-on"/>)",
     {"contactor-contacts-welded"}},
    {"AllPanelsDeadWithTheSwitchOnIsTheNetworkFuse",
     two_stations,
     R"(<complaint finding="panel-lights" state="dead"/><complaint finding="stations-affected" state="all"/><answer finding="network-supply-near-volts" reading="0.0 V"/><answer finding="network-switch" state="on"/>)",
     {"network-fuse-blown"}},
    {"AllPanelsDeadIsTheFuseOrTheSwitch",
     two_stations,
     R"(<complaint finding="panel-lights" state="dead"/><complaint finding="stations-affected" state="all"/><answer finding="network-supply-near-volts" reading="0.0 V"/>)",
     {"network-fuse-blown", "network-switched-off"},
     2},
    // 7.4 V of 19.2 V: the other battery holds 11.8 V, 4.4 V more. Without that last reading an aged pair leads (0.59 against 0.26): the
    // book had no finding for the neighbour that holds, and got one.
    {"OneBatteryThatFallsUnderLoadIsWeak",
     series_bank,
     R"(<complaint finding="push" state="weak"/><answer finding="bank-volts-load" reading="19.2 V"/><answer finding="weakest-battery-load-volts" reading="7.4 V"/><answer finding="battery-difference-load" reading="4.4 V"/>)",
     {"one-weak-battery"}},
    {"OneBatteryLowAtRestAndUnderLoadIsWeak",
     series_bank,
     R"(<complaint finding="push" state="weak"/><answer finding="battery-difference-rest" reading="0.60 V"/><answer finding="weakest-battery-load-volts" reading="7.4 V"/>)",
     {"one-weak-battery"}},
    {"LowVoltsAtRestAreAnEmptyBank",
     series_bank,
     R"(<complaint finding="push" state="weak"/><answer finding="bank-volts-rest" reading="24.1 V"/>)",
     {"bank-low-charge"}},
    {"ThreeTimesTheDropOnTheMinusSideIsItsLug",
     series_bank,
     R"(<complaint finding="push" state="weak"/><answer finding="positive-run-drop" reading="0.50 V"/><answer finding="negative-run-drop" reading="1.40 V"/>)",
     {"negative-lug-bad"}},
    {"TwelveVoltsBetweenTheNegativesAreAMissingJoint",
     series_bank,
     R"(<complaint finding="panel-error" state="steady"/><answer finding="negatives-difference" reading="12.1 V"/>)",
     {"common-negative-missing"}},
    {"AChargerSetForAnotherBatteryNeverFillsThisOne",
     mains_charged,
     R"(<complaint finding="bank-charging" state="slowly"/><answer finding="charger-setting" state="other"/>)",
     {"mains-charger-wrong-setting"}},
    {"TheOtherThrusterAnsweringOnePanelIsThePanel",
     two_thrusters,
     R"(<complaint finding="thruster-answers" state="other-one"/><complaint finding="stations-affected" state="one"/>)",
     {"panel-wrong-thruster"}},
    {"AnIsolatorFoundOffWasLeftOff",
     series_bank,
     R"(<complaint finding="push" state="none"/><complaint finding="motor-sound" state="silent"/><answer finding="isolator-position" state="off"/>)",
     {"isolator-left-off"}},
    {"WrongWayAtOneStationIsThatPanel",
     two_stations,
     R"(<complaint finding="push-direction" state="wrong-way"/><answer finding="direction-by-station" state="wrong-at-one"/>)",
     {"panel-reversed"}},
    // 25.2 V: what a bank shows that gives no current. The 24.2 V of earlier are those of a bank that gives some: the circuit rightly doubted it.
    {"VoltsBehindTheContactorButNoAmpereAreTheBrushes",
     series_bank,
     R"(<complaint finding="push" state="none"/><answer finding="contactor-stud-volts" reading="25.2 V"/><answer finding="motor-amps-load" reading="0 A"/>)",
     {"brushes-worn"}},
    {"AHotFuseHolderIsLoose",
     series_bank,
     R"(<complaint finding="smell" state="hot"/><answer finding="fuse-holder-temperature" reading="65 C"/>)",
     {"fuse-holder-hot"}},
    {"MilkyOilIsWater",
     series_bank,
     R"(<complaint finding="motor-sound" state="grinding"/><answer finding="drive-oil-look" state="milky"/>)",
     {"water-in-drive-oil"}},
    {"AWeakLightOnTheRemoteIsItsBattery",
     hand_held,
     R"(<complaint finding="stations-affected" state="one"/><answer finding="remote-light" state="weak"/>)",
     {"remote-battery-flat"}},
};

class TradeFact : public ::testing::TestWithParam<Fact> {};

TEST_P(TradeFact, CommonPracticeNoSource) {
  const auto& fact = GetParam();
  const auto judged = judge(fact.installation, fact.answers);
  const auto ids = ranking(judged->assessment);
  const auto all = shown(judged->assessment);
  EXPECT_TRUE(std::find(fact.causes.begin(), fact.causes.end(), ids.front()) != fact.causes.end())
      << "leading: " << ids.front() << all;
  for (const auto& cause : fact.causes) {
    const auto at = static_cast<std::size_t>(std::find(ids.begin(), ids.end(), cause) - ids.begin());
    ASSERT_LT(at, ids.size()) << cause << " does not exist on this boat";
    EXPECT_LT(at, fact.all_within) << cause << all;
  }
}

// The answers do it, not the frequencies: with nothing said, these causes are believed less than half as much.
TEST_P(TradeFact, RestsOnTheAnswers) {
  const auto& fact = GetParam();
  const auto told = judge(fact.installation, fact.answers), nothing_said = judge(fact.installation, "");
  double with = 0, without = 0;
  for (std::size_t i = 0; i < told->assessment.boat().cause_refs.size(); ++i) {
    if (std::find(fact.causes.begin(), fact.causes.end(), id_of(told->assessment, i)) == fact.causes.end()) continue;
    with += told->assessment.diagnosis().belief[i];
    without += nothing_said->assessment.diagnosis().belief[i];
  }
  EXPECT_GT(with, 2 * without) << shown(nothing_said->assessment);
}

INSTANTIATE_TEST_SUITE_P(Shipped, TradeFact, ::testing::ValuesIn(facts),
                         [](const auto& row) { return std::string(row.param.name); });

// The other direction of the first fact: what two stations of one number look like.
TEST(TradeFacts, OneNumberTwiceMakesBothStationsLive) {
  const auto judged = judge(two_stations, "");
  const auto& boat = judged->assessment.boat();
  const auto finding = knowledge::find_id(shipped().findings, "stations-live");
  ASSERT_TRUE(finding);
  for (std::size_t i = 0; i < boat.cause_refs.size(); ++i) {
    if (id_of(judged->assessment, i) != "station-number-double") continue;
    EXPECT_GT(diagnosis::distribution_under(boat.model, finding->index, {i})[1], 0.5);
    return;
  }
  FAIL() << "station-number-double does not exist on a boat with two stations";
}

TEST(TradeFacts, AreAtLeastSixteen) {
  EXPECT_GE(std::size(facts), 16U);
}

}  // namespace
}  // namespace leadline
