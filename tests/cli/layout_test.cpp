// Wrapping, ASCII fallback, and pages at every width.
#include "cli/layout.h"

#include <gtest/gtest.h>

#include <sstream>

#include "engine/text/utf8.h"
#include "tests/cli/in_process.h"

namespace leadline::cli {
namespace {

TEST(Wrapped, BreaksAtWordsAndHangsTheRest) {
  EXPECT_EQ(wrapped("one two three four", 12, "- ", "  "), "- one two\n  three four\n");
}

TEST(Wrapped, CutsAWordThatIsLongerThanTheRoom) {
  EXPECT_EQ(wrapped("abcdefghij", 4), "abcd\nefgh\nij\n");
}

TEST(Wrapped, CountsCharactersNotBytes) {
  EXPECT_EQ(wrapped("ΩΩΩ ΩΩΩ", 7), "ΩΩΩ ΩΩΩ\n");
}

TEST(Wrapped, MakesControlCharactersHarmless) {
  EXPECT_EQ(wrapped("a\x1b[31mb", 40), "a?[31mb\n");
}

TEST(Ascii, SpellsOutTheSignsOfTheTrade) {
  const auto plain = ascii("60 Ω, 20 °C, “so” – don’t");
  for (const char c : plain) EXPECT_LT(static_cast<unsigned char>(c), 128) << plain;
  EXPECT_NE(plain.find("ohm"), std::string::npos) << plain;
}

TEST(Pages, NoLineIsWiderThanAsked) {
  for (const char* width : {"40", "60", "80", "120"}) {
    for (const std::string id : {"upper-half-tap", "measure-network-supply", "remake-lug", "push"}) {
      const auto ran = testing::run_program({"show", id, "--width", width});
      std::istringstream lines(ran.out);
      for (std::string line; std::getline(lines, line);) EXPECT_LE(text::character_count(line), std::stoul(width)) << line;
    }
  }
}

}  // namespace
}  // namespace leadline::cli
