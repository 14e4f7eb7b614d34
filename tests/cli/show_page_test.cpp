// The page of a cause reads like a page: its parts in order, precautions before what is done, words in place of formulas; every number has its source on the
// page that --sources prints.
#include "cli/show_page.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "cli/cause_page.h"
#include "cli/condition_words.h"
#include "cli/sources_page.h"
#include "tests/circuit/shipped_base.h"
#include "tests/cli/in_process.h"
#include "tests/cli/sample.h"

namespace leadline::cli {
namespace {

const knowledge::KnowledgeBase& book() { return testing::shipped_base(); }
constexpr std::size_t wide = 400;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

TEST(OftenWords, TakeTheNearestWordOfTheScale) {
  constexpr std::pair<double, const char*> rows[] = {{1, "practically always"}, {0.99, "practically always"}, {0.96, "nearly always"}, {0.8, "usually"}, {0.65, "often"},
                                                     {0.5, "often"},   {0.3, "sometimes"},           {0.12, "seldom"},        {0.02, "hardly ever"}, {0.001, "hardly ever"}};
  for (const auto& [chance, word] : rows) EXPECT_EQ(often_words(chance), word) << chance;
}

TEST(ConditionWords, SayTheQuestionAndItsAnswer) {
  const std::pair<const char*, const char*> rows[] = {
      {"thruster/@motor = 'brushless'", "\"What drives it?\" is \"a brushless motor with a controller\""},
      {"bank/@volts > 12", "\"Nominal volts of the thruster bank?\" is above 12"},
      {"count(station) > 1", "the number of stations is above 1"},
      {"not(charging/@mains = 'yes')", "not (\"Does a mains charger feed the thruster bank?\" is yes)"},
      {"$run_ohms * $motor_amps <= $bank_volts * 0.08", "the run ohms times the motor amps is at most the bank volts times 0.08"},
      {"(power/@isolator != 'none' or $blocks > 1)", "(\"How is the thruster bank isolated?\" is not \"no isolator\" or the blocks is above 1)"}};
  for (const auto& [condition, words] : rows) EXPECT_EQ(condition_words(book(), condition), words);
}

// No page of the book shows a path, a variable or a quoted id.
TEST(ConditionWords, LeaveNoFormulaBehind) {
  const auto judge = [](const std::optional<knowledge::Expression>& condition) {
    if (!condition) return;
    const auto words = condition_words(book(), condition->text);
    EXPECT_EQ(words.find_first_of("@$'/_"), std::string::npos) << condition->text << " -> " << words;
  };
  for (const auto& cause : book().causes) {
    judge(cause.applies);
    for (const auto& adjustment : cause.adjustments) judge(adjustment.when);
    for (const auto& rule : cause.rules) judge(rule.when);
  }
  for (const auto& finding : book().findings) judge(finding.applies);
}

void expect_parts_in_order(const knowledge::Cause& cause, const std::string& text) {
  std::size_t at = 0;
  for (const auto* part : {"What it is:", "Why it happens:", "How it shows:", "How it is confirmed", "How it is mended", "What proves it mended:", "What it is confused with", "How often:",
                           "From where we know:", "local codes and licensed practice come first"}) {
    const auto found = text.find(part, at);
    if (std::string(part) == "What it is confused with" && cause.confusions.empty()) continue;
    ASSERT_NE(found, std::string::npos) << cause.id << ": " << part;
    at = found;
  }
}

// Whatever is named to be done has its precautions on the line below, before place and minutes. How many were seen.
std::size_t expect_precautions_first(const std::vector<std::string>& lines) {
  std::size_t seen = 0;
  const auto judge = [&](const auto& action) {
    const auto head = action.title + " (" + action.id + ")";
    for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
      if (!lines[i].ends_with(head) || lines[i].find("told apart") != std::string::npos || action.precautions.empty()) continue;
      EXPECT_TRUE(lines[i + 1].starts_with("     ! First: ")) << lines[i];
      ++seen;
    }
  };
  for (const auto& check : book().checks) judge(check);
  for (const auto& remedy : book().remedies) judge(remedy);
  return seen;
}

// One test, for every page costs a quarter of a second.
TEST(CausePage, HasItsPartsInOrderAndPrecautionsBeforeWhatIsDone) {
  const auto usual = yardstick_for(book(), std::nullopt);
  constexpr auto step = testing::one_of(8);
  std::size_t seen = 0;
  for (std::size_t c = 0; c < book().causes.size(); c += step) {
    const auto text = cause_page(book(), {c}, usual, wide).text();
    expect_parts_in_order(book().causes[c], text);
    seen += expect_precautions_first(lines_of(text));
  }
  EXPECT_GT(seen, book().causes.size() / step);
}

TEST(CausePage, SaysWhenTheBoatCannotHaveIt) {
  const auto boat = installation::make_installation(book(), {{"thruster/@motor", "brushed"}});
  const auto cause = *knowledge::find_id(book().causes, "phase-open");
  const auto text = cause_page(book(), cause, yardstick_for(book(), boat), wide).text();
  EXPECT_NE(text.find("So it cannot be in this boat."), std::string::npos);
  EXPECT_EQ(cause_page(book(), cause, yardstick_for(book(), std::nullopt), wide).text().find("cannot be in this boat"), std::string::npos);
}

// What is good is said beside what is looked at: of a reading in figures of this boat.
TEST(CheckPage, SaysWhatIsSound) {
  const auto boat = installation::make_installation(book(), {{"bank/@volts", "12"}});
  const auto& rest = book()[*knowledge::find_id(book().checks, "measure-bank-rest")];
  const auto mine = full_check_page(book(), rest, yardstick_for(book(), boat), wide).text();
  EXPECT_NE(mine.find("    sound: as expected of a charged and rested bank: 12.4 V to 13 V\n"), std::string::npos) << mine;
  EXPECT_EQ(mine.find("a boat as most are"), std::string::npos);
  const auto usual = full_check_page(book(), rest, yardstick_for(book(), std::nullopt), wide).text();
  EXPECT_NE(usual.find("  Figures: a boat as most are."), std::string::npos) << usual;
  const auto& ask = book()[*knowledge::find_id(book().checks, "ask-what-it-does")];
  const auto seen = full_check_page(book(), ask, yardstick_for(book(), std::nullopt), wide).text();
  EXPECT_NE(seen.find("    sound: as hard as ever\n"), std::string::npos) << seen;
  EXPECT_EQ(seen.find("Figures: a boat as most are."), std::string::npos);
}

// Each number of the book stands on its page, under the title of its source.
TEST(SourcesPage, ShowsEveryNumberUnderItsSource) {
  for (const auto& item : knowledge::all_numbers(book())) {
    const auto lines = lines_of(sources_page(book(), item, wide).text());
    for (const auto& number : item.numbers) {
      const auto source = "  From " + book()[number.certificate->source].title + "; " + std::string(to_string(number.certificate->sure)) + " (";
      bool under = false, found = false;
      for (const auto& line : lines) {
        if (line.starts_with("  From ")) under = line.starts_with(source);
        found = found || (under && line.starts_with("    - " + number.what));
      }
      EXPECT_TRUE(found) << item.id << ": " << number.what;
    }
  }
}

TEST(SourcesPage, OfAnIdWithoutNumbersSaysSo) {
  const auto ran = testing::run_program({"show", "iso-11898-2", "--sources"});
  EXPECT_EQ(ran.code, 65);
  EXPECT_EQ(ran.err, "leadline: 'iso-11898-2' holds no number; leave --sources out to see its page\n");
}

TEST(Show, FitsItsWidth) {
  for (const auto* width : {"40", "80"}) {
    for (const auto* id : {"upper-half-tap", "network-ohms", "measure-network-supply", "move-network-supply", "iso-11898-2"}) {
      for (const auto& line : lines_of(testing::run_program({"--width", width, "show", id}).out)) EXPECT_LE(line.size(), std::stoul(width) + 6) << line;
    }
  }
}

}  // namespace
}  // namespace leadline::cli
