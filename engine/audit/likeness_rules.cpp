// One thing in the book twice, under two ids: whoever looks up one misses the other, and their chances are shared out wrongly.
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/audit/rules.h"
#include "engine/audit/words.h"

namespace leadline::audit {

namespace {

using knowledge::KnowledgeBase;

constexpr double nearly_same = 0.85;        // of the words of two texts, see alike()
constexpr double same_chance = 0.02;        // two chances as near as that are the same
constexpr std::size_t least_words = 5;      // shorter texts are alike by chance ("Look.")

// Words that carry no meaning of their own.
constexpr std::array idle_words{"a", "an", "the", "of", "to", "in", "at", "on", "is", "it", "its", "and", "or", "by", "for", "with", "from", "as", "be", "are", "that"};

std::set<std::string> telling_words(std::string_view text) {
  auto words = word_set(text);
  for (const auto* idle : idle_words) words.erase(idle);
  return words;
}

std::string joined(const std::vector<std::string>& texts) {
  std::string all;
  for (const auto& text : texts) all += text + " ";
  return all;
}

// One page as far as likeness goes.
struct Text {
  const std::string& id;
  const text::Place& place;
  std::set<std::string> words;
};

// Every later one that says nearly the same as an earlier one. `also`: what must be so besides.
template <class Also>
void report_alike(const std::vector<Text>& texts, const std::string& kind, const std::string& what, Also also, Remarks& remarks) {
  for (std::size_t b = 1; b < texts.size(); ++b) {
    for (std::size_t a = 0; a < b; ++a) {
      if (texts[a].words.empty() || alike(texts[a].words, texts[b].words) < nearly_same || !also(a, b)) continue;
      remarks.push_back({texts[b].place, "the " + kind + " '" + texts[b].id + "' has nearly the " + what + " of '" + texts[a].id + "', " + to_string(texts[a].place),
                         "make one of them, or say what differs", "alike"});
      break;
    }
  }
}

template <class Item>
void titles_alike(const std::vector<Item>& items, const std::string& kind, Remarks& remarks) {
  std::vector<Text> titles;
  for (const auto& item : items) titles.push_back({item.id, item.place, telling_words(item.title)});
  report_alike(titles, kind, "title", [](auto, auto) { return true; }, remarks);
}

template <class Item, class Of, class Also>
void texts_alike(const std::vector<Item>& items, const std::string& kind, const std::string& what, Of of, Also also, Remarks& remarks) {
  std::vector<Text> texts;
  for (const auto& item : items) {
    auto words = telling_words(of(item));
    if (words.size() < least_words) words.clear();
    texts.push_back({item.id, item.place, std::move(words)});
  }
  report_alike(texts, kind, what, also, remarks);
}

bool shows_the_same(const Shown& shown, std::size_t a, std::size_t b) {
  const auto &of_a = shown.by(a), &of_b = shown.by(b);
  if (of_a.empty() || of_a.size() != of_b.size()) return false;
  return std::equal(of_a.begin(), of_a.end(), of_b.begin(), [](const auto& x, const auto& y) {
    const auto near = [](double p, double q) { return std::abs(p - q) <= same_chance; };
    return x.first == y.first && std::equal(x.second.begin(), x.second.end(), y.second.begin(), near);
  });
}

void causes_alike(const Book& book, Remarks& remarks) {
  const auto& causes = book.base.causes;
  for (std::size_t b = 1; b < causes.size(); ++b) {
    for (std::size_t a = 0; a < b; ++a) {
      if (!shows_the_same(book.shown, a, b) || book.boats.never(together({&causes[a].applies, &causes[b].applies}))) continue;
      remarks.push_back({causes[b].place, "the cause '" + causes[b].id + "' shows the same as '" + causes[a].id + "', " + to_string(causes[a].place) + ", with the same chances",
                         "make one of them, or add what tells them apart", "alike"});
      break;
    }
  }
}

}  // namespace

void pages_much_alike(const Book& book, Remarks& remarks) {
  const auto& base = book.base;
  titles_alike(base.causes, "cause", remarks);
  titles_alike(base.findings, "finding", remarks);
  titles_alike(base.checks, "check", remarks);
  titles_alike(base.remedies, "remedy", remarks);
  titles_alike(base.precautions, "precaution", remarks);
  causes_alike(book, remarks);
  const auto always = [](auto, auto) { return true; };
  texts_alike(base.causes, "cause", "description", [](const auto& cause) { return cause.what; }, always, remarks);
  texts_alike(base.findings, "finding", "question", [](const auto& finding) { return finding.ask; }, always, remarks);
  texts_alike(base.checks, "check", "steps", [](const auto& check) { return joined(check.steps); },
              [&](std::size_t a, std::size_t b) { return base.checks[a].observes == base.checks[b].observes; }, remarks);
  texts_alike(base.remedies, "remedy", "steps", [](const auto& remedy) { return joined(remedy.steps); }, always, remarks);
}

}  // namespace leadline::audit
