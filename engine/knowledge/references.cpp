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
  check_water(context, context.base.checks, "check");
  check_water(context, context.base.remedies, "remedy");
}

}  // namespace leadline::knowledge
