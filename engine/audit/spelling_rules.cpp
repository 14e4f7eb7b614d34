// Spelling without a dictionary: a word that stands once in the book and is one letter from a word that stands often is likely a slip of it.
#include <algorithm>
#include <array>
#include <map>

#include "engine/audit/honest_words.h"
#include "engine/audit/rules.h"
#include "engine/audit/words.h"

namespace leadline::audit {

namespace {

constexpr std::size_t shortest = 6;        // letters: shorter words have too many honest neighbours ("load", "lead")
constexpr std::size_t often = 5;           // times

// Common slips of writers of English, and what was meant. Common practice, no source.
constexpr std::array<std::pair<const char*, const char*>, 60> slips{{
    {"accross", "across"}, {"adress", "address"}, {"agressive", "aggressive"}, {"allways", "always"}, {"alot", "a lot"}, {"aquire", "acquire"},
    {"arrengement", "arrangement"}, {"begining", "beginning"}, {"beleive", "believe"}, {"calender", "calendar"}, {"comming", "coming"}, {"commited", "committed"},
    {"concious", "conscious"}, {"corosion", "corrosion"}, {"definately", "definitely"}, {"disapear", "disappear"}, {"enviroment", "environment"}, {"existance", "existence"},
    {"foward", "forward"}, {"grammer", "grammar"}, {"guage", "gauge"}, {"heigth", "height"}, {"immediatly", "immediately"}, {"independant", "independent"},
    {"insulaton", "insulation"}, {"knowlege", "knowledge"}, {"lenght", "length"}, {"maintainance", "maintenance"}, {"mesure", "measure"}, {"neccessary", "necessary"},
    {"negativ", "negative"}, {"noticable", "noticeable"}, {"occassion", "occasion"}, {"occured", "occurred"}, {"occurence", "occurrence"}, {"paralel", "parallel"},
    {"parrallel", "parallel"}, {"persistant", "persistent"}, {"positiv", "positive"}, {"posible", "possible"}, {"prefered", "preferred"}, {"presure", "pressure"},
    {"propellor", "propeller"}, {"recieve", "receive"}, {"recomend", "recommend"}, {"refered", "referred"}, {"resistence", "resistance"}, {"responce", "response"},
    {"seperate", "separate"}, {"strenght", "strength"}, {"succesful", "successful"}, {"suprise", "surprise"}, {"teh", "the"}, {"thier", "their"},
    {"tommorow", "tomorrow"}, {"truely", "truly"}, {"untill", "until"}, {"usefull", "useful"}, {"wich", "which"}, {"writting", "writing"}}};

// A text of a file: where it begins, and whether its words are only counted.
struct Passage {
  std::size_t begin = 0, end = 0;
  bool counted_only = false;
};

// Texts of elements, and the attributes that hold words. Words people use for a finding, and titles of sources, hold names and slang.
class Passages {
 public:
  explicit Passages(std::string_view content) : content_(content) {
    while (at_ < content_.size()) step();
  }
  std::vector<Passage> found;

 private:
  void step() {
    if (content_.substr(at_, 4) == "<!--") {
      at_ = std::min(content_.find("-->", at_), content_.size() - 3) + 3;
    } else if (content_[at_] == '<') {
      const auto end = std::min(content_.find('>', at_), content_.size() - 1);
      tag(at_ + 1, end);
      at_ = end + 1;
    } else {
      const auto end = std::min(content_.find('<', at_), content_.size());
      found.push_back({at_, end, counted_only()});
      at_ = end;
    }
  }

  void tag(std::size_t begin, std::size_t end) {
    const auto name = content_.substr(begin, std::min(content_.find_first_of(" \t\r\n/>", begin), end) - begin);
    if (content_[begin] == '/') {
      if (!open_.empty()) open_.pop_back();
      return;
    }
    for (const std::string_view attribute : {" item=\"", " place=\""}) {
      const auto at = content_.substr(begin, end - begin).find(attribute);
      if (at == std::string_view::npos || name.starts_with('?')) continue;
      const auto value = begin + at + attribute.size();
      found.push_back({value, std::min(content_.find('"', value), end), false});
    }
    if (content_[end - 1] != '/' && !name.starts_with('?')) open_.push_back(name);
  }

  bool counted_only() const {
    return std::any_of(open_.begin(), open_.end(), [](auto name) { return name == "words" || name == "source"; });
  }

