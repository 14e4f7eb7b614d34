#include "engine/knowledge/numbers.h"

#include <algorithm>

namespace leadline::knowledge {

namespace {

// A pattern with at most one *, which stands for any characters.
bool fits(const std::string& pattern, const std::string& name) {
  const auto star = pattern.find('*');
  if (star == std::string::npos) return pattern == name;
  const auto head = pattern.substr(0, star), tail = pattern.substr(star + 1);
  return name.size() >= head.size() + tail.size() && name.starts_with(head) && name.ends_with(tail);
}

// Own before inherited, and of the element's own the one that names what it stands for.
std::optional<Certificate> certificate_of(const std::vector<Citation>& citations, const std::vector<const Inherited*>& inherited, const Number& number) {
  const Citation* best = nullptr;
  for (const auto& citation : citations) {
    if (stands_for(citation, number) && (best == nullptr || (best->of.empty() && !citation.of.empty()))) best = &citation;
  }
  if (best != nullptr) return Certificate{best->source, best->sure, false, best->place};
  const auto of_kind = std::find_if(inherited.begin(), inherited.end(), [&](const auto* one) { return one->kind == number.kind; });
  return of_kind == inherited.end() ? std::nullopt : std::optional((*of_kind)->certificate);
}

std::vector<Number> certified(const KnowledgeBase& base, std::vector<Number> numbers, const std::vector<Citation>& citations, const std::string& file) {
  std::vector<const Inherited*> inherited;
  for (const auto& one : base.inherited) {
    if (one.file == file) inherited.push_back(&one);
  }
  for (auto& number : numbers) number.certificate = certificate_of(citations, inherited, number);
  return numbers;
}

std::string unit_words(const Finding& finding) { return finding.unit ? std::string(name_of(*finding.unit)) : ""; }

std::string change_words(const Change& change) {
  switch (change.kind) {
    case ChangeKind::add: return "added " + change.value + " of " + change.part;
    case ChangeKind::times: return "times the " + change.value + " of " + change.part;
    case ChangeKind::set: return change.value + " of " + change.part;
    case ChangeKind::join: return change.value + " from " + change.from_node + " to " + change.to_node;
    case ChangeKind::open: break;
  }
  return "";
}

void add_change(std::vector<Number>& numbers, const Change& change) {
  if (!change.from) return;
  const auto unit = change.kind == ChangeKind::times ? "" : change.value;
  const bool one = !change.to || change.to->text == change.from->text;
  numbers.push_back({NumberKind::effect, change.part, change_words(change) + (one ? "" : ", least"), 0, change.from->text, unit, change.from->place});
  if (!one) numbers.push_back({NumberKind::effect, change.part, change_words(change) + ", most", 0, change.to->text, unit, change.to->place});
}

std::vector<Number> effort_numbers(const Effort& effort, const text::Place& place) {
  return {{NumberKind::minutes, "", "the doing itself", effort.minutes, "", "min", place}};
}

std::vector<Number> part_numbers(const Part& part) {
  std::vector<Number> numbers;
  for (const auto& value : part.values) numbers.push_back({NumberKind::part, part.id, part.title + ": " + value.name, 0, value.value.text, "", value.value.place});
  if (part.spread > 0) numbers.push_back({NumberKind::part, part.id, part.title + ": spread among sound boats", part.spread, "", "", part.place});
  if (part.spread_volt > 0) numbers.push_back({NumberKind::part, part.id, part.title + ": spread of its volts", part.spread_volt, "", "V", part.place});
  return numbers;
}

template <class Item>
Numbered numbered(const KnowledgeBase& base, const char* kind, const Item& item) {
  return {kind, item.id, item.title, numbers_of(base, item), item.sources, item.place};
}

Numbered numbered_place(const KnowledgeBase& base, const WorkPlace& place) {
  std::vector<Number> numbers{{NumberKind::minutes, "", "getting there", place.reach, "", "min", place.place},
                              {NumberKind::minutes, "", "baring it and closing up", place.covers, "", "min", place.place}};
  return {"place", place.id, place.title, certified(base, std::move(numbers), place.sources, place.place.file), place.sources, place.place};
}

Numbered numbered_condition(const KnowledgeBase& base, const Condition& condition) {
  std::vector<Number> numbers{{NumberKind::minutes, "", "setting it", condition.minutes, "", "min", condition.place}};
  if (condition.wait > 0) numbers.push_back({NumberKind::minutes, "", "waiting for it", condition.wait, "", "min", condition.place});
  return {"condition", condition.id, condition.title, certified(base, std::move(numbers), condition.sources, condition.place.file), condition.sources, condition.place};
}

Numbered numbered_giving_up(const KnowledgeBase& base, const GivingUp& price) {
  std::vector<Number> numbers{{NumberKind::minutes, "", "the price of giving up", price.minutes, "", "min", price.place}};
  return {"giving-up", std::string(to_string(price.who)), price.words, certified(base, std::move(numbers), price.sources, price.place.file), price.sources, price.place};
}

Numbered numbered_by_phone(const KnowledgeBase& base) {
  const auto& phone = base.by_phone;
  std::vector<Number> numbers{{NumberKind::minutes, "", "factor on what a layman does who is told how", phone.times, "", "", phone.place},
                              {NumberKind::minutes, "", "telling him", phone.minutes, "", "min", phone.place}};
  return {"by-phone", "", "a layman told by telephone", certified(base, std::move(numbers), phone.sources, phone.place.file), phone.sources, phone.place};
}

Numbered numbered_circuit(const KnowledgeBase& base, const CircuitPage& page) {
  std::vector<Number> numbers;
  for (const auto& part : page.parts) {
    auto more = part_numbers(part);
    numbers.insert(numbers.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
  }
  return {"circuit", page.id, page.title, certified(base, std::move(numbers), page.sources, page.place.file), page.sources, page.place};
}

Numbered numbered_unlisted(const KnowledgeBase& base) {
  const auto& unlisted = base.unlisted;
  std::vector<Number> numbers{{NumberKind::frequency, "", "what is not in the book is the fault", unlisted.per_thousand, "", "of 1,000 call-outs", unlisted.place},
                              {NumberKind::strength, "", "it shows a finding beyond what known causes do", unlisted.chance, "", "", unlisted.place},
                              {NumberKind::frequency, "", "chance of a second fault", unlisted.together, "", "", unlisted.place},
                              {NumberKind::frequency, "", "chance of something new between two looks", unlisted.new_fault, "", "", unlisted.place}};
  return {"unlisted", "", "what is not in the book", certified(base, std::move(numbers), unlisted.sources, unlisted.place.file), unlisted.sources, unlisted.place};
}

}  // namespace

bool stands_for(const Citation& citation, const Number& number) {
  if (std::find(citation.kinds.begin(), citation.kinds.end(), number.kind) == citation.kinds.end()) return false;
  return citation.of.empty() || std::any_of(citation.of.begin(), citation.of.end(), [&](const auto& pattern) { return fits(pattern, number.of); });
}

std::vector<Number> numbers_of(const KnowledgeBase& base, const Cause& cause) {
  std::vector<Number> numbers{{NumberKind::frequency, "", "this is the fault, on boats where it can be", cause.per_thousand, "", "of 1,000 call-outs", cause.place}};
  for (const auto& adjustment : cause.adjustments) {
    numbers.push_back({NumberKind::frequency, "", "factor on it", adjustment.times, "", "", adjustment.when.place, adjustment.when.text});
  }
  for (const auto& rule : cause.rules) {
    const auto& finding = base[rule.finding];
    numbers.push_back({NumberKind::strength, finding.id, finding.title + ": " + finding.states[rule.state].words, rule.chance, "", "", rule.place, rule.when ? rule.when->text : ""});
  }
  for (const auto& effect : cause.effects) {
    numbers.push_back({NumberKind::effect, "", effect.words + ": its share", effect.share, "", "", effect.place, effect.when ? effect.when->text : ""});
    for (const auto& change : effect.changes) add_change(numbers, change);
  }
  for (const auto& mend : cause.mends) numbers.push_back({NumberKind::mends, base[mend.remedy].id, base[mend.remedy].title, mend.chance, "", "", mend.place});
  return certified(base, std::move(numbers), cause.sources, cause.place.file);
}

std::vector<Number> numbers_of(const KnowledgeBase& base, const Finding& finding) {
  std::vector<Number> numbers;
  for (const auto band : finding.bands) {
    const auto& state = finding.states[band];
    if (state.below) numbers.push_back({NumberKind::threshold, state.id, state.words + ", upper limit", 0, state.below->text, unit_words(finding), state.below->place});
  }
  for (std::size_t s = 1; s < finding.states.size(); ++s) {
    numbers.push_back({NumberKind::leak, finding.states[s].id, finding.states[s].words, finding.states[s].leak, "", "", finding.states[s].place});
  }
  if (finding.measure && finding.measure->doubt > 0) {
    const bool relative = finding.measure->probes.front().kind == ProbeKind::ohms;
    numbers.push_back({NumberKind::doubt, "", relative ? "what the circuit leaves out, as a share" : "what the circuit leaves out", finding.measure->doubt, "", relative ? "" : unit_words(finding),
                       finding.measure->place});
  }
  return certified(base, std::move(numbers), finding.sources, finding.place.file);
}

std::vector<Number> numbers_of(const KnowledgeBase& base, const Check& check) {
  return certified(base, effort_numbers(check.effort, check.place), check.sources, check.place.file);
}

std::vector<Number> numbers_of(const KnowledgeBase& base, const Remedy& remedy) {
  auto numbers = effort_numbers(remedy.effort, remedy.place);
  if (remedy.fetch > 0) numbers.push_back({NumberKind::minutes, "", "fetching parts, or whom and what it asks for", remedy.fetch, "", "min", remedy.place});
  return certified(base, std::move(numbers), remedy.sources, remedy.place.file);
}

std::vector<Numbered> all_numbers(const KnowledgeBase& base) {
  std::vector<Numbered> all;
  for (const auto& cause : base.causes) all.push_back(numbered(base, "cause", cause));
  for (const auto& finding : base.findings) all.push_back(numbered(base, "finding", finding));
  for (const auto& check : base.checks) all.push_back(numbered(base, "check", check));
  for (const auto& remedy : base.remedies) all.push_back(numbered(base, "remedy", remedy));
  for (const auto& place : base.places) all.push_back(numbered_place(base, place));
  for (const auto& condition : base.conditions) all.push_back(numbered_condition(base, condition));
  for (const auto& price : base.giving_up) all.push_back(numbered_giving_up(base, price));
  if (!base.by_phone.place.file.empty()) all.push_back(numbered_by_phone(base));
  for (const auto& page : base.circuits) all.push_back(numbered_circuit(base, page));
  if (!base.unlisted.place.file.empty()) all.push_back(numbered_unlisted(base));
  return all;
}

}  // namespace leadline::knowledge
