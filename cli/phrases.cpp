#include "cli/phrases.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/layout.h"
#include "engine/markup/element.h"
#include "engine/text/number.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

template <class Kind>
bool says(std::string_view typed) {
  const auto parsed = diagnosis::parse_answer(knowledge::Finding{}, normalised(typed));
  const auto* observed = std::get_if<diagnosis::Observed>(&parsed);
  return observed != nullptr && std::holds_alternative<Kind>(*observed);
}

// Held together by a blank that does not break; the layout makes it a plain one once the lines are laid.
std::string with_unit(const std::string& number, const char* unit) { return number + "\u00A0" + unit; }

// Three figures or so: what a pocket meter shows and a person remembers.
std::string figures(double value) {
  const double size = std::abs(value);
  const auto words = text::format_number(value, size < 10 ? 2 : size < 100 ? 1 : 0);
  return words == "-0" ? "0" : words;
}

}  // namespace

std::string percent(double probability) {
  if (probability > 0 && probability < 0.005) return with_unit("<1", "%");
  if (probability > 0.995 && probability < 1 - 1e-12) return with_unit(">99", "%");
  return with_unit(text::format_number(std::round(probability * 100), 0), "%");
}

std::string padded_percent(double probability) {
  const auto words = percent(probability);
  const auto size = text::character_count(words);
  return std::string(size < 5 ? 5 - size : 0, ' ') + words;
}

std::string bar(double probability) {
  const auto full = static_cast<std::size_t>(std::clamp(std::round(probability * 10), probability > 0 ? 1.0 : 0.0, 10.0));
  std::string drawn;
  for (std::size_t i = 0; i < full; ++i) drawn += block;
  return drawn + std::string(10 - full, ' ');
}

std::string minutes_words(double minutes) { return with_unit(text::format_number(minutes, 1), "min"); }

std::string whole_minutes(double minutes) { return minutes_words(std::round(minutes)); }

std::string reading_words(double value, knowledge::Unit unit) {
  const double size = std::abs(value);
  switch (unit) {
    case knowledge::Unit::volt: return size < 0.0995 && size >= 0.0005 ? with_unit(text::format_number(value * 1000, 0), "mV") : with_unit(figures(value), "V");
    case knowledge::Unit::ohm:
      if (std::isinf(value)) return "over range";
      if (size < 0.0995) return with_unit(text::format_number(value * 1000, size < 0.00995 ? 2 : 0), "milliohm");
      return size < 995 ? with_unit(figures(value), "ohm") : with_unit(figures(value / 1000), "kohm");
    default: return with_unit(figures(value), std::string(knowledge::name_of(unit)).c_str());
  }
}

std::string who_words(knowledge::Who who) { return std::string(knowledge::to_string(who)); }

std::string barred_words(knowledge::Who who) {
  return std::string("Not now: what is said at once stands against it") + (who == knowledge::Who::owner ? "; for a technician to decide." : ".");
}

std::string who_may(knowledge::Who who) { return who == knowledge::Who::owner ? "anyone on board may do it" : "for a " + who_words(who); }

std::string listed(const std::vector<std::string>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) out += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  return out;
}

std::string decibans(double weight) {
  if (std::isinf(weight)) return weight > 0 ? "settles it" : "rules it out";
  const auto number = text::format_number(std::abs(weight), 1);
  return with_unit((number == "0" ? "" : weight > 0 ? "+" : "-") + number, "dB");
}

std::string strength(double weight) {
  const double size = std::abs(weight);
  if (size < 1) return "says little either way";
  const std::string much = size >= 10 ? "strongly " : size >= 4 ? "clearly " : "a little ";
  return "speaks " + much + (weight > 0 ? "for it" : "against it");
}

std::string place_words(const text::Place& place) { return place.file + ":" + std::to_string(place.line); }

std::string count_words(std::size_t count, const std::string& one, const std::string& many) { return std::to_string(count) + " " + (count == 1 ? one : many); }

const std::string& question_for(const knowledge::Finding& finding, knowledge::Who role) {
  return role == knowledge::Who::owner && !finding.lay.empty() ? finding.lay : finding.ask;
}

const std::string& question_for(const knowledge::Fact& fact, bool by_phone) { return by_phone && !fact.lay.empty() ? fact.lay : fact.ask; }

std::string value_words(const knowledge::Fact& fact, const std::string& value) {
  for (const auto& choice : fact.choices) {
    if (choice.id == value && fact.type == knowledge::FactType::choice) return choice.words;
  }
  return value + (fact.unit.empty() ? "" : " " + fact.unit);
}

std::string answer_words(const knowledge::KnowledgeBase& base, const diagnosis::Answer& answer) {
  const auto& finding = base[answer.finding];
  return finding.title + ": " + diagnosis::in_words(finding, answer.observed);
}

std::string normalised(std::string_view typed) {
  std::string out;
  for (std::size_t at = 0; at < typed.size(); ++at) {
    const bool apostrophe = typed.substr(at).starts_with("\xE2\x80\x99") || typed.substr(at).starts_with("\xE2\x80\x98");
    const char c = typed[at];
    if (apostrophe) out += '\'', at += 2;
    else out += c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c == '`' ? '\'' : c;
  }
  out = markup::fold_blanks(out);
  while (out.size() > 1 && (out.back() == '.' || out.back() == '!' || out.back() == '?')) out.pop_back();
  return out;
}

bool says_cannot_tell(std::string_view typed) { return says<diagnosis::CannotTell>(typed); }
bool says_not_fitted(std::string_view typed) { return says<diagnosis::NotFitted>(typed); }

bool says_not_safe(std::string_view typed) {
  constexpr std::array<std::string_view, 6> forms{"not safe", "unsafe", "it is not safe", "it isn't safe", "isn't safe", "no, not safe"};
  return std::find(forms.begin(), forms.end(), normalised(typed)) != forms.end();
}

}  // namespace leadline::cli
