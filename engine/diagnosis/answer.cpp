#include "engine/diagnosis/answer.h"

#include <algorithm>
#include <array>

#include "engine/markup/element.h"
#include "engine/text/number.h"
#include "engine/text/spelling.h"

namespace leadline::diagnosis {

namespace {

using knowledge::Finding;

// Lower case, typographic apostrophes made plain.
std::string normalised(std::string_view typed) {
  std::string out;
  for (std::size_t at = 0; at < typed.size(); ++at) {
    if (typed.substr(at).starts_with("\xE2\x80\x99")) {
      out += '\'';
      at += 2;
    } else {
      out += typed[at] >= 'A' && typed[at] <= 'Z' ? static_cast<char>(typed[at] + 32) : typed[at];
    }
  }
  return markup::fold_blanks(out);
}

template <std::size_t n>
bool one_of(const std::string& word, const std::array<std::string_view, n>& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

constexpr std::array<std::string_view, 15> cannot_tell_words{"idk", "can't tell", "cant tell", "cannot tell", "cannot-tell", "can not tell", "don't know", "dont know",
                                                             "do not know", "dunno", "unknown", "no idea", "not sure", "can't measure", "cannot measure"};
constexpr std::array<std::string_view, 6> not_fitted_words{"not fitted", "not-fitted", "none fitted", "not there", "n/a", "no such thing"};

std::vector<std::string> words_of(const std::string& sentence) {
  std::vector<std::string> words(1);
  for (const char c : sentence) {
    if (c != ' ' && c != ',' && c != ';' && c != ':' && c != '(' && c != ')') words.back() += c;
    else if (!words.back().empty()) words.emplace_back();
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

bool turns_round(const std::string& word) {
  constexpr std::array<std::string_view, 8> negations{"no", "not", "never", "none", "nothing", "without", "neither", "nobody"};
  return one_of(word, negations) || word.ends_with("n't");
}

// "click" and "clicks", never "on" and "only".
bool same_word(const std::string& typed, const std::string& word) {
  constexpr std::size_t fewest_letters = 4;
  return typed == word || (typed.size() >= fewest_letters && word.starts_with(typed));
}

bool is_filler(const std::string& word) {
  constexpr std::array<std::string_view, 14> fillers{"the", "a", "an", "one", "at", "in", "on", "it", "it's", "its", "is", "of", "to", "and"};
  return one_of(word, fillers);
}

using Words = std::vector<std::string>;

// A bare "no" says nothing of "no rest was needed".
bool is_bare_denial(const Words& typed) { return typed.size() == 1 && turns_round(typed.front()); }

bool begins_with(const Words& choice, const Words& typed) { return choice.size() >= typed.size() && std::equal(typed.begin(), typed.end(), choice.begin(), same_word); }

// All of them, in any order; what a choice denies, all that stands behind its "not", is not held by it, unless the denial was typed.
bool holds(Words choice, const Words& typed) {
  const bool denial_typed = std::any_of(typed.begin(), typed.end(), turns_round);
  if (!denial_typed) choice.erase(std::find_if(choice.begin(), choice.end(), turns_round), choice.end());
  return std::all_of(typed.begin(), typed.end(), [&](const auto& word) { return std::any_of(choice.begin(), choice.end(), [&](const auto& there) { return same_word(word, there); }); });
}

std::optional<std::size_t> state_named(const Finding& finding, const std::string& word) {
  for (std::size_t s = 0; s < finding.states.size(); ++s) {
    if (word == finding.states[s].id || word == normalised(finding.states[s].words)) return s;
  }
  std::vector<std::string> choices;
  for (const auto& state : finding.states) choices.push_back(state.words);
  return choice_meant(choices, word);
}

std::string state_choices(const Finding& finding) {
  std::string known;
  for (std::size_t s = 0; s < finding.states.size(); ++s) known += (s == 0 ? "" : ", ") + std::to_string(s + 1) + " " + finding.states[s].id;
  return known;
}

std::variant<Observed, NotUnderstood> parse_state(const Finding& finding, const std::string& word) {
  if (const auto number = text::parse_number(word)) {
    const bool listed = *number >= 1 && *number <= static_cast<double>(finding.states.size());  // looked at first: the cast needs it
    if (listed && *number == static_cast<double>(static_cast<std::size_t>(*number))) return Observed{Seen{static_cast<std::size_t>(*number) - 1}};
    return NotUnderstood{"'" + word + "' is no number of the list", expected_form(finding)};
  }
  if (const auto state = state_named(finding, word)) return Observed{Seen{*state}};
  const auto near = text::closest(word, knowledge::ids_of(finding.states));
  return NotUnderstood{"'" + word + "' is none of the choices" + (near ? "; did you mean '" + *near + "'?" : ""), expected_form(finding)};
}

std::variant<Observed, NotUnderstood> parse_measured(const Finding& finding, std::string_view typed) {
  const auto reading = parse_reading(typed, *finding.unit);
  if (reading) return Observed{*reading};
  return NotUnderstood{"'" + markup::fold_blanks(typed) + "' is no reading in " + std::string(knowledge::name_of(*finding.unit)), expected_form(finding)};
}

}  // namespace

std::optional<std::size_t> choice_meant(const std::vector<std::string>& choices, std::string_view typed) {
  auto words = words_of(normalised(typed));
  if (std::all_of(words.begin(), words.end(), is_filler)) return std::nullopt;
  const auto only = [&](const auto& fits) {
    std::optional<std::size_t> found;
    for (std::size_t c = 0; c < choices.size(); ++c) {
      if (!fits(normalised(choices[c]))) continue;
      if (found) return std::optional<std::size_t>();
      found = c;
    }
    return found;
  };
  if (is_bare_denial(words)) return only([&](const std::string& choice) { return choice == words.front() || choice.starts_with(words.front() + ","); });
  if (const auto begun = only([&](const std::string& choice) { return begins_with(words_of(choice), words); })) return begun;
  std::erase_if(words, is_filler);
  const bool too_little = words.empty() || (words.size() == 1 && words.front().size() < 3);
  return too_little ? std::nullopt : only([&](const std::string& choice) { return holds(words_of(choice), words); });
}

std::string in_words(const Finding& finding, const Observed& observed) {
  if (const auto* seen = std::get_if<Seen>(&observed)) return finding.states[seen->state].words;
  if (std::holds_alternative<CannotTell>(observed)) return "cannot tell";
  if (std::holds_alternative<NotFitted>(observed)) return "not fitted";
  const auto& reading = std::get<Reading>(observed);
  const bool has_unit = reading.written.find_first_not_of("+-0123456789., ") != std::string::npos;
  return reading.written + (has_unit ? "" : " " + std::string(knowledge::name_of(*finding.unit)));
}

std::string expected_form(const Finding& finding) {
  if (!finding.is_reading()) return "a number from 1 to " + std::to_string(finding.states.size()) + " (" + state_choices(finding) + ")";
  switch (*finding.unit) {
    case knowledge::Unit::volt: return "volts, for instance 24.6 V, 24,6 or 310 mV";
    case knowledge::Unit::ampere: return "amperes, for instance 180 A";
    case knowledge::Unit::ohm: return "ohms, for instance 60 ohm, 0.4, 4k7, 1M, or OL when the meter shows no reading";
    case knowledge::Unit::megohm: return "megohms, for instance 5 Mohm, 200k, or OL when the meter shows no reading";
    default: return "a number in " + std::string(knowledge::name_of(*finding.unit)) + ", for instance 12.5";
  }
}

std::variant<Observed, NotUnderstood> parse_answer(const Finding& finding, std::string_view typed) {
  const auto word = normalised(typed);
  if (word.empty()) return NotUnderstood{"nothing was typed", expected_form(finding)};
  if (one_of(word, cannot_tell_words)) return Observed{CannotTell{}};
  if (one_of(word, not_fitted_words)) return Observed{NotFitted{}};
  return finding.is_reading() ? parse_measured(finding, typed) : parse_state(finding, word);
}

}  // namespace leadline::diagnosis
