// How each kind of question takes its answer. Tested by tests/cli/commands_test.cpp and the golden call-outs.
#include <algorithm>
#include <array>
#include <cmath>

#include "cli/conversation.h"
#include "cli/phrases.h"
#include "engine/markup/element.h"
#include "engine/text/number.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

using knowledge::Fact;
using knowledge::FactType;

constexpr std::size_t most_matches = 5;

// A number from 1 to `count`, as an index.
std::optional<std::size_t> choice_of(std::string_view typed, std::size_t count) {
  const auto number = text::parse_number(normalised(typed));
  if (!number || *number < 1 || *number > static_cast<double>(count) || *number != std::floor(*number)) return std::nullopt;
  return static_cast<std::size_t>(*number) - 1;
}

struct UnitWords {
  std::string_view unit;
  std::array<std::string_view, 6> words;  // as people type them, in lower case
};
constexpr std::array<UnitWords, 7> unit_words{{{"V", {"volts", "volt", "vdc", "v"}},
                                               {"A", {"amperes", "ampere", "amps", "amp", "a"}},
                                               {"Ah", {"amp hours", "ampere hours", "ah"}},
                                               {"m", {"metres", "meters", "metre", "meter", "m"}},
                                               {"mm2", {"square millimetres", "sq mm", "sqmm", "mm\u00B2", "mm^2", "mm2"}},
                                               {"ohm", {"ohms", "ohm", "\u03A9", "\u2126"}},
                                               {"year", {"years", "year", "yr"}}}};

std::string without_unit(const std::string& word, const std::string& unit) {
  const auto cut = [&](std::string_view end) { return !end.empty() && word.size() > end.size() && word.ends_with(end); };
  for (const auto& known : unit_words) {
    for (const auto end : known.words) {
      if (known.unit == unit && cut(end)) return markup::fold_blanks(word.substr(0, word.size() - end.size()));
    }
  }
  const auto plain = normalised(unit);
  return cut(plain) ? markup::fold_blanks(word.substr(0, word.size() - plain.size())) : word;
}

// "24 V", "24,0", "24 volts" -> "24".
std::optional<std::string> number_of_fact(const Fact& fact, std::string word) {
  word = without_unit(word, fact.unit);
  std::replace(word.begin(), word.end(), ',', '.');
  const auto number = text::parse_number(word);
  return number ? std::optional(text::format_number(*number, 6)) : std::nullopt;
}

std::optional<std::string> choice_of_fact(const Fact& fact, const std::string& word) {
  if (const auto at = choice_of(word, fact.choices.size())) return fact.choices[*at].id;
  for (const auto& choice : fact.choices) {
    if (word == choice.id || word == normalised(choice.words)) return choice.id;
  }
  if (fact.choices.size() == 2 && fact.choices[0].id == "yes" && (word == "y" || word == "n")) return word == "y" ? "yes" : "no";
  std::vector<std::string> choices;
  for (const auto& choice : fact.choices) choices.push_back(choice.words);
  const auto meant = diagnosis::choice_meant(choices, word);
  return meant ? std::optional(fact.choices[*meant].id) : std::nullopt;
}

std::string expected_of(const Fact& fact, const std::string& assumed) {
  const auto unit = fact.unit.empty() ? "" : " " + fact.unit;
  if (fact.type == FactType::choice) return "a number from 1 to " + std::to_string(fact.choices.size()) + ", or Enter for '" + value_words(fact, assumed) + "'";
  if (fact.type == FactType::text) return "a name, or Enter for '" + assumed + "'";
  std::string expected = "a number";
  if (!fact.choices.empty()) {
    expected = "one of";
    for (const auto& choice : fact.choices) expected += " " + choice.id;
  } else if (fact.least && fact.most) {
    expected += " from " + text::format_number(*fact.least, 3) + " to " + text::format_number(*fact.most, 3);
  }
  return expected + unit + ", or Enter for " + assumed + unit;
}

std::optional<Refused> out_of_range(const knowledge::Finding& finding, const diagnosis::Observed& observed, const installation::Installation& boat) {
  const auto* reading = std::get_if<diagnosis::Reading>(&observed);
  if (reading == nullptr) return std::nullopt;
  const auto range = diagnosis::range_left(*reading, *finding.unit, installation::attribute_at(boat.root(), "bank/@volts").as_double());
  if (range.empty()) return std::nullopt;
  return Refused{"'" + text::printable(reading->written) + "' cannot be right.", diagnosis::expected_form(finding) + "; " + range};
}

