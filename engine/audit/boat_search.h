#pragma once
// Which boats can be: a search for a record in which conditions hold together, among all that the facts they name allow.
// Tested by tests/audit/boat_search_test.cpp.
#include <map>
#include <memory>
#include <vector>

#include "engine/installation/evaluation.h"

namespace leadline::audit {

using Conditions = std::vector<const knowledge::Expression*>;

// Absent conditions hold always and are left out.
Conditions together(std::initializer_list<const std::optional<knowledge::Expression>*> conditions);

class BoatSearch {
 public:
  // Requires: `base` outlives it.
  explicit BoatSearch(const knowledge::KnowledgeBase& base);

  // A boat in which all of them hold; null when none was found. Of facts with choices every choice is tried, of numbers those the conditions name and
  // their neighbours, the ends of the range and some between; of elements that repeat one to three.
  const installation::Evaluation* where(const Conditions& conditions) const;
  // No boat is like that. False where there were too many to try all.
  bool never(const Conditions& conditions) const;
  // Every boat is like that. False where there were too many to try all.
  bool always(const knowledge::Expression& condition) const;

 private:
  struct Found {
    const installation::Evaluation* boat = nullptr;
    bool tried_all = true;
  };
  // `wanted`: whether the conditions must all hold, or not all of them.
  const Found& search(const Conditions& conditions, bool wanted) const;
  Found try_all(const Conditions& conditions, bool wanted) const;
  bool fits(const installation::Evaluation& boat, const Conditions& conditions, bool wanted) const;

  const knowledge::KnowledgeBase& base_;
  mutable std::vector<std::unique_ptr<installation::Evaluation>> known_;  // boats that fitted some conditions, tried first; the usual one leads
  mutable std::vector<std::unique_ptr<installation::Evaluation>> kept_;   // those found when that list was full
  mutable std::map<std::string, Found> answers_;
};

}  // namespace leadline::audit
