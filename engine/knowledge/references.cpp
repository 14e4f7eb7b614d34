// What can be judged only when the whole base is read: can every finding be observed, does every complaint reach the owner?
#include <algorithm>

#include "engine/knowledge/read_context.h"

namespace leadline::knowledge {

namespace {

struct Observers {
  bool any = false;
  bool owner = false;
};

std::vector<Observers> observers_of(const KnowledgeBase& base) {
  std::vector<Observers> observers(base.findings.size());
  for (const auto& check : base.checks) {
    for (const auto finding : check.observes) {
      observers[finding.index].any = true;
      observers[finding.index].owner |= check.who == Who::owner;
    }
  }
  return observers;
}

// A question is left out for an answer that came before it, so that one comes first in every check that asks both.
void check_order(const KnowledgeBase& base, const Check& check, const markup::Element& element) {
  const auto observed = element.children("observes");
  const auto asked_at = [&](Ref<Finding> finding) { return std::find(check.observes.begin(), check.observes.end(), finding) - check.observes.begin(); };
  for (const auto finding : check.observes) {
    for (const auto& needs : base[finding].needs) {
      const auto at = asked_at(needs.finding);
      if (at <= asked_at(finding) || at == std::ssize(check.observes) || observed.size() != check.observes.size()) continue;
      const auto& child = observed[static_cast<std::size_t>(asked_at(finding))];
      child.report(child.place("finding"), "'" + check.id + "' asks '" + base[finding].id + "' before '" + base[needs.finding].id + "', which it needs", "change their order");
    }
  }
}

// What must be afloat and may not be is never done.
template <class Action>
void check_water(const ReadContext& context, const std::vector<Action>& actions, const char* kind) {
  for (std::size_t i = 0; i < actions.size(); ++i) {
    const auto& element = context.pending.at(kind)[i].element;
    for (const auto precaution : actions[i].precautions) {
      if (actions[i].effort.water != Water::afloat || !context.base[precaution].forbids_afloat) continue;
      element.report(element.place("water"), "'" + actions[i].id + "' is done afloat, which its precaution '" + context.base[precaution].id + "' forbids", "write water=\"ashore\"");
    }
  }
}

}  // namespace

void check_references(ReadContext& context) {
  const auto observers = observers_of(context.base);
  for (std::size_t i = 0; i < observers.size(); ++i) {
    const auto& finding = context.base.findings[i];
    const auto& element = context.pending["finding"][i].element;
    if (!observers[i].any) element.report(finding.place, "no check observes the finding '" + finding.id + "'", "add a <check> that does");
    else if (finding.complaint && !observers[i].owner) element.report(finding.place, "no check by the owner observes the complaint '" + finding.id + "'", "add a <check who=\"owner\">");
  }
  for (std::size_t c = 0; c < context.base.checks.size(); ++c) check_order(context.base, context.base.checks[c], context.pending["check"][c].element);
  check_water(context, context.base.checks, "check");
  check_water(context, context.base.remedies, "remedy");
}

}  // namespace leadline::knowledge