// Replaces what was said of the finding since the last remedy; what was said before it stays as it was.
void put(Progress& progress, const diagnosis::Answer& answer) {
  const auto first = progress.remedies.empty() ? 0 : progress.remedies.back().after;
  const auto from = progress.answers.begin() + static_cast<std::ptrdiff_t>(first);
  const auto same = std::find_if(from, progress.answers.end(), [&](const auto& a) { return a.finding == answer.finding; });
  if (same == progress.answers.end()) progress.answers.push_back(answer);
  else *same = answer;
}

}  // namespace

Reply Conversation::answer(std::string_view typed) {
  const bool unsafe = says_not_safe(typed);
  if (unsafe && of_a_step()) return leave_out();
  if (unsafe && question_.asks == Asks::finding) return later();
  switch (question_.asks) {
    case Asks::fact: return take_fact(typed);
    case Asks::complaint: return take_complaint(typed);
    case Asks::match: return take_match(typed);
    case Asks::finding: return take_finding(typed);
    case Asks::part: return take_part(typed);
    case Asks::remedy: return take_remedy(typed);
    case Asks::other_step: return take_other_step(typed);
    case Asks::call_in: return take_call_in(typed);
    case Asks::nothing: break;
  }
  return Refused{"Nothing is asked any more.", ""};
}

Reply Conversation::take_fact(std::string_view typed) {
  const auto fact = fact_in_question();
  const auto assumed = assumed_for(fact);
  const auto word = normalised(typed);
  auto next = now_;
  next.settled.push_back(question_.index);
  if (word.empty() || says_cannot_tell(word) || says_not_fitted(word)) return commit(std::move(next), "Taken as '" + value_words(fact, assumed) + "' (assumed).");
  auto value = std::optional(std::string(typed));
  if (fact.type == FactType::choice) value = choice_of_fact(fact, word);
  if (fact.type == FactType::number) value = number_of_fact(fact, word);
  const auto quoted = "'" + text::printable(markup::fold_blanks(typed)) + "'";
  if (!value) return Refused{quoted + " does not answer this.", expected_of(fact, assumed)};
  if (!installation::why_not(fact, *value).empty()) return Refused{quoted + " is not possible here.", expected_of(fact, assumed)};
  next.stated.push_back({fact.path(), *value});
  return commit(std::move(next), "Noted: " + value_words(fact, *value) + ".");
}

Reply Conversation::take_complaint(std::string_view typed) {
  const auto word = normalised(typed);
  if (word.empty() || says_cannot_tell(word) || says_not_fitted(word)) {
    auto next = now_;
    next.complaint_told = true;
    next.told = now_.answers.size();
    return commit(std::move(next), now_.answers.empty() ? "No complaint noted: we start from what is most common." : "");
  }
  const auto known = complaints();
  if (const auto at = choice_of(word, known.size())) return pick_complaint(known[*at], std::nullopt);
  if (text::parse_number(word)) {
    return Refused{"There is no complaint of that number.",
                   "a few words, a number from 1 to " + std::to_string(known.size()) + " of the list ('list' shows it), or Enter when done"};
  }
  return search(typed);
}

Reply Conversation::search(std::string_view words) {
  auto matches = finder_.find(words, base_.findings.size());
  std::erase_if(matches, [&](const auto& m) { return !base_[m.finding].complaint || !assessment_->boat().finding_applies[m.finding.index]; });
  if (matches.empty()) {
    return Refused{"None of these words is known here.", "other words (for instance 'no push', 'clicks', 'panel dark'), 'list' and a number, or Enter to go on"};
  }
  matches.resize(std::min(matches.size(), most_matches));
  auto next = now_;
  next.offered = std::move(matches);
  return commit(std::move(next), "");
}

Reply Conversation::take_match(std::string_view typed) {
  const auto word = normalised(typed);
  if (word.empty() || word == "none" || word == "no" || word == "0" || says_cannot_tell(word) || says_not_fitted(word)) {
    auto next = now_;
    next.offered.clear();
    return commit(std::move(next), "None of these.");
  }
  if (const auto at = choice_of(word, now_.offered.size())) return pick_complaint(now_.offered[*at].finding, now_.offered[*at].state);
  if (text::parse_number(word)) {
    const auto count = now_.offered.size();
    return Refused{"There is no line of that number.", (count == 1 ? std::string("1") : "a number from 1 to " + std::to_string(count)) + ", other words, or Enter for none of these"};
  }
  return search(typed);
}

