// The finder before 200 sentences as owners say them on the phone, written before it had seen one: tests/knowledge/lay-sentences.txt.
#include <gtest/gtest.h>

#include <fstream>
#include <iostream>
#include <sstream>

#include "engine/knowledge/finder.h"
#include "tests/circuit/shipped_base.h"

namespace leadline::knowledge {
namespace {

struct Sentence {
  std::string finding, state, words;
};

std::vector<Sentence> sentences() {
  std::vector<Sentence> rows;
  std::ifstream in(std::string(LEADLINE_SOURCE_DIR) + "/tests/knowledge/lay-sentences.txt");
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream cells(line);
    Sentence row;
    std::getline(cells, row.finding, '\t');
    std::getline(cells, row.state, '\t');
    std::getline(cells, row.words);
    rows.push_back(std::move(row));
  }
  return rows;
}

struct Score {
  int sentences = 0, first = 0, in_five = 0, with_state = 0;  // with_state: of the first, how many name the state too
};

// Odd rows tune, even rows only measure.
Score score_of(const KnowledgeBase& base, bool odd) {
  const Finder finder(base);
  const auto rows = sentences();
  Score score;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if ((i % 2 == 0) != odd) continue;
    ++score.sentences;
    const auto matches = finder.find(rows[i].words, 5);
    std::string shown;
    std::size_t place = 0;
    for (std::size_t k = 0; k < matches.size(); ++k) {
      const auto& finding = base[matches[k].finding];
      shown += " " + finding.id;
      if (finding.id != rows[i].finding) continue;
      place = k + 1;
      if (k == 0 && matches[k].state && finding.states[*matches[k].state].id == rows[i].state) ++score.with_state;
    }
    score.first += place == 1 ? 1 : 0;
    score.in_five += place > 0 ? 1 : 0;
    if (place != 1) std::cout << "  place " << place << ": \"" << rows[i].words << "\" means " << rows[i].finding << ", found:" << shown << "\n";
  }
  std::cout << (odd ? "tuned: " : "measured: ") << score.first << " first, " << score.in_five << " in five, " << score.with_state << " first with the right state, of "
            << score.sentences << "\n";
  return score;
}

TEST(LaySentences, FindTheirSymptom) {
  for (const bool odd : {true, false}) {
    const auto score = score_of(testing::shipped_base(), odd);
    EXPECT_EQ(score.sentences, 100);
  }
}

}  // namespace
}  // namespace leadline::knowledge
