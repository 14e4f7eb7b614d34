#include "engine/knowledge/finder.h"

#include <algorithm>
#include <cmath>
#include <libstemmer.h>
#include <map>
#include <memory>
#include <set>

#include "engine/text/spelling.h"

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

// A contraction and its long form say the same, with or without the apostrophe: "doesn't", "doesnt", "does not", "no".
std::string_view said(std::string_view word) {
  static const std::set<std::string_view> denials{"not",  "cannot", "cant",  "dont", "doesnt", "didnt", "wont",   "isnt",
                                                  "arent", "wasnt", "werent", "hasnt", "havent", "couldnt", "wouldnt", "without"};
  return denials.contains(word) ? "no" : word;
}

std::vector<std::string> stems_of(std::string_view text) {
  const Stemmer stemmer(sb_stemmer_new("english", "UTF_8"), &sb_stemmer_delete);
  std::vector<std::string> stems;
  for (const auto& written : words_of(text)) {
    const auto word = said(written);
    if (empty_words().contains(word)) continue;
    const auto* stem = sb_stemmer_stem(stemmer.get(), reinterpret_cast<const sb_symbol*>(word.data()), static_cast<int>(word.size()));
    if (stem == nullptr) stems.emplace_back(word);
    else stems.emplace_back(reinterpret_cast<const char*>(stem), static_cast<std::size_t>(sb_stemmer_length(stemmer.get())));
  }
  std::sort(stems.begin(), stems.end());
  stems.erase(std::unique(stems.begin(), stems.end()), stems.end());
  return stems;
}

bool holds(const std::vector<std::string>& sorted, const std::string& stem) {
  return std::binary_search(sorted.begin(), sorted.end(), stem);
}

// "weak" and "weaker": of the stemmer two words.
bool says(const std::vector<std::string>& sorted, const std::string& stem) {
  constexpr std::size_t fewest_letters = 4, longest_ending = 2;
  return std::any_of(sorted.begin(), sorted.end(), [&](const auto& word) { return word == stem || (stem.size() >= fewest_letters && word.starts_with(stem) && word.size() <= stem.size() + longest_ending); });
}

// What a word is worth by where it stands, tuned on the odd rows of tests/knowledge/lay-sentences.txt; half or double of any moves the first
// place in two sentences of a hundred at most (docs/finder.md).
constexpr double title_weight = 1, words_weight = 1, lay_weight = 0.7, ask_weight = 0.5;
constexpr double phrase_weight = 0.8;    // once more for an entry of <words> that is said as a whole
constexpr double state_weight = 1.5;     // a state's own words settle more than those of the question
constexpr double usual_weight = 0.3;     // "lit as usual": few call about what is as ever
constexpr std::size_t least_letters_of_a_slip = 5;
constexpr double complaint_weight = 3;   // people call about what they notice, not about what a technician looks at

}  // namespace

Finder::Finder(const KnowledgeBase& base) {
  std::map<std::string, int> uses;
  for (std::size_t i = 0; i < base.findings.size(); ++i) {
    const auto& finding = base.findings[i];
    if (finding.is_reading()) continue;
    Entry entry{{i}, finding.complaint, {}, {}, {}, stems_of(finding.title)};
    const auto weigh = [&](std::string_view text, double weight) {
      for (const auto& stem : stems_of(text)) entry.weights[stem] = std::max(entry.weights[stem], weight);
    };
    weigh(finding.title, title_weight);
    weigh(finding.lay, lay_weight);
    weigh(finding.ask, ask_weight);
    for (const auto& word : finding.words) {
      weigh(word, words_weight);
      entry.phrases.push_back(stems_of(word));
    }
    std::set<std::string> distinct;
    for (const auto& [stem, weight] : entry.weights) distinct.insert(stem);
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
  std::set<std::string> known;
  for (const auto& stem : stems_of(words)) {
    if (holds(vocabulary_, stem)) known.insert(stem);
    else if (const auto meant = slip_of(stem)) known.insert(*meant);
  }
  return {known.begin(), known.end()};
}

// One letter too many, too few, wrong, or two changed over; in short words that makes another word.
std::optional<std::string> Finder::slip_of(const std::string& stem) const {
  if (stem.size() < least_letters_of_a_slip) return std::nullopt;
  for (const auto& word : vocabulary_) {
    if (text::edit_distance(stem, word) == 1) return word;
  }
  return std::nullopt;
}

// "Keeps running" and "stops running": who says "running" has not said which; next to nothing says "push", of the push of the thruster.
std::optional<std::size_t> Finder::state_said(const Entry& entry, const std::vector<std::string>& asked) const {
  constexpr double of_the_title = 0.2;
  std::optional<std::size_t> said;
  double best = 0;
  for (std::size_t state = 1; state < entry.state_stems.size(); ++state) {
    double score = 0;
    for (const auto& stem : asked) {
      if (says(entry.state_stems[state], stem) && !holds(entry.state_stems[0], stem)) score += rarity(stem) * (holds(entry.title_stems, stem) ? of_the_title : 1);
    }
    if (score > best) said = state, best = score;
  }
  return said;
}

double Finder::shared_rarity(const std::vector<std::string>& stems, const std::vector<std::string>& asked) const {
  double sum = 0;
  for (const auto& stem : asked) sum += holds(stems, stem) ? rarity(stem) : 0;
  return sum;
}

double Finder::own_words(const Entry& entry, const std::vector<std::string>& asked) const {
  double score = 0;
  for (const auto& stem : asked) {
    if (const auto at = entry.weights.find(stem); at != entry.weights.end()) score += at->second * rarity(stem);
  }
  for (const auto& phrase : entry.phrases) {
    if (std::includes(asked.begin(), asked.end(), phrase.begin(), phrase.end())) score += phrase_weight * shared_rarity(phrase, asked);
  }
  return score;
}

std::vector<Match> Finder::find(std::string_view words, std::size_t most) const {
  const auto asked = known_stems(words);
  std::vector<Match> matches;
  for (const auto& entry : entries_) {
    Match match{entry.finding, std::nullopt, 0};
    double best = 0;
    for (std::size_t state = 0; state < entry.state_stems.size(); ++state) {
      const double score = (state > 0 ? state_weight : usual_weight) * shared_rarity(entry.state_stems[state], asked);
      best = std::max(best, score);
    }
    match.state = state_said(entry, asked);
    match.score = own_words(entry, asked) + best;
    match.score *= entry.complaint ? complaint_weight : 1;
    if (match.score > 0) matches.push_back(match);
  }
  std::stable_sort(matches.begin(), matches.end(), [](const Match& a, const Match& b) { return a.score > b.score; });
  if (matches.size() > most) matches.resize(most);
  return matches;
}

}  // namespace leadline::knowledge