  std::string_view content_;
  std::size_t at_ = 0;
  std::vector<std::string_view> open_;
};

struct Occurrence {
  std::size_t source = 0, offset = 0;
  Word word;
  bool counted_only = false;
  bool doubled = false;   // nothing but blanks since the same word
};

std::vector<Occurrence> occurrences(std::span<const text::Source> sources) {
  std::vector<Occurrence> all;
  for (std::size_t s = 0; s < sources.size(); ++s) {
    const std::string_view content = sources[s].content;
    for (const auto& passage : Passages(content).found) {
      const auto text = content.substr(passage.begin, passage.end - passage.begin);
      std::size_t before_end = 0;
      std::string before;
      for (auto& word : words_of(text)) {
        const auto gap = text.substr(before_end, word.offset - before_end);
        const bool doubled = word.letters == before && !gap.empty() && gap.find_first_not_of(" \t\r\n") == std::string_view::npos;
        before = word.letters;
        before_end = word.offset + word.letters.size();
        all.push_back({s, passage.begin + word.offset, std::move(word), passage.counted_only, doubled});
      }
    }
  }
  return all;
}

// One inserted, removed, replaced or swapped letter.
bool one_letter_apart(std::string_view a, std::string_view b) {
  if (a.size() > b.size()) std::swap(a, b);
  if (b.size() - a.size() > 1 || a == b) return false;
  const auto head = static_cast<std::size_t>(std::mismatch(a.begin(), a.end(), b.begin()).first - a.begin());
  const auto rest_a = a.substr(head), rest_b = b.substr(head);
  if (a.size() < b.size()) return rest_a == rest_b.substr(1);
  if (rest_a.substr(1) == rest_b.substr(1)) return true;
  return rest_a.size() > 1 && rest_a[0] == rest_b[1] && rest_a[1] == rest_b[0] && rest_a.substr(2) == rest_b.substr(2);
}

// Forms of one word ("cable", "cables") differ in their last letter, and other words in their first ("missing", "hissing"): nobody slips there.
bool differ_at_an_end(std::string_view a, std::string_view b) {
  const auto head = static_cast<std::size_t>(std::mismatch(a.begin(), a.begin() + static_cast<std::ptrdiff_t>(std::min(a.size(), b.size())), b.begin()).first - a.begin());
  return head == 0 || head + 1 >= std::max(a.size(), b.size());
}

using Counts = std::map<std::string, std::size_t>;

const std::string* meant_word(const std::string& rare, const std::vector<const std::string*>& frequent, const Counts& counts) {
  const std::string* best = nullptr;
  for (const auto* word : frequent) {
    if (!one_letter_apart(rare, *word) || differ_at_an_end(rare, *word)) continue;
    if (best == nullptr || counts.at(*word) > counts.at(*best)) best = word;
  }
  return best;
}

// A whole word of the list: those of it are divided by blanks.
bool is_honest(const std::string& word) {
  const auto at = (" " + std::string(honest_words)).find(" " + word + " ");
  return at != std::string::npos;
}

const char* common_slip(const std::string& word) {
  const auto found = std::find_if(slips.begin(), slips.end(), [&](const auto& slip) { return slip.first == word; });
  return found == slips.end() ? nullptr : found->second;
}

}  // namespace

void words_misspelt(const Book& book, Remarks& remarks) {
  const auto all = occurrences(book.sources);
  Counts counts;
  for (const auto& one : all) ++counts[one.word.letters];
  std::vector<const std::string*> frequent;
  for (const auto& [word, count] : counts) {
    if (count >= often && word.size() + 1 >= shortest && word.find('\'') == std::string::npos) frequent.push_back(&word);
  }
  std::vector<text::LineIndex> lines;
  for (const auto& source : book.sources) lines.emplace_back(source.content);
  for (const auto& one : all) {
    const auto& word = one.word.letters;
    const auto report = [&](std::string what, std::string way_out) {
      const auto& source = book.sources[one.source];
      remarks.push_back({lines[one.source].place_of(source.name, source.content, one.offset), std::move(what), std::move(way_out), "spelling"});
    };
    if (one.counted_only) continue;
    if (one.doubled) report("'" + word + "' stands twice", "leave one out");
    if (const auto* meant = common_slip(word)) report("'" + word + "' is misspelt", std::string("write '") + meant + "'");
    else if (counts.at(word) == 1 && word.size() >= shortest && word.find('\'') == std::string::npos && !is_honest(word)) {
      const auto* near = meant_word(word, frequent, counts);
      if (near != nullptr) report("'" + word + "' stands here only, '" + *near + "' " + std::to_string(counts.at(*near)) + " times", "did you mean '" + *near + "'?");
    }
  }
}

}  // namespace leadline::audit
