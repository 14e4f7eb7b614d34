#pragma once
// What a person says to a question, before it becomes evidence. Tested by tests/diagnosis/answer_test.cpp.
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "engine/diagnosis/reading.h"
#include "engine/knowledge/knowledge_base.h"

namespace leadline::diagnosis {

struct Seen { std::size_t state = 0; friend bool operator==(const Seen&, const Seen&) = default; };   // a state in words
struct CannotTell { friend bool operator==(const CannotTell&, const CannotTell&) = default; };         // changes nothing
struct NotFitted { friend bool operator==(const NotFitted&, const NotFitted&) = default; };            // nothing there to be observed; changes nothing

using Observed = std::variant<Seen, Reading, CannotTell, NotFitted>;

struct Answer {
  knowledge::Ref<knowledge::Finding> finding;
  Observed observed;
  knowledge::Who by = knowledge::Who::technician;  // an owner's word is less sharp than a technician's
  friend bool operator==(const Answer&, const Answer&) = default;
};

// The answer in words, for the screen: "dead", "24.6 V", "cannot tell".
std::string in_words(const knowledge::Finding& finding, const Observed& observed);

// A typed answer to the question of one finding: a state by number ("2"), by its id or words, or by the first or any words of it that no other state has
// so (never behind a "not" of that state), a reading with its unit,
// "can't tell", "not fitted". Otherwise what is wrong and what is expected.
struct NotUnderstood { std::string why, expected; };
std::variant<Observed, NotUnderstood> parse_answer(const knowledge::Finding& finding, std::string_view typed);

// The choice that is meant by some words of it: the only one that begins with them or, when none or several do, the only one that holds them all in any order
// ("the front one": "the one at the front"). What a choice denies is not held by it: "weak" is never "not weak". Four letters of a word will do.
std::optional<std::size_t> choice_meant(const std::vector<std::string>& choices, std::string_view typed);

// The form an answer to this finding takes, in one line: "a number with its unit, for instance 24.6 V".
std::string expected_form(const knowledge::Finding& finding);

}  // namespace leadline::diagnosis
