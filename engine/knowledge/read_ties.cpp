// What ties findings and causes to circuits: measurements and effects.
#include <algorithm>

#include "engine/knowledge/read_context.h"

namespace leadline::knowledge {

namespace {

using markup::Element;

std::vector<std::string> node_names(const CircuitPage& page) {
  std::vector<std::string> names;
  for (const auto& part : page.parts) {
    for (const auto& node : {part.from, part.to}) {
      if (std::find(names.begin(), names.end(), node) == names.end()) names.push_back(node);
    }
  }
  return names;
}

// A node of a repeated part has a name only in a boat: one with braces in the page admits any name here.
bool may_exist(const std::vector<std::string>& names, const std::string& name) {
  const auto matches = [&](const std::string& known) {
    const auto brace = known.find('{');
    if (brace == std::string::npos) return known == name;
    const auto close = known.find('}', brace);
    const auto head = known.substr(0, brace), tail = close == std::string::npos ? "" : known.substr(close + 1);
    return name.size() >= head.size() + tail.size() && name.starts_with(head) && name.ends_with(tail);
  };
  return std::any_of(names.begin(), names.end(), matches);
}

void check_node(const CircuitPage& page, const Element& element, const char* attribute) {
  const auto name = element.required(attribute);
  const auto names = node_names(page);
  if (name.empty() || name.find('{') != std::string::npos || may_exist(names, name)) return;
  element.report(element.place(attribute), "the circuit '" + page.id + "' has no place '" + name + "'", text::suggestion(name, names));
}

std::vector<std::string> part_ids(const CircuitPage& page) {
  std::vector<std::string> ids;
  for (const auto& part : page.parts) ids.push_back(part.id);
  return ids;
}

// Whether a pattern with at most one * fits an id, which may hold a {@fact}.
bool fits(const std::string& pattern, const std::string& id) {
  const auto star = pattern.find('*');
  if (star == std::string::npos) return may_exist({id}, pattern);
  const auto head = pattern.substr(0, star), tail = pattern.substr(star + 1);
  return id.starts_with(head) && id.ends_with(tail);
}

std::optional<std::size_t> read_circuit_reference(ReadContext& context, const Element& element) {
  const auto circuit = read_reference(context.base.circuits, element, "circuit", "circuit");
  return circuit ? std::optional(circuit->index) : std::nullopt;
}

std::optional<Probe> read_probe(const ReadContext& context, const CircuitPage& page, const Element& element, ProbeKind kind) {
  if (kind == ProbeKind::amps) element.allow_only({"in", "of", "weight", "each"}, {});
  else element.allow_only({"in", "from", "to", "weight", "each"}, {});
  Probe probe;
  probe.kind = kind;
  probe.each = read_each(context, element);
  const auto condition = read_reference(page.conditions, element, "in", "condition");
  if (element.has("weight")) probe.weight = element.number("weight", -100, 100);
  if (kind == ProbeKind::amps) {
    probe.from = element.required("of");
    const auto ids = part_ids(page);
    const bool known = std::any_of(ids.begin(), ids.end(), [&](const auto& id) { return fits(probe.from, id); });
    if (!known) element.report(element.place("of"), "the circuit '" + page.id + "' has no part '" + probe.from + "'", text::suggestion(probe.from, ids));
  } else {
    check_node(page, element, "from");
    check_node(page, element, "to");
    probe.from = element.required("from");
    probe.to = element.required("to");
  }
  if (!condition) return std::nullopt;
  probe.condition = condition->index;
  return probe;
}

void read_probes(const ReadContext& context, Measure& measure, const CircuitPage& page, const Element& element) {
  constexpr std::pair<const char*, ProbeKind> kinds[] = {{"volts", ProbeKind::volts}, {"amps", ProbeKind::amps}, {"ohms", ProbeKind::ohms}};
  for (const auto& [word, kind] : kinds) {
    for (const auto& child : element.children(word)) {
      if (const auto probe = read_probe(context, page, child, kind)) measure.probes.push_back(*probe);
    }
  }
  if (measure.probes.empty()) element.report(element.place(), "a measurement without a probe", "add <volts in=\"…\" from=\"…\" to=\"…\"/>, <amps> or <ohms>");
  const auto ohms = std::count_if(measure.probes.begin(), measure.probes.end(), [](const Probe& probe) { return probe.kind == ProbeKind::ohms; });
  if (ohms != 0 && ohms != static_cast<std::ptrdiff_t>(measure.probes.size())) element.report(element.place(), "ohms are not mixed with volts or amps");
}

struct ChangeWord {
  const char* word;
  ChangeKind kind;
};
constexpr ChangeWord change_words[] = {{"add", ChangeKind::add}, {"times", ChangeKind::times}, {"set", ChangeKind::set}, {"open", ChangeKind::open}, {"join", ChangeKind::join}};

void read_change_part(Change& change, const CircuitPage& page, const Element& element) {
  change.part = element.required("part");
  change.every = element.yes("every");
  const auto ids = part_ids(page);
  const bool known = std::any_of(ids.begin(), ids.end(), [&](const auto& id) { return fits(change.part, id); });
  if (!known && !change.part.empty()) element.report(element.place("part"), "the circuit '" + page.id + "' has no part '" + change.part + "'", text::suggestion(change.part, ids));
  if (change.kind != ChangeKind::open) change.value = element.one_of("of", {"ohm", "volt", "amp", "watt", "wake", "load"});
}

// A place of a join, in which a * may stand for a part of its name.
std::string read_joined(const CircuitPage& page, const Element& element, const char* attribute) {
  const auto place = element.required(attribute);
  const auto names = node_names(page);
  const bool known = std::any_of(names.begin(), names.end(), [&](const auto& name) { return fits(place, name); });
  if (!known && !place.empty()) element.report(element.place(attribute), "the circuit '" + page.id + "' has no place '" + place + "'", text::suggestion(place, names));
  return place;
}

void read_join(Change& change, const CircuitPage& page, const Element& element) {
  change.value = "ohm";
  change.from_node = read_joined(page, element, "from-place");
  change.to_node = read_joined(page, element, "to-place");
}

Change read_change(ReadContext& context, const CircuitPage& page, const Element& element, ChangeKind kind) {
  if (kind == ChangeKind::open) element.allow_only({"part", "every"}, {});
  else if (kind == ChangeKind::join) element.allow_only({"from-place", "to-place", "from", "to"}, {});
  else element.allow_only({"part", "every", "of", "from", "to"}, {});
  Change change;
  change.kind = kind;
  change.place = element.place();
  if (kind == ChangeKind::join) read_join(change, page, element);
  else read_change_part(change, page, element);
  if (kind == ChangeKind::open) return change;
  (void)element.required("from");
  change.from = read_expression(context, element, "from", Wanted::number);
  change.to = element.has("to") ? read_expression(context, element, "to", Wanted::number) : change.from;
  return change;
}

}  // namespace

std::optional<Measure> read_measure(ReadContext& context, const Element& element) {
  element.allow_only({"circuit", "take", "doubt"}, {"volts", "amps", "ohms"});
  const auto circuit = read_circuit_reference(context, element);
  if (!circuit) return std::nullopt;
  Measure measure;
  measure.circuit = *circuit;
  measure.place = element.place();
  constexpr std::pair<const char*, Take> words[] = {{"sum", Take::sum}, {"largest", Take::largest}, {"least", Take::least}, {"spread", Take::spread}, {"average", Take::average}, {"ratio", Take::ratio}};
  if (element.has("take")) {
    const auto word = element.one_of("take", {"sum", "largest", "least", "spread", "average", "ratio"});
    for (const auto& [name, take] : words) {
      if (word == name) measure.take = take;
    }
  }
  if (element.has("doubt")) measure.doubt = element.number("doubt", 0, 1000);
  read_probes(context, measure, context.base.circuits[*circuit], element);
  return measure;
}

std::optional<Effect> read_effect(ReadContext& context, const Element& element) {
  element.allow_only({"circuit", "share", "when"}, {"words", "add", "times", "set", "open", "join"});
  const auto circuit = read_circuit_reference(context, element);
  if (!circuit) return std::nullopt;
  Effect effect;
  effect.circuit = *circuit;
  effect.place = element.place();
  effect.words = element.child_text("words", true);
  if (element.has("share")) effect.share = element.number("share", 0.001, 1000);
  effect.when = read_expression(context, element, "when", Wanted::condition);
  for (const auto& [word, kind] : change_words) {
    for (const auto& child : element.children(word)) effect.changes.push_back(read_change(context, context.base.circuits[*circuit], child, kind));
  }
  if (effect.changes.empty()) element.report(element.place(), "an effect that changes nothing", "add <add>, <times>, <set>, <open> or <join>");
  return effect;
}

}  // namespace leadline::knowledge
