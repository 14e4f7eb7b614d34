// What a terminal, a script or a cat on the keyboard may send: nothing of it is printed or kept as it came, nothing of it changes the job,
// and the end of the input ends the talk at every prompt. Real processes, locales and memory: tests/outside/replay.sh.
#include <gtest/gtest.h>

#include <filesystem>

#include "engine/text/utf8.h"
#include "tests/cli/in_process.h"
#include "tests/cli/sample.h"
#include "tests/cli/slurp.h"

namespace leadline {
namespace {

using testing::run_program;

const std::string demo_boat = LEADLINE_SOURCE_DIR "/cli/demo/installation.xml";

std::string utf8_of(unsigned point) {
  if (point < 0x80) return {static_cast<char>(point)};
  if (point < 0x800) return {static_cast<char>(0xC0 | point >> 6), static_cast<char>(0x80 | (point & 0x3F))};
  return {static_cast<char>(0xE0 | point >> 12), static_cast<char>(0x80 | (point >> 6 & 0x3F)), static_cast<char>(0x80 | (point & 0x3F))};
}

// Lines without a newline that no prompt may take for an answer: around each oddity stand letters that mean nothing.
std::vector<std::string> odd_lines() {
  std::vector<std::string> odd;
  const auto around = [&](const std::string& oddity) { odd.push_back("zq" + oddity + "xj"); };
  for (unsigned c = 0; c < 0x20; ++c) {
    if (c != '\n') around(utf8_of(c));
  }
  for (unsigned c = 0x7F; c < 0xA0; ++c) around(utf8_of(c));
  for (const unsigned bidi : {0x061CU, 0x200EU, 0x200FU, 0x202AU, 0x202BU, 0x202CU, 0x202DU, 0x202EU, 0x2066U, 0x2067U, 0x2068U, 0x2069U}) around(utf8_of(bidi));
  for (const unsigned unseen : {0x200BU, 0x2028U, 0x2029U, 0xFEFFU, 0xFFFEU}) around(utf8_of(unseen));
  for (const char* sequence : {"\x1b[31m", "\x1b[2J", "\x1b[A", "\x1bOP", "\x1b[200~", "\x1b[201~", "\x1b]0;title\x07", "\x1b(0", "\x1bPq#0\x1b\\", "\x1b[6n", "\x1b" "c", "\x1b[", "\x1b[?1049h"}) around(sequence);
  for (const char* broken : {"\xff", "\xfe", "\xc0\x80", "\xed\xa0\x80", "\xf5\x80\x80\x80", "\x80", "\xe2\x82", "\x9b" "31m", "Stra\xdf" "e", "\xe0\x80\xaf"}) around(broken);
  around(std::string("\xff\xfe" "a\0b\0", 6));
  for (const std::size_t length : {4096U, 4097U, 5000U, 100'000U}) odd.emplace_back(length, 'z');
  odd.push_back("zq\b\b\b\bxj\x7f\x7f");
  return odd;
}

// Nothing that could steer a terminal, or turn its line around.
void expect_harmless(const std::string& text, const std::string& what) {
  EXPECT_FALSE(text::first_invalid_utf8(text)) << what;
  for (const auto& character : text::split_characters(text)) {
    const auto safe = character == "\n" || text::printable(character) == character;
    EXPECT_TRUE(safe) << what << ": byte " << static_cast<int>(static_cast<unsigned char>(character[0]));
    if (!safe) return;
  }
}

struct Talk {
  testing::Ran ran;
  std::string record;
};
Talk talk(const std::string& typed, const std::string& name) {
  const auto file = std::filesystem::path(LEADLINE_BINARY_DIR) / ("typed_test_" + name + ".xml");
  std::filesystem::remove(file);
  Talk held{run_program({"diagnose", "--installation", demo_boat, "--record", file.string()}, typed), testing::slurp(file)};
  std::filesystem::remove(file);
  return held;
}

TEST(Typed, OddLinesAreNeitherPrintedNorKeptNorAnswers) {
  const auto odd = odd_lines();
  EXPECT_GE(odd.size(), 100U);
  std::string burst;
  for (const auto& line : odd) burst += line + "\n";
  const std::string complaint = "weak push since the winter\n1\n2\n\n", answers = "1\n1\n840 mV\n";
  const auto clean = talk(complaint + answers + "stop\n", "clean");
  const auto noisy = talk(burst + complaint + burst + answers + burst + "stop\n", "noisy");
  expect_harmless(noisy.ran.out, "standard output");
  expect_harmless(noisy.ran.err, "standard error");
  EXPECT_EQ(noisy.ran.code, clean.ran.code);
  EXPECT_NE(clean.record, "");
  EXPECT_EQ(noisy.record, clean.record);
}

TEST(Typed, ALineOfTenMegabytesIsRefusedAndTheQuestionStands) {
  const auto ran = run_program({"diagnose", "--installation", demo_boat}, std::string(10'000'000, '1') + "\nweak push since the winter\n1\n2\n\nstop\n");
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_LT(ran.out.size(), 20'000U);
}

// Not even out of a command line, a file name or free words.
TEST(Typed, OddArgumentsAreShownHarmless) {
  const auto odd = odd_lines();
  for (std::size_t o = 0; o < odd.size(); ++o) {
    if (odd[o].find('\0') != std::string::npos) continue;  // no argument can hold it
    std::vector<std::vector<std::string>> lines{{odd[o]}, {"rank", "--" + odd[o], "x.xml"}, {"rank", "--width", odd[o], "x.xml"}};
    if (o % 10 == 0) lines.insert(lines.end(), {{"rank", odd[o]}, {"show", odd[o]}, {"find", odd[o]}, {"trial", "--calls", odd[o]}});  // these read the knowledge first
    for (const auto& arguments : lines) {
      const auto ran = run_program(arguments);
      expect_harmless(ran.out + ran.err, arguments.front());
      EXPECT_NE(ran.code, 70) << ran.err;
    }
  }
}

// Every screen that is kept: no colour, no moved cursor, nothing that a screen reader would stumble over. NO_COLOR has nothing to change.
TEST(Typed, NoKeptScreenHoldsAControlCharacter) {
  std::size_t seen = 0;
  for (const std::string folder : {"cases", "tests/golden"}) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator(std::filesystem::path(LEADLINE_SOURCE_DIR) / folder)) {
      if (!entry.path().filename().string().starts_with("expected.")) continue;
      expect_harmless(testing::slurp(entry.path()), entry.path().string());
      ++seen;
    }
  }
  EXPECT_GE(seen, 80U);
}

constexpr std::size_t fewer = testing::one_of(4);

// The input ends before the first, the (1 + step)-th, … line of the answers.
void expect_an_end_at_every_prompt(const std::vector<std::string>& arguments, const std::string& typed, std::size_t step) {
  std::size_t prompts = 0;
  std::string so_far;
  std::istringstream lines(typed);
  for (std::string line; std::getline(lines, line); so_far += line + "\n", ++prompts) {
    if (prompts % step != 0) continue;
    const auto ran = run_program(arguments, so_far);
    EXPECT_TRUE(ran.code == 0 || ran.code == 1 || ran.code == 66) << prompts << ": " << ran.code << ran.err;
    EXPECT_NE(ran.out.find("How far this reaches:"), std::string::npos) << prompts;
    std::size_t shown = 0;
    for (auto at = ran.out.find("\n> "); at != std::string::npos; at = ran.out.find("\n> ", at + 1)) ++shown;
    EXPECT_LE(shown, prompts + 1) << "a prompt is repeated after the end of the input";
  }
  EXPECT_GE(prompts, 8U);
}

TEST(Typed, EndOfInputEndsATechniciansTalkAtEveryPrompt) {
  expect_an_end_at_every_prompt({"diagnose", "--installation", demo_boat}, testing::slurp(LEADLINE_SOURCE_DIR "/cli/demo/answers.txt"), fewer);
}

// Thirty-eight lines, a second or three each: every fifth.
TEST(Typed, EndOfInputEndsAnOwnersTalkAtPromptsOfEveryKind) {
  expect_an_end_at_every_prompt({"diagnose", "--role", "owner"}, testing::slurp(LEADLINE_SOURCE_DIR "/tests/golden/owner-by-telephone/typed.txt"), 5 * fewer);
}

}  // namespace
}  // namespace leadline
