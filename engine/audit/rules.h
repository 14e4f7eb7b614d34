#pragma once
// The rules of the audit: each looks at the whole book and adds what it has to say. Internal to the room; what they mean: docs/audit.md.
#include <functional>

#include "engine/audit/pages.h"
#include "engine/audit/remark.h"
#include "engine/audit/shown.h"

namespace leadline::audit {

// What the rules look at.
struct Book {
  const knowledge::KnowledgeBase& base;
  std::span<const text::Source> sources;
  const Pages& pages;
  const BoatSearch& boats;
  const std::vector<Sample>& samples;
  const Shown& shown;
};

// Can it be in any boat, and can anybody see, tell and mend it? reach_rules.cpp
void conditions_that_never_hold(const Book& book, Remarks& remarks);
void causes_out_of_reach(const Book& book, Remarks& remarks);
void findings_without_cause(const Book& book, Remarks& remarks);
void checks_and_proofs_that_tell_nothing(const Book& book, Remarks& remarks);
// Does a state hide what it should not? order_rules.cpp
bool says_normal(const std::string& id);   // "normal", "as-usual", …
void states_in_wrong_order(const Book& book, Remarks& remarks);
// Is everybody safe and addressed in his words? people_rules.cpp
void dangers_without_precaution(const Book& book, Remarks& remarks);
void lay_wording_missing(const Book& book, Remarks& remarks);
// chance_rules.cpp
void rules_against_the_circuit(const Book& book, Remarks& remarks);
void causes_nobody_notices(const Book& book, Remarks& remarks);
void frequencies_that_do_not_add_up(const Book& book, Remarks& remarks);
void confusions_without_ground(const Book& book, Remarks& remarks);
// Is one thing in the book twice? likeness_rules.cpp
void pages_much_alike(const Book& book, Remarks& remarks);
// spelling_rules.cpp
void words_misspelt(const Book& book, Remarks& remarks);
// What nothing refers to, and what has no source. unused_rules.cpp
void things_unused(const Book& book, Remarks& remarks);
void things_without_source(const Book& book, Remarks& remarks);

}  // namespace leadline::audit
