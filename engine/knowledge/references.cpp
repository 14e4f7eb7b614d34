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

}  // namespace

void check_references(ReadContext& context) {
  const auto observers = observers_of(context.base);
  for (std::size_t i = 0; i < observers.size(); ++i) {
    const auto& finding = context.base.findings[i];
    const auto& element = context.pending["finding"][i].element;
    if (!observers[i].any) element.report(finding.place, "no check observes the finding '" + finding.id + "'", "add a <check> that does");
    else if (finding.complaint && !observers[i].owner) element.report(finding.place, "no check by the owner observes the complaint '" + finding.id + "'", "add a <check who=\"owner\">");
  }
}

}  // namespace leadline::knowledge
