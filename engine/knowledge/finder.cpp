#include "engine/knowledge/finder.h"

#include <algorithm>
#include <cmath>
#include <libstemmer.h>
#include <map>
#include <memory>
#include <set>

namespace leadline::knowledge {

namespace {

using Stemmer = std::unique_ptr<sb_stemmer, decltype(&sb_stemmer_delete)>;

// Words that say nothing about a fault, and those that every complaint about a thruster holds.
const std::set<std::string, std::less<>>& empty_words() {
  static const std::set<std::string, std::less<>> words{
      "a",  "an",  "the", "is",  "are", "was",  "were", "be",   "been", "am",   "it",   "its",  "i",     "my",    "we",   "our",
      "me", "you", "he",  "she", "of",  "in",   "on",   "at",   "to",   "from", "for",  "and",  "or",    "but",   "with", "this",
      "that", "there", "when", "what", "which", "does", "do", "did", "has", "have", "had", "if", "as",   "so",    "than", "then",
      "just", "very", "any", "how", "your", "thruster", "boat", "they", "them", "can", "will", "would", "by", "about"};
  return words;
}

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
bool in_word(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80; }

// "won't" stays one word ("wont"): the apostrophe is dropped, plain or typographic.
std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words(1);
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text.substr(at).starts_with("\xE2\x80\x99")) {
      at += 2;
      continue;
    }
    const char c = lower(text[at]);
    if (in_word(c)) words.back() += c;
    else if (c != '\'' && !words.back().empty()) words.emplace_back();
  }
  std::erase_if(words, [](const auto& w) { return w.empty(); });
  return words;
}

std::vector<std::string> stems_of(std::string_view text) {
  const Stemmer stemmer(sb_stemmer_new("english", "UTF_8"), &sb_stemmer_delete);
  std::vector<std::string> stems;
  for (const auto& word : words_of(text)) {
    if (empty_words().contains(word)) continue;
    const auto* stem = sb_stemmer_stem(stemmer.get(), reinterpret_cast<const sb_symbol*>(word.data()), static_cast<int>(word.size()));
    if (stem == nullptr) stems.push_back(word);
    else stems.emplace_back(reinterpret_cast<const char*>(stem), static_cast<std::size_t>(sb_stemmer_length(stemmer.get())));
  }
  std::sort(stems.begin(), stems.end());
  stems.erase(std::unique(stems.begin(), stems.end()), stems.end());
  return stems;
}

bool holds(const std::vector<std::string>& sorted, const std::string& stem) {
  return std::binary_search(sorted.begin(), sorted.end(), stem);
}

std::string all_words(const Finding& finding) {
  std::string text = finding.title + " " + finding.ask + " " + finding.lay;
  for (const auto& word : finding.words) text += " " + word;
  return text;
}

constexpr double state_weight = 1.5;      // a state's own words settle more than those of the question
constexpr double complaint_weight = 1.5;  // people call about what they notice, not about what a technician measures

}  // namespace

Finder::Finder(const KnowledgeBase& base) {
  std::map<std::string, int> uses;
  for (std::size_t i = 0; i < base.findings.size(); ++i) {
    const auto& finding = base.findings[i];
    if (finding.is_reading()) continue;
    Entry entry{{i}, finding.complaint, stems_of(all_words(finding)), {}};
    std::set<std::string> distinct(entry.stems.begin(), entry.stems.end());
    for (const auto& state : finding.states) {
      entry.state_stems.push_back(stems_of(state.words));
      distinct.insert(entry.state_stems.back().begin(), entry.state_stems.back().end());
    }
    for (const auto& stem : distinct) ++uses[stem];
    entries_.push_back(std::move(entry));
  }
  for (const auto& [stem, count] : uses) {
    vocabulary_.push_back(stem);
    rarity_.push_back(std::log(1 + static_cast<double>(entries_.size()) / count));
  }
}

double Finder::rarity(std::string_view stem) const {
  const auto at = std::lower_bound(vocabulary_.begin(), vocabulary_.end(), stem);
  return rarity_[static_cast<std::size_t>(at - vocabulary_.begin())];
}

std::vector<std::string> Finder::known_stems(std::string_view words) const {
  auto stems = stems_of(words);
  std::erase_if(stems, [&](const auto& stem) { return !holds(vocabulary_, stem); });
  return stems;
}

std::vector<Match> Finder::find(std::string_view words, std::size_t most) const {
  const auto asked = known_stems(words);
  std::vector<Match> matches;
  for (const auto& entry : entries_) {
    Match match{entry.finding, std::nullopt, 0};
    double best_state = 0;
    for (std::size_t state = 0; state < entry.state_stems.size(); ++state) {
      double score = 0;
      for (const auto& stem : asked) score += holds(entry.state_stems[state], stem) ? state_weight * rarity(stem) : 0;
      if (score > best_state && state > 0) match.state = state;
      best_state = std::max(best_state, score);
    }
    for (const auto& stem : asked) match.score += holds(entry.stems, stem) ? rarity(stem) : 0;
    match.score += best_state;
    match.score *= entry.complaint ? complaint_weight : 1;
    if (match.score > 0) matches.push_back(match);
  }
  std::stable_sort(matches.begin(), matches.end(), [](const Match& a, const Match& b) { return a.score > b.score; });
  if (matches.size() > most) matches.resize(most);
  return matches;
}

}  // namespace leadline::knowledge