Reply Conversation::pick_complaint(knowledge::Ref<knowledge::Finding> finding, std::optional<std::size_t> state) {
  auto next = now_;
  next.offered.clear();
  // With one abnormal state the choice settles it; with several the words of the owner only suggest one.
  const bool settles = state && base_[finding].states.size() == 2;
  if (!settles) {
    next.to_settle = finding;
    next.guess = state;
    return commit(std::move(next), "");
  }
  const diagnosis::Answer answer{finding, diagnosis::Seen{*state}, record_.role};
  put(next, answer);
  return commit_answer(std::move(next), answer);
}

// By the words of the state, or by a phrase of the finding that stands in them: "it is on fire".
const knowledge::AtOnce* Conversation::danger_in(std::string_view words) const {
  const auto matches = finder_.find(words, 1);
  if (matches.empty()) return nullptr;
  const auto& finding = base_[matches.front().finding];
  const auto state = matches.front().state;
  const auto said = " " + normalised(words) + " ";
  const bool phrase = std::any_of(finding.words.begin(), finding.words.end(), [&](const auto& known) { return said.find(" " + normalised(known) + " ") != std::string::npos; });
  for (const auto& told : finding.at_once) {
    if (state ? std::binary_search(told.states.begin(), told.states.end(), *state) : phrase) return &told;
  }
  return nullptr;
}

// What the caller's own words come nearest to is named, never taken: "not weak" is near "weak".
std::string Conversation::meant_perhaps(std::string_view words) const {
  if (!by_phone()) return "";
  for (const auto& match : finder_.find(words, base_.findings.size())) {
    if (match.finding.index != question_.index || !match.state) continue;
    return ". By his words perhaps " + std::to_string(*match.state + 1) + ", " + base_[match.finding].states[*match.state].words;
  }
  return "";
}

Reply Conversation::take_finding(std::string_view typed) {
  const auto& finding = base_.findings[question_.index];
  auto next = now_;
  if (now_.again) next.again.reset();   // the question that was open before it still is
  else next.to_settle.reset();
  if (typed.empty() && now_.again) return commit(std::move(next), "The answer stays as it was.");
  const auto suggested = now_.to_settle && !now_.again && now_.guess ? std::to_string(*now_.guess + 1) : "";
  if (typed.empty() && now_.to_settle && suggested.empty()) return commit(std::move(next), "Left open.");
  if (typed.empty() && now_.proving && now_.said_gone) typed = "1";
  if (typed.empty()) typed = suggested;
  auto parsed = diagnosis::parse_answer(finding, typed);
  // "can't tell?", "no push at all!": what people type at the end of a sentence is no part of the answer.
  const bool plain_helps = std::holds_alternative<diagnosis::NotUnderstood>(parsed) && !finding.is_reading();
  if (plain_helps || says_cannot_tell(typed) || says_not_fitted(typed)) parsed = diagnosis::parse_answer(finding, normalised(typed));
  if (const auto* wrong = std::get_if<diagnosis::NotUnderstood>(&parsed)) return Refused{text::printable(wrong->why) + ".", wrong->expected + ", or can't tell" + meant_perhaps(typed)};
  const auto& observed = std::get<diagnosis::Observed>(parsed);
  if (auto refused = out_of_range(finding, observed, record_.installation)) return *refused;
  const diagnosis::Answer answer{{question_.index}, observed, record_.role};
  if (now_.again) next.answers[*now_.again] = answer;
  else put(next, answer);
  if (now_.in_hand && of_a_step()) {
    std::erase_if(next.waiting, [&](const auto& r) { return r.check == base_[now_.in_hand->check].id; });
    next.standing = planning::after(planning::doing_of(base_[now_.in_hand->check].effort, job().now), now_.standing);
  }
  return commit_answer(std::move(next), answer);
}

