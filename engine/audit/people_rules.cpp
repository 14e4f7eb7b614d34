// Precautions where the place is dangerous; words for laymen where a layman looks.
#include <algorithm>
#include <array>
#include <map>

#include "engine/audit/rules.h"
#include "engine/audit/words.h"

namespace leadline::audit {

namespace {

using knowledge::Check;
using knowledge::Effort;
using knowledge::KnowledgeBase;
using knowledge::Precaution;
using knowledge::Ref;

// What makes a place dangerous, by the words of its title: docs/knowledge-format.md § check names the five.
struct Danger {
  const char* what;
  std::vector<const char*> words;
};
const std::array<Danger, 5> dangers{{{"a battery", {"battery", "batteries", "bank"}},
                                     {"a heavy cable", {"cable", "cables", "fuse", "isolator", "lug", "lugs"}},
                                     {"the motor", {"motor", "thruster"}},
                                     {"the propeller", {"propeller", "tunnel"}},
                                     {"mains", {"mains", "charger", "shore"}}}};

std::string danger_in(const std::string& title) {
  const auto words = word_set(title);
  for (const auto& danger : dangers) {
    if (std::any_of(danger.words.begin(), danger.words.end(), [&](const char* word) { return words.contains(word); })) return danger.what;
  }
  return "";
}

// The title of the first dangerous place, and its danger.
std::pair<std::string, std::string> dangerous_place(const KnowledgeBase& base, const Effort& effort, const std::string& where) {
  std::vector<std::string> titles;
  for (const auto place : effort.places) titles.push_back(base[place].title);
  titles.push_back(where);
  for (const auto& title : titles) {
    if (auto danger = danger_in(title); !danger.empty()) return {title, std::move(danger)};
  }
  return {};
}

template <class Action>
void count_precautions(const std::vector<Action>& actions, const std::vector<Ref<knowledge::WorkPlace>>& places, std::map<Ref<Precaution>, int>& counts) {
  for (const auto& action : actions) {
    const auto shared = [&](auto place) { return std::find(places.begin(), places.end(), place) != places.end(); };
    if (std::none_of(action.effort.places.begin(), action.effort.places.end(), shared)) continue;
    for (const auto precaution : action.precautions) ++counts[precaution];
  }
}

// The one most used by what else is done there.
std::string usual_precaution(const KnowledgeBase& base, const Effort& effort) {
  std::map<Ref<Precaution>, int> counts;
  count_precautions(base.checks, effort.places, counts);
  count_precautions(base.remedies, effort.places, counts);
  const auto most = std::max_element(counts.begin(), counts.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
  return most == counts.end() ? "" : ", for instance '" + base[most->first].id + "'";
}

void dangerous(const Book& book, const char* kind, const std::string& id, const text::Place& at, const Effort& effort, const std::string& where, Remarks& remarks) {
  const auto [title, danger] = dangerous_place(book.base, effort, where);
  if (danger.empty()) return;
  remarks.push_back({at, std::string("the ") + kind + " '" + id + "' has no precaution and is done at " + danger + ": '" + title + "'",
                     "name one before its steps" + usual_precaution(book.base, effort), "no-precaution"});
}

}  // namespace

void dangers_without_precaution(const Book& book, Remarks& remarks) {
  for (const auto& check : book.base.checks) {
    if (check.precautions.empty()) dangerous(book, "check", check.id, check.place, check.effort, check.where, remarks);
  }
  for (const auto& remedy : book.base.remedies) {
    if (remedy.precautions.empty()) dangerous(book, "remedy", remedy.id, remedy.place, remedy.effort, "", remarks);
  }
}

void lay_wording_missing(const Book& book, Remarks& remarks) {
  const auto& base = book.base;
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    const auto& finding = base.findings[j];
    const auto looks = [&](const Check& check) {
      return check.who == knowledge::Who::owner && std::any_of(check.observes.begin(), check.observes.end(), [&](auto ref) { return ref.index == j; });
    };
    const auto check = std::find_if(base.checks.begin(), base.checks.end(), looks);
    if (!finding.lay.empty() || check == base.checks.end()) continue;
    remarks.push_back({finding.place, "an owner may look at '" + finding.id + "' (check '" + check->id + "'), but it is not asked in his words", "add <lay>", "no-lay-words"});
  }
}

}  // namespace leadline::audit
