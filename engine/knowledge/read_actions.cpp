// Checks and remedies: what a person does.
#include <algorithm>

#include "engine/knowledge/read_context.h"

namespace leadline::knowledge {

namespace {

using markup::Element;

// What checks and remedies have in common.
template <class Action>
void read_action(ReadContext& context, Action& action, const Pending& pending) {
  const auto& element = pending.element;
  action.subsystem = pending.subsystem;
  action.title = element.child_text("title", true);
  action.effort = read_effort(context, element);
  action.who = read_who(element);
  action.precautions = read_references(context.base.precautions, element, "precaution", "ref", "precaution");
  action.steps = read_texts(element, "step");
  action.sources = read_sources(context, element);
  action.applies = read_expression(context, element, "applies", Wanted::condition);
  if (action.steps.empty()) element.report(element.place(), "'" + action.id + "' has no <step>", "say what to do");
}

bool begins_a_part(const KnowledgeBase& base, const std::string& prefix) {
  return std::any_of(base.circuits.begin(), base.circuits.end(), [&](const auto& circuit) {
    return std::any_of(circuit.parts.begin(), circuit.parts.end(), [&](const auto& part) { return part.id.starts_with(prefix); });
  });
}

void read_check(ReadContext& context, Check& check, const Pending& pending) {
  const auto& element = pending.element;
  element.allow_only({"id", "minutes", "who", "place", "at", "condition", "hands", "water", "daylight", "engine", "applies", "parts-run"},
                     {"title", "precaution", "tool", "step", "observes", "needs", "source"});
  read_action(context, check, pending);
  check.where = element.required("place");
  check.observes = read_references(context.base.findings, element, "observes", "finding", "finding");
  if (element.children("observes").empty()) element.report(element.place(), "'" + check.id + "' observes nothing", "add <observes finding=\"…\"/>");
  check.needs = read_needs(context, element, check.observes);
  check.parts_run = element.optional("parts-run");
  if (!check.parts_run.empty() && !begins_a_part(context.base, check.parts_run)) {
    element.report(element.place("parts-run"), "no part of a circuit has an id that begins with '" + check.parts_run + "'", "write how the ids of the run's parts begin");
  }
}

void read_remedy(ReadContext& context, Remedy& remedy, const Pending& pending) {
  const auto& element = pending.element;
  element.allow_only({"id", "minutes", "who", "at", "condition", "hands", "water", "daylight", "engine", "fetch", "applies"},
                     {"title", "precaution", "tool", "part", "step", "proof", "source"});
  read_action(context, remedy, pending);
  if (element.has("fetch")) remedy.fetch = element.number("fetch", 0, longest_minutes);
  remedy.parts = read_texts(element, "part");
  for (const auto& proof : element.children("proof")) {
    proof.allow_text({"check"});
    const auto check = read_reference(context.base.checks, proof, "check", "check");
    if (check) remedy.proofs.push_back({*check, proof.text()});
  }
  if (element.children("proof").empty()) element.report(element.place(), "'" + remedy.id + "' has no <proof>", "say which check proves it");
}

}  // namespace

void read_actions(ReadContext& context) {
  auto& base = context.base;
  for (std::size_t i = 0; i < base.checks.size(); ++i) read_check(context, base.checks[i], context.pending["check"][i]);
  for (std::size_t i = 0; i < base.remedies.size(); ++i) read_remedy(context, base.remedies[i], context.pending["remedy"][i]);
}

}  // namespace leadline::knowledge
