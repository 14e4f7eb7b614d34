#pragma once
// From a complaint in free words to the findings it may mean. Words are stemmed (Snowball English, libstemmer) and weighed by
// how few findings use them; the synonyms are those of <words>, which weigh more when said as a whole. A slip of one letter is
// forgiven, and "doesn't" is "no". Measured: docs/finder.md. Tested by tests/knowledge/finder_test.cpp.
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/knowledge/knowledge_base.h"

namespace leadline::knowledge {

struct Match {
  Ref<Finding> finding;
  std::optional<std::size_t> state;  // the abnormal state whose words fit best, when one does
  double score = 0;                  // higher fits better; only the order means anything
};

class Finder {
 public:
  explicit Finder(const KnowledgeBase& base);

  // Best first, at most `most`; empty when no word is known. Ties: the order of the knowledge base.
  std::vector<Match> find(std::string_view words, std::size_t most = 8) const;

 private:
  struct Entry {
    Ref<Finding> finding;
    bool complaint;
    std::map<std::string, double, std::less<>> weights;  // of the stems of title, questions and <words>
    std::vector<std::vector<std::string>> phrases;       // each of <words>, its stems sorted
    std::vector<std::vector<std::string>> state_stems;   // of each state's words
    std::vector<std::string> title_stems;
  };
  // The abnormal state that the words speak of, beyond what the normal state says; what the title says as well counts little.
  std::optional<std::size_t> state_said(const Entry& entry, const std::vector<std::string>& asked) const;
  double rarity(std::string_view stem) const;
  std::vector<std::string> known_stems(std::string_view words) const;
  std::optional<std::string> slip_of(const std::string& stem) const;  // the known stem that was meant
  double shared_rarity(const std::vector<std::string>& stems, const std::vector<std::string>& asked) const;
  double own_words(const Entry& entry, const std::vector<std::string>& asked) const;

  std::vector<Entry> entries_;
  std::vector<std::string> vocabulary_;                  // sorted
  std::vector<double> rarity_;                           // of vocabulary_, in the same order
};

}  // namespace leadline::knowledge
