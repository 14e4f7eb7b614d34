#include "cli/sources_page.h"

#include <algorithm>
#include <map>

#include "cli/condition_words.h"
#include "cli/phrases.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

using knowledge::Certificate;
using knowledge::KnowledgeBase;
using knowledge::Number;
using knowledge::NumberKind;
using knowledge::Numbered;
using knowledge::Ref;
using knowledge::Source;
using knowledge::Sureness;

constexpr std::size_t most_named = 12;

std::string kind_words(NumberKind kind) {
  switch (kind) {
    case NumberKind::frequency: return "How often";
    case NumberKind::strength: return "How strongly it shows";
    case NumberKind::effect: return "What it does to the circuit";
    case NumberKind::mends: return "How surely it is mended";
    case NumberKind::leak: return "Seen without a known cause";
    case NumberKind::threshold: return "Limits of the bands";
    case NumberKind::doubt: return "Doubt of the computed reading";
    case NumberKind::minutes: return "Minutes";
    case NumberKind::part: return "Parts of the circuit";
  }
  return "";
}

std::string sure_words(Sureness sure) {
  switch (sure) {
    case Sureness::firm: return "firm (a standard or a measured value)";
    case Sureness::fair: return "fair (the trade agrees within a third)";
    case Sureness::rough: return "rough (may be off by two or three)";
  }
  return "";
}

bool is_chance(const Number& number) {
  return number.unit.empty() && (number.kind == NumberKind::strength || number.kind == NumberKind::mends || number.kind == NumberKind::leak || number.kind == NumberKind::doubt);
}

std::string value_words(const Number& number) {
  const auto unit = number.unit.empty() ? "" : "\u00A0" + number.unit;
  if (!number.expression.empty()) return number.expression + unit;
  return is_chance(number) ? text::format_number(number.value * 100, 2) + "\u00A0%" : text::format_number(number.value, 4) + unit;
}

// Numbers of one kind with one source and one degree of sureness stand together.
using Group = std::vector<const Number*>;

bool same_origin(const Number& a, const Number& b) {
  return a.kind == b.kind && a.certificate && b.certificate && a.certificate->source == b.certificate->source && a.certificate->sure == b.certificate->sure;
}

std::vector<Group> grouped(const std::vector<Number>& numbers) {
  std::vector<Group> groups;
  for (const auto& number : numbers) {
    const auto found = std::find_if(groups.begin(), groups.end(), [&](const auto& group) { return same_origin(*group.front(), number); });
    if (found == groups.end()) groups.push_back({&number});
    else found->push_back(&number);
  }
  std::stable_sort(groups.begin(), groups.end(), [](const auto& a, const auto& b) { return a.front()->kind < b.front()->kind; });
  return groups;
}

std::string origin_words(const KnowledgeBase& base, const Certificate& certificate) { return base[certificate.source].title + "; " + sure_words(certificate.sure); }

// The numbers a source stands for in one thing: "threshold, fair"; empty where it stands only for what is said.
std::string taken_words(const Numbered& item, Ref<Source> source) {
  std::vector<std::string> words;
  for (const auto& citation : item.citations) {
    if (citation.source != source) continue;
    for (const auto kind : citation.kinds) words.push_back(std::string(to_string(kind)) + ", " + std::string(to_string(citation.sure)));
  }
  return listed(words);
}

void add_items(Page& page, const std::string& kind, const std::vector<std::string>& items) {
  page.heading("Named by " + count_words(items.size(), kind, kind == "remedy" ? "remedies" : kind == "giving-up" ? kind : kind + "s") + ":");
  for (std::size_t i = 0; i < std::min(most_named, items.size()); ++i) page.item("-", items[i]);
  if (items.size() > most_named) page.line("and " + std::to_string(items.size() - most_named) + " more", 2);
}

}  // namespace

Page sources_page(const KnowledgeBase& base, const Numbered& item, std::size_t width) {
  Page page(width);
  page.line("Numbers of: " + item.title);
  page.line(item.kind + " " + item.id + ", " + place_words(item.place), 2);
  for (const auto& group : grouped(item.numbers)) {
    page.heading(kind_words(group.front()->kind) + " (" + std::string(to_string(group.front()->kind)) + "):");
    page.line("From " + origin_words(base, *group.front()->certificate) + ".", 2);
    for (const auto* number : group) {
      page.item("-", number->what + (number->when.empty() ? "" : ", where " + condition_words(base, number->when)) + ": " + value_words(*number), 4);
    }
  }
  return page;
}

void add_origins(Page& page, const KnowledgeBase& base, const std::vector<knowledge::Citation>& citations, const std::vector<Number>& numbers) {
  page.heading("From where we know:");
  std::string said;
  for (const auto& citation : citations) {
    if (citation.kinds.empty()) said += (said.empty() ? "" : "; ") + base[citation.source].title;
  }
  if (!said.empty()) page.item("-", "What is said: " + said + ".");
  std::vector<std::pair<std::string, std::vector<std::string>>> kinds;  // by origin, in the order of the kinds
  for (const auto& group : grouped(numbers)) {
    const auto origin = origin_words(base, *group.front()->certificate);
    const auto found = std::find_if(kinds.begin(), kinds.end(), [&](const auto& pair) { return pair.first == origin; });
    if (found == kinds.end()) kinds.push_back({origin, {kind_words(group.front()->kind)}});
    else found->second.push_back(kind_words(group.front()->kind));
  }
  for (const auto& [origin, words] : kinds) {
    std::string list;
    for (const auto& word : words) list += (list.empty() ? "" : "; ") + word;
    page.item("-", list + ": " + origin + ".");
  }
}

void add_leaning(Page& page, const KnowledgeBase& base, Ref<Source> source) {
  std::vector<std::pair<std::string, std::vector<std::string>>> named;  // by kind of thing, in the order of the book
  std::map<NumberKind, std::size_t> own, inherited;
  for (const auto& item : knowledge::all_numbers(base)) {
    const bool leans = std::any_of(item.citations.begin(), item.citations.end(), [&](const auto& citation) { return citation.source == source; });
    if (leans) {
      const auto taken = taken_words(item, source);
      if (named.empty() || named.back().first != item.kind) named.push_back({item.kind, {}});
      named.back().second.push_back(item.title + (item.id.empty() ? "" : " (" + item.id + ")") + (taken.empty() ? "" : ": " + taken));
    }
    for (const auto& number : item.numbers) {
      if (number.certificate && number.certificate->source == source) ++(number.certificate->inherited ? inherited : own)[number.kind];
    }
  }
  const auto add_counts = [&](const std::string& heading, const std::map<NumberKind, std::size_t>& counts) {
    if (counts.empty()) return;
    page.heading(heading);
    for (const auto& [kind, count] : counts) page.item("-", kind_words(kind) + " (" + std::string(to_string(kind)) + "): " + count_words(count, "number", "numbers"));
  };
  if (named.empty() && inherited.empty()) page.heading("Nothing leans on it.");
  add_counts("Numbers taken from it:", own);
  add_counts("Numbers that name no source of their own, and for which their file names this one:", inherited);
  for (const auto& [kind, items] : named) add_items(page, kind, items);
}

}  // namespace leadline::cli
