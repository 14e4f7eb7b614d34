// Sources, precautions, the facts of the installation record, derived quantities, and the unlisted cause.
#include <algorithm>
#include <functional>

#include "engine/knowledge/read_context.h"
#include "engine/text/number.h"

namespace leadline::knowledge {

namespace {

using markup::Element;

void read_source(Source& source, const Element& element) {
  element.allow_only({"id", "kind"}, {"title"});
  source.kind = element.one_of("kind", {"standard", "regulation", "handbook", "paper", "common-practice", "estimate"});
  source.title = element.child_text("title", true);
}

void read_precaution(Precaution& precaution, const Element& element) {
  element.allow_only({"id", "forbids"}, {"title", "do"});
  precaution.forbids_afloat = element.has("forbids") && element.one_of("forbids", {"afloat"}) == "afloat";
  precaution.title = element.child_text("title", true);
  precaution.what_to_do = element.child_text("do", true);
}

std::vector<Choice> read_choices(ReadContext& context, const Element& element, FactType type, const std::string& type_word) {
  std::vector<Choice> choices;
  if (type_word == "yes-no") return {{"yes", "yes"}, {"no", "no"}};
  if (type == FactType::number) {
    std::string rest = element.optional("choices");
    while (!rest.empty()) {
      const auto word = rest.substr(0, rest.find(' '));
      rest = rest.size() > word.size() ? rest.substr(word.size() + 1) : "";
      if (!text::parse_number(word)) element.report(element.place("choices"), "'" + word + "' is not a number", text::number_hint(word));
      choices.push_back({word, word});
    }
  }
  for (const auto& child : element.children("choice")) {
    child.allow_text({"id", "where"});
    choices.push_back({child.required("id"), child.text(), read_expression(context, child, "where", Wanted::condition)});
    const auto same = std::count_if(choices.begin(), choices.end(), [&](const auto& c) { return c.id == choices.back().id; });
    if (same > 1) child.report(child.place("id"), "the choice '" + choices.back().id + "' is given twice");
  }
  if (type == FactType::choice && choices.empty()) element.report(element.place(), "a choice without choices", "add <choice id=\"…\">");
  return choices;
}

// `value`, as the attribute of that name gives it.
void check_assumed(const Fact& fact, const std::string& value, const Element& element, const char* attribute) {
  if (value.empty()) return;
  const auto words = ids_of(fact.choices);
  const auto quoted = std::string("'") + attribute + "'";
  if (!words.empty() && std::find(words.begin(), words.end(), value) == words.end()) {
    element.report(element.place(attribute), "'" + value + "' is none of the choices", text::suggestion(value, words));
  }
  if (fact.type != FactType::number) return;
  const auto number = text::parse_number(value);
  if (!number) element.report(element.place(attribute), "'" + value + "' is not a number", text::number_hint(value));
  else if (fact.least && *number < *fact.least) element.report(element.place(attribute), quoted + " is below 'least'");
  else if (fact.most && *number > *fact.most) element.report(element.place(attribute), quoted + " is above 'most'");
}

// The usual value must go with every boat: a choice that only some can have is assumed where they are named.
void check_assumed(const Fact& fact, const Element& element) {
  check_assumed(fact, fact.assume, element, "assume");
  const auto choice = find_id(fact.choices, fact.assume);
  if (choice && fact.choices[choice->index].where) element.report(element.place("assume"), "'" + fact.assume + "' is not possible on every boat", "assume a choice without 'where', and this one in an <assume value=\"…\" where=\"…\"/>");
}

void read_assumed_where(ReadContext& context, Fact& fact, const Element& element) {
  for (const auto& child : element.children("assume")) {
    child.allow_only({"value", "where"}, {});
    const auto value = child.required("value");
    check_assumed(fact, value, child, "value");
    (void)child.required("where");
    if (const auto where = read_expression(context, child, "where", Wanted::condition)) fact.assume_where.push_back({value, *where});
  }
}

Intake read_intake(const Element& element) {
  if (!element.has("intake")) return Intake::never;
  return element.one_of("intake", {"first", "when-needed"}) == "first" ? Intake::first : Intake::when_needed;
}

Fact read_fact(ReadContext& context, const Element& element, const std::string& owner) {
  element.allow_only({"name", "type", "unit", "choices", "assume", "intake", "drawn", "least", "most"}, {"ask", "choice", "assume"});
  Fact fact;
  fact.element = owner;
  fact.place = element.place();
  fact.name = element.required("name");
  const auto type = element.one_of("type", {"number", "choice", "yes-no", "text"});
  fact.type = type == "number" ? FactType::number : type == "text" ? FactType::text : FactType::choice;
  fact.assume = element.required("assume");
  fact.unit = element.optional("unit");
  fact.choices = read_choices(context, element, fact.type, type);
  constexpr double widest = 1e9;
  if (element.has("least")) fact.least = element.number("least", -widest, widest);
  if (element.has("most")) fact.most = element.number("most", -widest, widest);
  fact.intake = read_intake(element);
  fact.drawn = element.yes("drawn");
  fact.ask = element.child_text("ask", fact.intake != Intake::never);
  check_assumed(fact, element);
  read_assumed_where(context, fact, element);
  if (find_fact(context.base, owner, fact.name)) element.report(element.place("name"), "the fact '" + fact.path() + "' is declared twice");
  return fact;
}

void read_element(ReadContext& context, const Element& element) {
  element.allow_only({"path", "repeats", "optional"}, {"fact"});
  const auto name = element.required("path");
  const auto same = [&](const RecordElement& e) { return e.name == name; };
  auto& elements = context.base.elements;
  if (std::any_of(elements.begin(), elements.end(), same)) element.report(element.place("path"), "the element '" + name + "' is declared twice");
  elements.push_back({name, element.yes("repeats"), element.yes("optional"), element.place()});
  for (const auto& child : element.children("fact")) context.base.facts.push_back(read_fact(context, child, name));
}

// Orders quantities so that each uses only earlier ones; reports the first cycle as a path.
void order_quantities(ReadContext& context, const std::vector<Pending>& pending) {
  std::vector<Quantity> ordered;
  auto& all = context.base.quantities;
  std::vector<int> visit(all.size(), 0);  // 0 not yet, 1 on the way, 2 done
  std::vector<std::string> path;
  const std::function<void(std::size_t)> place = [&](std::size_t i) {
    if (visit[i] == 2) return;
    path.push_back(all[i].name);
    if (visit[i] == 1) {
      std::string shown;
      for (auto at = std::find(path.begin(), path.end(), all[i].name); at != path.end(); ++at) shown += (shown.empty() ? "$" : " -> $") + *at;
      pending[i].element.report(pending[i].element.place("value"), "the quantities form a cycle: " + shown, "write one of them without the others");
    } else {
      visit[i] = 1;
      for (const auto& used : quantities_used(all[i].value.text)) {
        const auto found = std::find_if(all.begin(), all.end(), [&](const auto& q) { return q.name == used; });
        if (found != all.end()) place(static_cast<std::size_t>(found - all.begin()));
      }
      visit[i] = 2;
      ordered.push_back(all[i]);
    }
    path.pop_back();
  };
  for (std::size_t i = 0; i < all.size(); ++i) place(i);
  if (ordered.size() == all.size()) all = std::move(ordered);
}

void read_quantities(ReadContext& context) {
  const auto& pending = context.pending["quantity"];
  for (const auto& [element, subsystem] : pending) {
    element.allow_only({"name", "unit", "value"}, {});
    const auto name = element.required("name");
    const auto same = [&](const Quantity& q) { return q.name == name; };
    if (std::any_of(context.base.quantities.begin(), context.base.quantities.end(), same)) element.report(element.place("name"), "the quantity '$" + name + "' is declared twice");
    context.base.quantities.push_back({name, element.optional("unit"), {element.required("value"), element.place("value")}});
  }
  for (const auto& [element, subsystem] : pending) (void)read_expression(context, element, "value", Wanted::number);
  order_quantities(context, pending);
}

void read_unlisted(ReadContext& context) {
  const auto& pending = context.pending["unlisted"];
  for (const auto& [element, subsystem] : pending) {
    element.allow_only({"per-1000", "chance", "together", "new-fault"}, {"source"});
    if (&element != &pending.front().element) element.report(element.place(), "the unlisted cause is given twice", "keep one");
    auto& unlisted = context.base.unlisted;
    unlisted.per_thousand = element.number("per-1000", 0.1, 500);
    unlisted.chance = element.number("chance", 0.01, 0.95);
    unlisted.together = element.number("together", 0.001, 0.9);
    if (element.has("new-fault")) unlisted.new_fault = element.number("new-fault", 0.0001, 0.5);
    unlisted.sources = read_sources(context, element);
    unlisted.place = element.place();
  }
}

}  // namespace

void read_record(ReadContext& context) {
  auto& base = context.base;
  for (std::size_t i = 0; i < base.sources.size(); ++i) read_source(base.sources[i], context.pending["source"][i].element);
  for (std::size_t i = 0; i < base.precautions.size(); ++i) read_precaution(base.precautions[i], context.pending["precaution"][i].element);
  for (const auto& pending : context.pending["element"]) read_element(context, pending.element);
  read_quantities(context);
  read_unlisted(context);
}

}  // namespace leadline::knowledge
