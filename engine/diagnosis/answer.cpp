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

constexpr std::array<std::string_view, 14> cannot_tell_words{"can't tell", "cant tell", "cannot tell", "cannot-tell", "can not tell", "don't know", "dont know",
                                                             "do not know", "dunno", "unknown", "no idea", "not sure", "can't measure", "cannot measure"};
constexpr std::array<std::string_view, 6> not_fitted_words{"not fitted", "not-fitted", "none fitted", "not there", "n/a", "no such thing"};

std::optional<std::size_t> state_named(const Finding& finding, const std::string& word) {
  for (std::size_t s = 0; s < finding.states.size(); ++s) {
    if (word == finding.states[s].id || word == normalised(finding.states[s].words)) return s;
  }
  return std::nullopt;
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
