// Texts as words; what the program itself reads of a record.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "engine/audit/unused.h"
#include "engine/audit/words.h"

namespace leadline {
namespace {

using audit::word_set;

TEST(Words, AreRunsOfLettersInLowerCase) {
  const auto words = audit::words_of("The boat's 24V bank: see-saw, don't.");
  std::vector<std::string> letters;
  for (const auto& word : words) letters.push_back(word.letters);
  EXPECT_EQ(letters, (std::vector<std::string>{"the", "boat's", "bank", "see", "saw", "don't"}));
  EXPECT_EQ(words[2].offset, 15U);
}

TEST(Words, AlikeIsTheShareOfSharedWords) {
  EXPECT_DOUBLE_EQ(audit::alike(word_set("red fuse blown"), word_set("Fuse blown, red")), 1);
  EXPECT_DOUBLE_EQ(audit::alike(word_set("red fuse"), word_set("blue fuse")), 1.0 / 3);
  EXPECT_DOUBLE_EQ(audit::alike(word_set(""), word_set("")), 0);
}

// The list is by hand: a fact on it that no source of the engine names any more would hide one that nothing uses.
TEST(FactsOfTheProgram, AreNamedInItsSources) {
  std::string sources;
  for (const auto* room : {"circuit", "installation"}) {
    for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(LEADLINE_SOURCE_DIR) / "engine" / room)) {
      std::ostringstream content;
      content << std::ifstream(entry.path()).rdbuf();
      sources += content.str();
    }
  }
  for (const auto path : audit::facts_of_the_program) {
    const auto name = std::string(path.substr(path.find('@') + 1));
    EXPECT_TRUE(sources.find("\"" + std::string(path) + "\"") != std::string::npos || sources.find("\"" + name + "\"") != std::string::npos) << path;
  }
}

}  // namespace
}  // namespace leadline
