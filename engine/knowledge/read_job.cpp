// What a job takes: places, conditions, tools, the price of giving up; and what checks and remedies say of them.
#include <algorithm>

#include "engine/knowledge/read_context.h"

namespace leadline::knowledge {

namespace {

using markup::Element;

void read_place(ReadContext& context, WorkPlace& place, const Element& element) {
  element.allow_only({"id", "reach", "covers"}, {"title", "source"});
  place.title = element.child_text("title", true);
  place.reach = element.number("reach", 0, longest_minutes);
  place.covers = element.number("covers", 0, longest_minutes);
  place.sources = read_sources(context, element);
}

void read_condition(ReadContext& context, Condition& condition, const Element& element) {
  element.allow_only({"id", "minutes", "wait"}, {"title", "source"});
  condition.title = element.child_text("title", true);
  condition.minutes = element.number("minutes", 0, longest_minutes);
  if (element.has("wait")) condition.wait = element.number("wait", 0, longest_minutes);
  condition.sources = read_sources(context, element);
}

void read_tool(Tool& tool, const Element& element) {
  element.allow_text({"id", "usual"});
  tool.title = element.text();
  tool.usual = !element.has("usual") || element.yes("usual");
}

void read_giving_up(ReadContext& context, const Element& element) {
  element.allow_only({"who", "minutes"}, {"words", "source"});
  GivingUp price;
  price.who = read_who(element);
  price.minutes = element.number("minutes", 0, longest_minutes);
  price.words = element.child_text("words", true);
  price.sources = read_sources(context, element);
  price.place = element.place();
  auto& all = context.base.giving_up;
  const auto first = std::find_if(all.begin(), all.end(), [&](const auto& g) { return g.who == price.who; });
  if (first == all.end()) all.push_back(std::move(price));
  else element.report(element.place(), "a second <giving-up> for '" + std::string(to_string(price.who)) + "'", "first at " + to_string(first->place));
}

std::vector<Ref<Tool>> read_tools(const ReadContext& context, const Element& element) {
  std::vector<Ref<Tool>> tools;
  for (const auto& child : element.children("tool")) {
    child.allow_only({"ref"}, {});
    const auto tool = read_reference(context.base.tools, child, "ref", "tool");
    if (tool) tools.push_back(*tool);
  }
  return tools;
}

Water read_water(const Element& element) {
  if (!element.has("water")) return Water::any;
  const auto word = element.one_of("water", {"afloat", "ashore"});
  return word == "afloat" ? Water::afloat : word == "ashore" ? Water::ashore : Water::any;
}

int read_hands(const Element& element) {
  if (!element.has("hands")) return 1;
  const auto word = element.one_of("hands", {"1", "2", "3"});
  return word.empty() ? 1 : word[0] - '0';
}

}  // namespace

std::vector<std::size_t> read_states_named(const Finding& finding, const Element& element) {
  std::vector<std::size_t> states;
  for (const auto& word : words_of(element.required("state"))) {
    const auto state = find_state(finding, word.text);
    if (!state) report_word(element, "state", word, "the finding '" + finding.id + "' has no state '" + word.text + "'", text::suggestion(word.text, ids_of(finding.states)));
    else states.push_back(*state);
  }
  std::sort(states.begin(), states.end());
  if (std::adjacent_find(states.begin(), states.end()) != states.end()) element.report(element.place("state"), "a state is named twice", "keep one");
  return states;
}

Who read_who(const Element& element) {
  const auto word = element.one_of("who", {"owner", "technician", "specialist"});
  return word == "owner" ? Who::owner : word == "specialist" ? Who::specialist : Who::technician;
}

Effort read_effort(ReadContext& context, const Element& element) {
  Effort effort;
  effort.minutes = element.number("minutes", 0, longest_minutes);
  effort.places = read_named(context.base.places, element, "at", "place");
  if (element.has("condition")) effort.condition = read_reference(context.base.conditions, element, "condition", "condition");
  effort.hands = read_hands(element);
  effort.water = read_water(element);
  effort.daylight = element.yes("daylight");
  effort.engine = element.yes("engine");
  effort.tools = read_tools(context, element);
  return effort;
}

std::vector<Needs> read_needs(ReadContext& context, const Element& element, const std::vector<Ref<Finding>>& observes) {
  std::vector<Needs> needs;
  for (const auto& child : element.children("needs")) {
    child.allow_only({"finding", "state"}, {});
    const auto ref = read_reference(context.base.findings, child, "finding", "finding");
    if (!ref) continue;
    const auto& finding = context.base[*ref];
    auto states = read_states_named(finding, child);
    const bool observed = std::find(observes.begin(), observes.end(), *ref) != observes.end();
    const bool again = std::any_of(needs.begin(), needs.end(), [&](const auto& n) { return n.finding == *ref; });
    const bool of_a_check = element.name() == "check";
    if (observed && of_a_check) child.report(child.place("finding"), "this check needs the finding '" + finding.id + "', which it observes itself", "remove <needs>");
    if (observed && !of_a_check) child.report(child.place("finding"), "the finding '" + finding.id + "' needs itself", "remove <needs>");
    if (again) child.report(child.place("finding"), "a second <needs> for the finding '" + finding.id + "'", "name all states in one");
    if (states.size() >= finding.states.size()) child.report(child.place("state"), "every state of '" + finding.id + "' is named, so nothing is needed", "remove <needs>");
    needs.push_back({*ref, std::move(states)});
  }
  return needs;
}

void read_job(ReadContext& context) {
  auto& base = context.base;
  for (std::size_t i = 0; i < base.places.size(); ++i) read_place(context, base.places[i], context.pending["place"][i].element);
  for (std::size_t i = 0; i < base.conditions.size(); ++i) read_condition(context, base.conditions[i], context.pending["condition"][i].element);
  for (std::size_t i = 0; i < base.tools.size(); ++i) read_tool(base.tools[i], context.pending["tool"][i].element);
  for (const auto& pending : context.pending["giving-up"]) read_giving_up(context, pending.element);
}

}  // namespace leadline::knowledge