Reply Conversation::take_part(std::string_view typed) {
  const auto word = normalised(typed);
  auto next = now_;
  if (says_cannot_tell(word) || says_not_fitted(word)) {
    next.search_ended = true;
    return commit(std::move(next), "We part the run no further.");
  }
  const auto side = choice_of(word, 2);
  if (!side) return Refused{"'" + text::printable(word) + "' does not say which side.", "1 or 2; 'later' to mend without parting further"};
  next.parted.push_back({search_->cuts.front().index, *side == 0});
  next.standing = planning::after(planning::doing_of(base_[search_->how].effort, job().now), now_.standing);
  return commit(std::move(next), "Noted.");
}

// Done: what is seen from here on speaks of the boat after it.
Reply Conversation::take_remedy(std::string_view typed) {
  const auto word = normalised(typed);
  const auto says = [&](std::initializer_list<std::string_view> forms) { return std::find(forms.begin(), forms.end(), word) != forms.end(); };
  const bool gone = says({"1", "gone", "the trouble is gone", "cured"}), same = says({"2", "still there", "the trouble is still there", "same"});
  const bool other = says({"3", "different", "different now", "it is different now"});
  if (says_cannot_tell(word) || says_not_fitted(word)) return later();
  if (!gone && !same && !other) {
    const auto why = word.empty() ? std::string("A remedy counts when it was done.") : "'" + text::printable(word) + "' does not answer this.";
    return Refused{why, "1, 2 or 3 once it is done; 'later' or 'other' when it is not"};
  }
  auto next = now_;
  const auto& remedy = base_[now_.in_hand->remedy];
  const auto complaint = callout::complaint_of(base_, record_);
  next.remedies.push_back({now_.in_hand->remedy, now_.answers.size()});
  next.standing = planning::after(planning::doing_of(remedy.effort, job().now), now_.standing);
  next.in_hand.reset();
  next.parted.clear();
  next.search_ended = false;
  next.going_on = false;
  next.proving = !same;
  next.said_gone = gone;
  // Only what the call was about is "still there": a switch that a check found off was just switched on.
  for (const auto& symptom : complaint) {
    const auto first = now_.answers.begin(), last = first + static_cast<std::ptrdiff_t>(now_.told);
    const bool told = std::any_of(first, last, [&](const auto& a) { return a.finding == symptom.finding; });
    if (same && told) next.answers.push_back({symptom.finding, symptom.observed, record_.role});
  }
  const auto what_now = same ? ". The trouble is still there." : complaint.empty() ? ". No complaint was noted: the repair cannot be proved by it." : ". Now the trouble itself, looked at again:";
  return commit(std::move(next), "Done: " + remedy.title + what_now);
}

Reply Conversation::take_other_step(std::string_view typed) {
  const auto others = other_steps();
  auto next = now_;
  next.choosing = false;
  next.wanted.clear();
  const auto word = normalised(typed);
  if (word.empty() || says_cannot_tell(word) || says_not_fitted(word)) return commit(std::move(next), "We stay with what was proposed.");
  const auto at = choice_of(word, others.size());
  if (!at && !text::parse_number(word)) {
    if (word != all_word && steps_beside(word).empty()) {
      return Refused{"No other check or remedy that is worth asking for now has '" + text::printable(word) + "' in it.", "other words, a number of the list, 'all', or Enter to stay with what was proposed"};
    }
    next.choosing = true;
    next.wanted = word;
    return commit(std::move(next), "");
  }
  if (!at) {
    return Refused{"'" + text::printable(word) + "' is no number of the list.", "a number from 1 to " + std::to_string(others.size()) + ", words, or Enter to stay with what was proposed"};
  }
  next.in_hand = others[*at];
  next.parted.clear();
  next.search_ended = false;
  return commit(std::move(next), "");
}

Reply Conversation::take_call_in(std::string_view typed) {
  const auto word = normalised(typed);
  const bool more = !other_steps().empty();
  auto next = now_;
  if (word.empty() || word == "1" || word == "yes" || word == "y" || (!more && says_cannot_tell(word))) {
    next.ending = Ending::called_in;
    return commit(std::move(next), "");
  }
  if (more && (word == "2" || word == "go on" || word == "no" || word == "n" || says_cannot_tell(word))) {
    next.going_on = true;
    next.in_hand.reset();
    return commit(std::move(next), "We go on.");
  }
  return Refused{"'" + text::printable(word) + "' is no number of the list.", more ? "1 to end here (or Enter), 2 to go on" : "1 to end here (or Enter)"};
}

}  // namespace leadline::cli
