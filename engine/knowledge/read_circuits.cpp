// Circuits: parts by kind, each number an expression over the record.
#include <algorithm>
#include <sstream>

#include "engine/knowledge/read_context.h"
#include "engine/text/number.h"

namespace leadline::knowledge {

namespace {

using markup::Element;

struct KindEntry {
  const char* word;
  PartKind kind;
  std::vector<const char*> must, may;  // the numbers it has
};

const std::vector<KindEntry>& part_kinds() {
  static const std::vector<KindEntry> kinds = {
      {"resistor", PartKind::resistor, {"ohm"}, {}},
      {"cable", PartKind::cable, {"length", "area"}, {"temperature", "class-2", "plain"}},
      {"battery", PartKind::battery, {"amp-hours", "charge"}, {"cold-cranking", "age", "temperature", "blocks"}},
      {"source", PartKind::source, {"volt"}, {"ohm"}},
      {"current", PartKind::current, {"amp"}, {}},
      {"power", PartKind::power, {"watt"}, {}},
      {"motor", PartKind::motor, {"volt", "amp", "ohm"}, {"load"}},
      {"step-up", PartKind::step_up, {"watt", "wake"}, {}},
  };
  return kinds;
}

const KindEntry* kind_of(const Element& element) {
  std::vector<std::string> words;
  for (const auto& entry : part_kinds()) words.emplace_back(entry.word);
  const auto word = element.one_of("kind", words);
  const auto found = std::find_if(part_kinds().begin(), part_kinds().end(), [&](const auto& entry) { return word == entry.word; });
  return found == part_kinds().end() ? nullptr : &*found;
}

// Which attributes a part of this kind may have, beyond those of all parts.
void check_attributes(const Element& element, const KindEntry& entry) {
  std::vector<std::string> known = {"kind", "id", "from", "to", "when", "in", "each", "spread", "spread-volt", "shared"};
  known.insert(known.end(), entry.must.begin(), entry.must.end());
  known.insert(known.end(), entry.may.begin(), entry.may.end());
  if (entry.kind == PartKind::battery) known.emplace_back("chemistry");
  if (entry.kind == PartKind::current || entry.kind == PartKind::source) known.emplace_back("awake-with");
  for (const auto attribute : element.node().attributes()) {
    if (std::find(known.begin(), known.end(), attribute.name()) != known.end()) continue;
    element.report(element.place(attribute.name()), "a " + std::string(entry.word) + " has no '" + attribute.name() + "'", text::suggestion(attribute.name(), known));
  }
}

void read_values(ReadContext& context, Part& part, const Element& element, const KindEntry& entry) {
  const auto read = [&](const char* name) {
    if (auto value = read_expression(context, element, name, Wanted::number, {part.each})) part.values.push_back({name, *std::move(value)});
  };
  for (const auto* name : entry.must) {
    (void)element.required(name);
    read(name);
  }
  for (const auto* name : entry.may) read(name);
}

void read_chemistry(ReadContext& context, Part& part, const Element& element) {
  if (part.kind != PartKind::battery) return;
  part.chemistry = element.required("chemistry");
  if (!find_fact(context.base, part.chemistry) && !part.chemistry.empty()) element.report(element.place("chemistry"), "'" + part.chemistry + "' is no fact of the record", "for instance bank/@chemistry");
}

void read_conditions_of(Part& part, const CircuitPage& page, const Element& element) {
  std::istringstream words(element.optional("in"));
  for (std::string word; words >> word;) {
    const auto found = find_id(page.conditions, word);
    if (found) part.conditions.push_back(found->index);
    else element.report(element.place("in"), "this circuit has no condition '" + word + "'", text::suggestion(word, ids_of(page.conditions)));
  }
}

std::optional<Part> read_part(ReadContext& context, const CircuitPage& page, const Element& element) {
  const auto* entry = kind_of(element);
  if (entry == nullptr) return std::nullopt;
  check_attributes(element, *entry);
  Part part;
  part.kind = entry->kind;
  part.place = element.place();
  part.id = element.required("id");
  part.title = element.text();
  part.from = element.required("from");
  part.to = element.required("to");
  part.awake_with = element.optional("awake-with");
  part.shared = element.optional("shared");
  if (element.has("spread")) part.spread = element.number("spread", 0, 2);
  if (element.has("spread-volt")) part.spread_volt = element.number("spread-volt", 0, 100);
  part.each = read_each(context, element);
  read_values(context, part, element, *entry);
  read_chemistry(context, part, element);
  part.when = read_expression(context, element, "when", Wanted::condition, {part.each});
  read_conditions_of(part, page, element);
  if (!part.from.empty() && part.from == part.to) element.report(element.place("to"), "both ends of '" + part.id + "' are at '" + part.to + "'");
  return part;
}

void check_parts(const CircuitPage& page, const Element& element) {
  for (std::size_t i = 0; i < page.parts.size(); ++i) {
    const auto& part = page.parts[i];
    const auto same = [&](const Part& other) { return other.id == part.id && !other.when && !part.when; };
    if (std::any_of(page.parts.begin(), page.parts.begin() + static_cast<std::ptrdiff_t>(i), same)) element.report(part.place, "the part '" + part.id + "' is given twice");
    const auto wakes = [&](const Part& other) { return other.id == part.awake_with && other.kind == PartKind::step_up; };
    if (!part.awake_with.empty() && std::none_of(page.parts.begin(), page.parts.end(), wakes)) {
      element.report(part.place, "no step-up part '" + part.awake_with + "' in this circuit");
    }
  }
}

void read_circuit(ReadContext& context, CircuitPage& page, const Element& element) {
  element.allow_only({"id", "reference"}, {"title", "condition", "part", "source"});
  page.reference = element.required("reference");
  page.title = element.child_text("title", true);
  for (const auto& child : element.children("condition")) {
    child.allow_text({"id"});
    page.conditions.push_back({child.required("id"), child.text()});
  }
  if (page.conditions.empty()) element.report(element.place(), "a circuit needs a <condition>", "<condition id=\"rest\">everything off</condition>");
  for (const auto& child : element.children("part")) {
    if (auto part = read_part(context, page, child)) page.parts.push_back(*std::move(part));
  }
  page.sources = read_sources(context, element);
  check_parts(page, element);
  const auto there = [&](const Part& part) { return part.from == page.reference || part.to == page.reference; };
  if (std::none_of(page.parts.begin(), page.parts.end(), there) && !page.reference.empty()) {
    element.report(element.place("reference"), "no part of this circuit ends at '" + page.reference + "'", "the place to which all others leak, for instance the bank minus post");
  }
}

}  // namespace

std::string read_each(const ReadContext& context, const Element& element) {
  const auto each = element.optional("each");
  std::vector<std::string> names;
  for (const auto& known : context.base.elements) names.push_back(known.name);
  const bool known = std::find(names.begin(), names.end(), each) != names.end();
  if (!each.empty() && !known) element.report(element.place("each"), "the record has no element '" + each + "'", text::suggestion(each, names));
  return each;
}

void read_circuits(ReadContext& context) {
  auto& circuits = context.base.circuits;
  for (std::size_t i = 0; i < circuits.size(); ++i) read_circuit(context, circuits[i], context.pending["circuit"][i].element);
}

}  // namespace leadline::knowledge
