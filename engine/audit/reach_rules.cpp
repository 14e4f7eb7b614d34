#include <algorithm>

#include "engine/audit/rules.h"

namespace leadline::audit {

namespace {

using knowledge::Cause;
using knowledge::Check;
using knowledge::Expression;
using knowledge::Finding;
using knowledge::KnowledgeBase;

constexpr double least_mending = 0.5;  // a remedy that fails as often as it helps is no remedy

std::string quoted(const std::string& id) { return "'" + id + "'"; }

void one_condition(const Book& book, const std::optional<Expression>& condition, const std::string& of, Remarks& remarks) {
  if (!condition) return;
  if (book.boats.never({&*condition})) remarks.push_back({condition->place, "this condition of " + of + " holds in no boat", "correct it", "never-holds"});
  else if (book.boats.always(*condition)) remarks.push_back({condition->place, "this condition of " + of + " holds in every boat", "leave it out, or correct it", "always-holds"});
}

template <class Item>
void conditions_of(const Book& book, const std::vector<Item>& items, const char* kind, Remarks& remarks) {
  for (const auto& item : items) one_condition(book, item.applies, std::string("the ") + kind + " " + quoted(item.id), remarks);
}

// A condition inside a cause is judged in boats where the cause can be.
void inner_condition(const Book& book, const Cause& cause, const std::optional<Expression>& condition, const std::string& of, Remarks& remarks) {
  if (!condition || book.boats.never(together({&cause.applies})) || !book.boats.never(together({&cause.applies, &condition}))) return;
  const bool alone = book.boats.never({&*condition});
  remarks.push_back({condition->place, "this condition of " + of + " of " + quoted(cause.id) + " holds in no boat" + (alone ? "" : " where the cause can be"), "correct it", "never-holds"});
}

void rules_never_used(const Book& book, const Cause& cause, bool shows_anything, Remarks& remarks) {
  for (const auto& rule : cause.rules) {
    const auto& finding = book.base[rule.finding];
    inner_condition(book, cause, rule.when, "a rule", remarks);
    if (!shows_anything) continue;  // said of the cause
    if (book.boats.never(together({&cause.applies, &rule.when})) || book.boats.never(together({&finding.applies}))) continue;
    if (!book.boats.never(together({&cause.applies, &rule.when, &finding.applies}))) continue;
    remarks.push_back({rule.place, "no boat can have both the cause " + quoted(cause.id) + " and the finding " + quoted(finding.id) + ", so this rule is never used",
                       "leave it out, or widen one of the conditions", "never-used"});
  }
}

bool can_be_seen(const Book& book, const Cause& cause, std::size_t finding) {
  const auto& base = book.base;
  return std::any_of(base.checks.begin(), base.checks.end(), [&](const Check& check) {
    const bool observes = std::any_of(check.observes.begin(), check.observes.end(), [&](auto ref) { return ref.index == finding; });
    return observes && !book.boats.never(together({&cause.applies, &base.findings[finding].applies, &check.applies}));
  });
}

void unseen_cause(const Book& book, std::size_t index, Remarks& remarks) {
  const auto& cause = book.base.causes[index];
  const auto& shown = book.shown.by(index);
  if (shown.empty()) {
    remarks.push_back({cause.place, quoted(cause.id) + " shows nothing in any boat where it can be", "correct its rules or their conditions", "cause-unreachable"});
    return;
  }
  const bool seen = std::any_of(shown.begin(), shown.end(), [&](const auto& finding) { return can_be_seen(book, cause, finding.first); });
  if (!seen) {
    remarks.push_back({cause.place, "no check observes anything that " + quoted(cause.id) + " shows, in any boat where it can be",
                       "add a check, or widen the condition of one", "cause-unreachable"});
  }
}

std::string in_a_hundred(double chance) { return std::to_string(static_cast<int>(chance * 100 + 0.5)) + " of 100"; }

void unmended_cause(const Book& book, const Cause& cause, Remarks& remarks) {
  const knowledge::Mend* best = nullptr;
  for (const auto& mend : cause.mends) {
    const auto& remedy = book.base[mend.remedy];
    const bool possible = !book.boats.never(together({&cause.applies, &remedy.applies}));
    if (possible && (best == nullptr || mend.chance > best->chance)) best = &mend;
    if (possible || book.boats.never(together({&remedy.applies}))) continue;  // the latter is said of the remedy
    remarks.push_back({book.pages.of("cause", cause.id).child("remedy", "ref", remedy.id).place(), "the remedy " + quoted(remedy.id) + " can be done in no boat where " + quoted(cause.id) + " can be",
                       "name another, or widen its condition", "cause-unmended"});
  }
  if (best == nullptr || best->chance > least_mending) return;
  remarks.push_back({cause.place, "no remedy mends " + quoted(cause.id) + " more often than not: " + quoted(book.base[best->remedy].id) + " does in " + in_a_hundred(best->chance),
                     "add one that does", "cause-unmended"});
}

std::string hidden_by(const Finding& finding, std::size_t state, const Shown& shown, std::size_t index) {
  for (std::size_t weaker = state; weaker-- > 1;) {
    if (shown.anyhow(index, weaker)) return finding.states[weaker].id;
  }
  return "";
}

// Can the check be done in a boat where some cause shows the finding?
bool tells_of(const Book& book, const Check& check, std::size_t finding) {
  for (std::size_t i = 0; i < book.base.causes.size(); ++i) {
    const bool shows = book.shown.by(i).contains(finding);
    if (shows && book.boats.never(together({&book.base.causes[i].applies}))) return true;  // which is said of the cause
    if (shows && !book.boats.never(together({&book.base.causes[i].applies, &book.base.findings[finding].applies, &check.applies}))) return true;
  }
  return false;
}

// Findings that no cause shows are said on their own.
bool blind(const Book& book, const Check& check) {
  bool explained = false;
  for (const auto finding : check.observes) {
    if (tells_of(book, check, finding.index)) return false;
    explained |= book.shown.anyhow(finding.index);
  }
  return explained && !book.boats.never(together({&check.applies}));
}

// What a proof would have to look at: the findings that the cause shows most surely.
std::string surest(const Book& book, std::size_t cause) {
  std::vector<std::pair<double, std::size_t>> findings;
  for (const auto& [finding, states] : book.shown.by(cause)) findings.emplace_back(-*std::max_element(states.begin(), states.end()), finding);
  std::sort(findings.begin(), findings.end());
  std::string words;
  for (std::size_t f = 0; f < std::min<std::size_t>(findings.size(), 3); ++f) words += (f == 0 ? "" : ", ") + quoted(book.base.findings[findings[f].second].id);
  return words;
}

bool proves(const Book& book, const Check& check, std::size_t cause) {
  const auto& shown = book.shown.by(cause);
  return std::any_of(check.observes.begin(), check.observes.end(), [&](auto ref) { return shown.contains(ref.index); });
}

void blind_proofs(const Book& book, std::size_t index, Remarks& remarks) {
  const auto& cause = book.base.causes[index];
  for (const auto& mend : cause.mends) {
    const auto& remedy = book.base[mend.remedy];
    const bool proved = std::any_of(remedy.proofs.begin(), remedy.proofs.end(), [&](const auto& proof) { return proves(book, book.base[proof.check], index); });
    if (proved || book.shown.by(index).empty()) continue;
    remarks.push_back({book.pages.of("cause", cause.id).child("remedy", "ref", remedy.id).place(),
                       "no proof of the remedy " + quoted(remedy.id) + " looks at anything that " + quoted(cause.id) + " shows",
                       "add to the remedy a <proof> by a check of " + surest(book, index), "blind-proof"});
  }
}

void impossible_proofs(const Book& book, const knowledge::Remedy& remedy, Remarks& remarks) {
  for (const auto& proof : remedy.proofs) {
    const auto& check = book.base[proof.check];
    if (book.boats.never(together({&remedy.applies})) || !book.boats.never(together({&remedy.applies, &check.applies}))) continue;
    remarks.push_back({book.pages.of("remedy", remedy.id).child("proof", "check", check.id).place(), "the proof " + quoted(check.id) + " can be made in no boat where " + quoted(remedy.id) + " is done",
                       "name another, or widen its condition", "blind-proof"});
  }
}

}  // namespace

void conditions_that_never_hold(const Book& book, Remarks& remarks) {
  conditions_of(book, book.base.findings, "finding", remarks);
  conditions_of(book, book.base.checks, "check", remarks);
  conditions_of(book, book.base.remedies, "remedy", remarks);
  conditions_of(book, book.base.causes, "cause", remarks);
  for (std::size_t i = 0; i < book.base.causes.size(); ++i) {
    const auto& cause = book.base.causes[i];
    for (const auto& adjustment : cause.adjustments) inner_condition(book, cause, adjustment.when, "an adjustment", remarks);
    for (const auto& effect : cause.effects) inner_condition(book, cause, effect.when, "an effect", remarks);
    if (!book.boats.never(together({&cause.applies}))) rules_never_used(book, cause, !book.shown.by(i).empty(), remarks);
  }
  for (const auto& circuit : book.base.circuits) {
    for (const auto& part : circuit.parts) {
      if (part.each.empty()) one_condition(book, part.when, "the part " + quoted(part.id), remarks);
    }
  }
}

void causes_out_of_reach(const Book& book, Remarks& remarks) {
  for (std::size_t i = 0; i < book.base.causes.size(); ++i) {
    const auto& cause = book.base.causes[i];
    if (book.boats.never(together({&cause.applies}))) continue;  // said already
    unseen_cause(book, i, remarks);
    unmended_cause(book, cause, remarks);
  }
}

void findings_without_cause(const Book& book, Remarks& remarks) {
  for (std::size_t j = 0; j < book.base.findings.size(); ++j) {
    const auto& finding = book.base.findings[j];
    const bool sampled = !finding.measure || std::any_of(book.samples.begin(), book.samples.end(), [&](const auto& sample) { return sample.measures(j); });
    if (!sampled) continue;  // what its circuit would say is not known
    if (!book.shown.anyhow(j)) {
      remarks.push_back({finding.place, "no cause shows " + quoted(finding.id), "add a rule, or leave the finding out", "finding-unexplained"});
      continue;
    }
    for (std::size_t s = 1; s < finding.states.size(); ++s) {
      const auto hidden = hidden_by(finding, s, book.shown, j);
      if (book.shown.anyhow(j, s) || hidden.empty() || says_normal(finding.states[s].id)) continue;
      remarks.push_back({finding.states[s].place, "no cause shows " + quoted(finding.id) + " as " + quoted(finding.states[s].id) + ", which hides " + quoted(hidden),
                         finding.is_reading() ? "add a rule, or let it stand before the others in the dominance" : "add a rule, or move it up", "state-unexplained"});
    }
  }
}

void checks_and_proofs_that_tell_nothing(const Book& book, Remarks& remarks) {
  for (const auto& check : book.base.checks) {
    if (!blind(book, check)) continue;
    remarks.push_back({check.place, "the check " + quoted(check.id) + " observes nothing that any cause shows where it can be done", "widen its condition, or leave it out", "check-blind"});
  }
  for (std::size_t i = 0; i < book.base.causes.size(); ++i) blind_proofs(book, i, remarks);
  for (const auto& remedy : book.base.remedies) impossible_proofs(book, remedy, remarks);
}

}  // namespace leadline::audit
