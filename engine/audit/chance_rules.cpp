// Chances: against the circuits, against what is seen anyhow, against one another.
#include <algorithm>
#include <cmath>

#include "engine/audit/rules.h"
#include "engine/text/number.h"

namespace leadline::audit {

namespace {

using knowledge::Cause;
using knowledge::KnowledgeBase;
using knowledge::Rule;

// A written chance contradicts its circuit when it is this far off in every sample boat where both speak. The word scale is coarse, and the size of a fault
// is drawn evenly over its range: less than this is a difference of opinion.
constexpr double contradiction = 0.5;
constexpr double least_noticed = 0.5;    // chance that the cause shows anything at all
constexpr double usual_sum = 1000, sum_tolerance = 100;

std::string chance_words(double chance) { return text::format_number(chance, 2); }

// Of several rules of one state that hold together the strongest counts.
bool decides(const KnowledgeBase& base, const Sample& sample, std::size_t cause, const Rule& rule) {
  const auto& rules = base.causes[cause].rules;
  const auto stronger = [&](const Rule& other) {
    return other.finding == rule.finding && other.state == rule.state && other.chance > rule.chance && sample.evaluation->holds(other.when);
  };
  return sample.evaluation->holds(rule.when) && std::none_of(rules.begin(), rules.end(), stronger);
}

// What the circuit of a sample says in place of the rule; nothing where the rule is not replaced.
std::optional<double> computed(const KnowledgeBase& base, const Sample& sample, std::size_t cause, const Rule& rule) {
  if (!sample.model_cause[cause] || !sample.boat.finding_applies[rule.finding.index] || !decides(base, sample, cause, rule)) return std::nullopt;
  const auto tie = sample.boat.expectation->tie_of(rule.finding.index);
  if (!tie || !sample.boat.expectation->governs(cause, tie->circuit)) return std::nullopt;
  const auto* push = diagnosis::push_on(sample.boat.model.causes[*sample.model_cause[cause]], rule.finding.index);
  return push == nullptr ? 0 : push->at_most[rule.state] - push->at_most[rule.state - 1];
}

void contradicted(const Book& book, std::size_t cause, const Rule& rule, Remarks& remarks) {
  std::vector<double> chances;
  for (const auto& sample : book.samples) {
    if (const auto chance = computed(book.base, sample, cause, rule)) chances.push_back(*chance);
  }
  const auto far = [&](double chance) { return std::abs(chance - rule.chance) > contradiction; };
  if (chances.empty() || !std::all_of(chances.begin(), chances.end(), far)) return;
  const auto [low, high] = std::minmax_element(chances.begin(), chances.end());
  const auto range = chance_words(*low) == chance_words(*high) ? chance_words(*low) : chance_words(*low) + " to " + chance_words(*high);
  const auto& finding = book.base[rule.finding];
  remarks.push_back({rule.place, "'" + finding.id + "' as '" + finding.states[rule.state].id + "' under '" + book.base.causes[cause].id + "': written " + chance_words(rule.chance) +
                                     ", computed " + range + " in " + std::to_string(chances.size()) + (chances.size() == 1 ? " sample boat" : " sample boats"),
                     "correct the rule, the bands or the effect: 'leadline expect' shows both", "against-circuit"});
}

bool likelier_with_it(const KnowledgeBase& base, const Shown& shown, std::size_t cause) {
  for (const auto& [finding, states] : shown.by(cause)) {
    for (std::size_t s = 1; s < states.size(); ++s) {
      if (states[s] > base.findings[finding].states[s].leak) return true;
    }
  }
  return false;
}

double unnoticed(const Shown& shown, std::size_t cause) {
  double nothing = 1;
  for (const auto& [finding, states] : shown.by(cause)) {
    double any = 0;
    for (const double chance : states) any += chance;
    nothing *= std::max(0.0, 1 - any);
  }
  return nothing;
}

bool share_a_state(const Shown& shown, std::size_t a, std::size_t b) {
  for (const auto& [finding, states] : shown.by(a)) {
    for (std::size_t s = 1; s < states.size(); ++s) {
      if (states[s] > 0 && shown.chance(b, finding, s) > 0) return true;
    }
  }
  return false;
}

}  // namespace

void rules_against_the_circuit(const Book& book, Remarks& remarks) {
  for (std::size_t i = 0; i < book.base.causes.size(); ++i) {
    for (const auto& rule : book.base.causes[i].rules) contradicted(book, i, rule, remarks);
  }
}

void causes_nobody_notices(const Book& book, Remarks& remarks) {
  for (std::size_t i = 0; i < book.base.causes.size(); ++i) {
    const auto& cause = book.base.causes[i];
    if (book.shown.by(i).empty()) continue;  // said as out of reach
    if (!likelier_with_it(book.base, book.shown, i)) {
      remarks.push_back({cause.place, "nothing that '" + cause.id + "' shows is likelier with it than without it", "raise a chance, or lower a leak", "cause-invisible"});
      continue;
    }
    const double nothing = unnoticed(book.shown, i);
    if (nothing <= 1 - least_noticed) continue;
    remarks.push_back({cause.place, "'" + cause.id + "' leaves nothing to see in " + text::format_number(100 * nothing, 0) + " of 100 cases", "add what it shows, or raise its chances", "cause-invisible"});
  }
}

void frequencies_that_do_not_add_up(const Book& book, Remarks& remarks) {
  double sum = 0;
  for (const auto& cause : book.base.causes) sum += cause.per_thousand;
  if (std::abs(sum - usual_sum) <= sum_tolerance) return;
  const auto* unlisted = book.pages.only("unlisted");
  remarks.push_back({unlisted != nullptr ? unlisted->place() : book.pages.front(), "the causes add up to " + text::format_number(sum, 0) + " of 1,000 call-outs",
                     "share them out anew: " + text::format_number(usual_sum - sum_tolerance, 0) + " to " + text::format_number(usual_sum + sum_tolerance, 0) + " together", "sum"});
}

void confusions_without_ground(const Book& book, Remarks& remarks) {
  for (std::size_t i = 0; i < book.base.causes.size(); ++i) {
    const auto& cause = book.base.causes[i];
    for (const auto& confusion : cause.confusions) {
      const auto& other = book.base[confusion.with];
      const auto place = book.pages.of("cause", cause.id).child("confused-with", "ref", other.id).place();
      if (confusion.with.index == i) remarks.push_back({place, "'" + cause.id + "' is said to be confused with itself", "leave it out, or name the other", "confusion"});
      else if (!share_a_state(book.shown, i, confusion.with.index)) {
        remarks.push_back({place, "'" + cause.id + "' is said to be confused with '" + other.id + "', but the two show nothing alike", "add what both show, or leave it out", "confusion"});
      }
    }
  }
}

}  // namespace leadline::audit
