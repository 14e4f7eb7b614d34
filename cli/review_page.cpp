#include "cli/review_page.h"

#include <algorithm>
#include <array>
#include <map>

#include "cli/phrases.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

using circuit::Remark;
using circuit::Severity;
using circuit::Tag;

std::string tag_words(Tag tag) {
  switch (tag) {
    case Tag::read:
      return "read";
    case Tag::memory:
      return "from memory";
    case Tag::derived:
      return "derived";
    case Tag::common_practice:
      return "no source";
  }
  return "";
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// A number stays on the line of its unit.
std::string units_held(std::string_view words) {
  static constexpr std::array<std::string_view, 12> units{"V", "A", "Ah", "m", "mm²", "mΩ", "mΩ/m", "ohm", "%", "°C", "kbit/s", "min"};
  std::string out;
  for (std::size_t at = 0; at < words.size(); ++at) {
    const auto rest = words.substr(at + 1);
    const auto word = rest.substr(0, rest.find_first_of(" ,;:.)"));
    const bool held = words[at] == ' ' && at > 0 && is_digit(words[at - 1]) && std::find(units.begin(), units.end(), word) != units.end();
    out += held ? "\u00A0" : std::string(1, words[at]);
  }
  return out;
}

// A fact as the record declares it: its value with its unit or in the words of its choice, and what it is about.
struct FactWords {
  std::string value, about;
};
FactWords words_of(const knowledge::KnowledgeBase& base, const installation::Assumed& assumed) {
  if (assumed.path.find("/@") == std::string::npos) return {assumed.value, assumed.path == "segment" ? "the pieces of network cable" : "the terminators"};
  const auto at = knowledge::find_fact(base, assumed.path);
  if (!at) return {assumed.value, assumed.path};
  const auto& fact = base.facts[*at];
  std::string value = assumed.value + (fact.unit.empty() ? ""
                                                         : " " + (fact.unit == "mm2"       ? "mm²"
                                                                  : fact.unit == "degC"    ? "°C"
                                                                  : fact.unit == "percent" ? "%"
                                                                                           : fact.unit));
  for (const auto& choice : fact.choices) {
    if (choice.id == assumed.value && !choice.words.empty() && fact.type == knowledge::FactType::choice) value = choice.words;
  }
  return {value, fact.ask};
}

std::string figure_words(const circuit::Figure& figure) {
  return figure.what + ": " + text::format_number(figure.value, figure.decimals) + (figure.unit.empty() ? "" : " " + figure.unit) +
         (figure.how.empty() ? "" : " (" + figure.how + ")");
}

void add_remark(Page& page, const knowledge::KnowledgeBase& base, std::size_t number, const Remark& remark) {
  constexpr std::size_t indent = 3;
  page.blank();
  page.item(std::to_string(number) + ".", (remark.severity == Severity::wrong ? "WRONG: " : "DOUBTFUL: ") + units_held(remark.what) + ".", 0);
  page.item("Way out:", units_held(remark.way_out) + ".", indent);
  for (const auto& figure : remark.figures) page.item("-", units_held(figure_words(figure)), indent);
  std::vector<std::string> sources;
  for (const auto& source : remark.sources) sources.push_back(source.title + " [" + tag_words(source.tag) + "]");
  std::string all;
  for (const auto& source : sources) all += (all.empty() ? "" : "; ") + source;
  page.item(sources.size() == 1 ? "Source:" : "Sources:", units_held(all), indent);
  for (const auto& id : remark.causes) page.item("Raises:", base[*knowledge::find_id(base.causes, id)].title + " (" + id + ")", indent);
  std::string assumed;
  for (const auto& fact : remark.assumed) assumed += (assumed.empty() ? "" : ", ") + fact.path + " " + words_of(base, fact).value;
  if (!assumed.empty())
    page.item("Assumed:", units_held(assumed) + ": state " + (remark.assumed.size() == 1 ? "it" : "them") + " to be sure.", indent);
}

// Each assumed fact once, in the words of the record.
void add_legend(Page& page, const knowledge::KnowledgeBase& base, const std::vector<Remark>& remarks) {
  std::map<std::string, FactWords> facts;
  for (const auto& remark : remarks) {
    for (const auto& fact : remark.assumed) facts.emplace(fact.path, words_of(base, fact));
  }
  if (facts.empty()) return;
  page.heading("What nobody stated, and what was taken for it:");
  for (const auto& [path, words] : facts) page.item("-", units_held(words.about + " " + words.value) + " (" + path + ")");
}

std::string summary(const std::vector<Remark>& remarks, std::size_t assumed) {
  const auto wrong = count_of(remarks, Severity::wrong), doubtful = count_of(remarks, Severity::doubtful);
  const auto found = remarks.empty() ? std::string("nothing in it is wrong or doubtful.")
                                     : std::to_string(wrong) + " wrong, " + std::to_string(doubtful) + " doubtful.";
  return found + " Nothing was measured" +
         (assumed == 0 ? "." : "; " + count_words(assumed, "fact that nobody stated was", "facts that nobody stated were") + " taken as usual.");
}

}  // namespace

std::size_t count_of(const std::vector<Remark>& remarks, Severity severity) {
  return static_cast<std::size_t>(std::count_if(remarks.begin(), remarks.end(), [&](const Remark& remark) { return remark.severity == severity; }));
}

Page review_page(const knowledge::KnowledgeBase& base, const installation::Installation& boat, const std::vector<Remark>& remarks,
                 std::size_t width) {
  Page page(width);
  page.line("Review of the record" + (boat.name().empty() ? "" : " of " + boat.name()) + ": " + summary(remarks, boat.assumed().size()));
  if (!remarks.empty()) {
    page.blank().line(
        "Before any work that follows from this: no command, isolator and chargers off, then the bank's minus off first; local codes and "
        "licensed practice come first.");
  }
  for (std::size_t number = 1; number <= remarks.size(); ++number) add_remark(page, base, number, remarks[number - 1]);
  add_legend(page, base, remarks);
  if (!remarks.empty()) page.blank().line("'leadline show ID' tells more of a cause. docs/review.md explains the rules.");
  return page;
}

}  // namespace leadline::cli
