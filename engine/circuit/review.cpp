#include "engine/circuit/review.h"

#include <algorithm>

#include "engine/circuit/review_facts.h"
#include "engine/installation/evaluation.h"

namespace leadline::circuit {

namespace {

std::ptrdiff_t order_of(const Remark& remark) {
  const auto rules = review_rules();
  return std::find_if(rules.begin(), rules.end(), [&](const auto& rule) { return rule.id == remark.rule; }) - rules.begin();
}

bool before(const Remark& a, const Remark& b) {
  if (a.severity != b.severity) return a.severity == Severity::wrong;
  return order_of(a) < order_of(b);
}

// A cause the book does not hold, or that cannot be in this boat, is not raised.
void keep_possible_causes(const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation, Remark& remark) {
  std::erase_if(remark.causes, [&](const std::string& id) {
    const auto cause = knowledge::find_id(base.causes, id);
    return !cause || !evaluation.holds(base[*cause].applies);
  });
}

}  // namespace

std::vector<Remark> review(const knowledge::KnowledgeBase& base, const installation::Installation& boat) {
  Remarks remarks;
  for (const auto part : {review_cables, review_fuse, review_bank, review_charging, review_supply, review_string, review_branches, review_terminators,
                          review_stations}) {
    part(boat, remarks);
  }
  const installation::Evaluation evaluation(base, boat);
  for (auto& remark : remarks) keep_possible_causes(base, evaluation, remark);
  std::stable_sort(remarks.begin(), remarks.end(), before);
  return remarks;
}

}  // namespace leadline::circuit
