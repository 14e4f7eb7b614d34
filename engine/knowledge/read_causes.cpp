// Causes and their rules.
#include <algorithm>

#include "engine/knowledge/chance.h"
#include "engine/knowledge/read_context.h"
#include "engine/text/number.h"

namespace leadline::knowledge {

namespace {

using markup::Element;

std::string chance_hint(const std::string& written) {
  const bool word = (written[0] >= 'a' && written[0] <= 'z') || (written[0] >= 'A' && written[0] <= 'Z');
  if (word) return text::suggestion(written, chance_words());
  return text::parse_number(written) ? "a number above 0 and at most 1, or a word of the scale" : text::number_hint(written);
}

// Not when the dominance of a reading was faulty: that is reported already, and which band is the normal one is not known.
bool order_known(const Finding& finding) { return !finding.unit || finding.is_reading(); }

// The states a rule may name: all but the normal one.
std::optional<std::size_t> read_rule_state(const Finding& finding, const Element& element) {
  const auto id = element.required("state");
  const auto state = find_state(finding, id);
  if (!state && !id.empty()) {
    element.report(element.place("state"), "the finding '" + finding.id + "' has no state '" + id + "'", text::suggestion(id, ids_of(finding.states)));
  } else if (state && *state == 0 && order_known(finding)) {
    element.report(element.place("state"), "'" + id + "' is the normal state of '" + finding.id + "'", "leave the rule out: no rule means no push");
    return std::nullopt;
  }
  return state;
}

std::optional<Rule> read_rule(ReadContext& context, const Element& element) {
  element.allow_only({"finding", "state", "chance", "when"}, {});
  const auto finding = read_reference(context.base.findings, element, "finding", "finding");
  const auto chance = read_chance(element, "chance");
  auto when = read_expression(context, element, "when", Wanted::condition);
  if (!finding) return std::nullopt;
  const auto state = read_rule_state(context.base[*finding], element);
  if (!state) return std::nullopt;
  return Rule{*finding, *state, chance, std::move(when), element.place()};
}

// Two rules without condition for one finding and state contradict each other; chances of one finding may not exceed 1.
void check_rules(const Cause& cause, const KnowledgeBase& base, const Element& element) {
  for (std::size_t i = 0; i < cause.rules.size(); ++i) {
    double sum = 0;
    for (std::size_t j = 0; j <= i; ++j) {
      const auto &a = cause.rules[i], &b = cause.rules[j];
      if (a.finding != b.finding || a.when || b.when) continue;
      sum += b.chance;
      if (i != j && a.state == b.state) element.report(a.place, "a second rule for '" + base[a.finding].id + "' in state '" + base[a.finding].states[a.state].id + "'", "first at " + to_string(b.place));
    }
    if (sum > 1 + 1e-9) element.report(cause.rules[i].place, "the chances of '" + base[cause.rules[i].finding].id + "' under this cause add up to " + text::format_number(sum, 3), "they must not exceed 1");
  }
}

void read_confusions(ReadContext& context, Cause& cause, const Element& element) {
  for (const auto& child : element.children("confused-with")) {
    child.allow_text({"ref"});
    const auto with = read_reference(context.base.causes, child, "ref", "cause");
    if (with) cause.confusions.push_back({*with, child.text()});
  }
}

void read_adjustments(ReadContext& context, Cause& cause, const Element& element) {
  for (const auto& child : element.children("adjust")) {
    child.allow_only({"when", "times"}, {});
    (void)child.required("when");
    const auto when = read_expression(context, child, "when", Wanted::condition);
    const auto times = child.number("times", 0, 1000);
    if (when) cause.adjustments.push_back({*when, times});
  }
}

void read_mends(ReadContext& context, Cause& cause, const Element& element) {
  for (const auto& child : element.children("remedy")) {
    child.allow_only({"ref", "mends"}, {});
    const auto remedy = read_reference(context.base.remedies, child, "ref", "remedy");
    Mend mend;
    if (child.has("mends")) mend.chance = read_chance(child, "mends");
    if (!remedy) continue;
    mend.remedy = *remedy;
    mend.place = child.place();
    const bool again = std::any_of(cause.mends.begin(), cause.mends.end(), [&](const auto& m) { return m.remedy == *remedy; });
    if (again) child.report(child.place("ref"), "the remedy '" + context.base[*remedy].id + "' is named twice", "keep one");
    else cause.mends.push_back(mend);
  }
}

void read_cause(ReadContext& context, Cause& cause, const Pending& pending) {
  const auto& element = pending.element;
  element.allow_only({"id", "item", "per-1000", "applies"}, {"title", "what", "why", "adjust", "shows", "effect", "confused-with", "remedy", "source"});
  cause.subsystem = pending.subsystem;
  cause.item = element.required("item");
  cause.title = element.child_text("title", true);
  cause.what = element.child_text("what", true);
  cause.why = element.child_text("why", true);
  cause.per_thousand = element.number("per-1000", 0.001, 500);
  cause.applies = read_expression(context, element, "applies", Wanted::condition);
  read_adjustments(context, cause, element);
  for (const auto& child : element.children("shows")) {
    if (auto rule = read_rule(context, child)) cause.rules.push_back(*std::move(rule));
  }
  check_rules(cause, context.base, element);
  for (const auto& child : element.children("effect")) {
    if (auto effect = read_effect(context, child)) cause.effects.push_back(*std::move(effect));
  }
  read_confusions(context, cause, element);
  read_mends(context, cause, element);
  cause.sources = read_sources(context, element);
  if (element.children("shows").empty()) element.report(element.place(), "'" + cause.id + "' shows nothing", "add <shows finding=\"…\"/>");
  if (element.children("remedy").empty()) element.report(element.place(), "'" + cause.id + "' has no <remedy>");
  if (element.children("source").empty()) element.report(element.place(), "'" + cause.id + "' has no <source>", "at least <source ref=\"estimate\"/>");
}

}  // namespace

double read_chance(const Element& element, const char* attribute) {
  const auto written = element.required(attribute);
  const auto chance = chance_of(written);
  if (!chance && !written.empty()) element.report(element.place(attribute), "'" + written + "' is no chance", chance_hint(written));
  return chance.value_or(0.5);
}

void read_causes(ReadContext& context) {
  auto& causes = context.base.causes;
  for (std::size_t i = 0; i < causes.size(); ++i) read_cause(context, causes[i], context.pending["cause"][i]);
}

}  // namespace leadline::knowledge
