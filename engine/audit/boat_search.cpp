#include "engine/audit/boat_search.h"

#include <algorithm>
#include <set>

#include "engine/knowledge/expression_tokens.h"
#include "engine/text/number.h"

namespace leadline::audit {

namespace {

using knowledge::Fact;
using knowledge::KnowledgeBase;
using knowledge::TokenKind;

constexpr std::size_t most_tried = 3000;
constexpr std::size_t most_known = 40;

// What conditions speak of.
struct Named {
  std::set<std::size_t> facts;           // of the base
  std::set<std::string> counted;         // elements
  std::set<std::string> texts;           // words in quotes, numbers as written
};

void add_names(const KnowledgeBase& base, const std::string& expression, Named& named) {
  const auto tokens = knowledge::tokens_of(expression);
  for (std::size_t t = 0; t < tokens.size(); ++t) {
    const auto& token = tokens[t];
    if (token.kind == TokenKind::text || token.kind == TokenKind::number) named.texts.insert(token.text);
    if (token.kind == TokenKind::variable) {
      for (const auto& quantity : base.quantities) {
        if (quantity.name == token.text) add_names(base, quantity.value.text, named);
      }
    }
    if (token.kind != TokenKind::name) continue;
    const bool path = t + 2 < tokens.size() && tokens[t + 1].text == "/@";
    if (const auto fact = path ? knowledge::find_fact(base, token.text, tokens[t + 2].text) : std::nullopt) named.facts.insert(*fact);
    else if (t > 1 && tokens[t - 2].text == "count") named.counted.insert(token.text);
  }
}

void add_value(std::vector<std::string>& values, const Fact& fact, const std::string& value) {
  if (std::find(values.begin(), values.end(), value) == values.end() && installation::why_not(fact, value).empty()) values.push_back(value);
}

// The usual value first: most conditions are met by few departures from it.
std::vector<std::string> values_of(const Fact& fact, const std::set<std::string>& texts) {
  std::vector<std::string> values;
  add_value(values, fact, fact.assume);
  for (const auto& choice : fact.choices) add_value(values, fact, choice.id);
  if (!fact.choices.empty()) return values;
  if (fact.type == knowledge::FactType::text) {
    values.insert(values.end(), texts.begin(), texts.end());
    return values;
  }
  for (const auto& text : texts) {
    const auto number = text::parse_number(text);
    if (!number) continue;
    for (const double near : {*number, *number - 0.5, *number + 0.5, *number - 1, *number + 1}) add_value(values, fact, text::format_number(near, 3));
  }
  if (!fact.least || !fact.most) return values;
  for (const double share : {0.0, 0.05, 0.2, 0.5, 1.0}) add_value(values, fact, text::format_number(*fact.least + share * (*fact.most - *fact.least), 2));
  return values;
}

// One thing that is varied: a fact of one of the elements of its name, or how many of them there are.
struct Slot {
  std::string element, fact;       // fact empty: the number of elements
  std::size_t copy = 0;
  std::vector<std::string> values;
};

std::vector<Slot> slots_of(const KnowledgeBase& base, const Named& named) {
  std::vector<Slot> slots;
  for (const auto& element : base.elements) {
    const bool counted = named.counted.contains(element.name);
    std::vector<std::size_t> facts;
    for (const auto fact : named.facts) {
      if (base.facts[fact].element == element.name) facts.push_back(fact);
    }
    if (!counted && facts.empty()) continue;
    Slot number{element.name, "", 0, {"1"}};
    if (element.repeats) number.values.push_back("2");
    if (element.repeats && counted) number.values.push_back("3");
    if (element.optional) number.values.push_back("0");
    if (number.values.size() > 1) slots.push_back(std::move(number));
    for (std::size_t copy = 0; copy < (element.repeats ? 2U : 1U); ++copy) {
      for (const auto fact : facts) slots.push_back({element.name, base.facts[fact].name, copy, values_of(base.facts[fact], named.texts)});
    }
  }
  return slots;
}

// What an element that may be left out must say when it is there.
void add_names_of(const KnowledgeBase& base, const knowledge::RecordElement& element, pugi::xml_node node) {
  for (const auto& fact : base.facts) {
    const bool silent = fact.element == element.name && node.attribute(fact.name.c_str()).empty();
    if (silent && element.optional && fact.type == knowledge::FactType::text) node.append_attribute(fact.name.c_str()).set_value("helm");
  }
}

std::string record_of(const KnowledgeBase& base, const std::vector<Slot>& slots, const std::vector<const std::string*>& chosen) {
  pugi::xml_document record;
  auto root = record.append_child("installation");
  for (const auto& element : base.elements) {
    std::size_t number = element.optional ? 0 : 1;
    bool varied = false;
    for (std::size_t s = 0; s < slots.size(); ++s) {
      if (slots[s].element != element.name) continue;
      varied = true;
      if (slots[s].fact.empty()) number = static_cast<std::size_t>(*text::parse_number(*chosen[s]));
    }
    for (std::size_t copy = 0; varied && copy < number; ++copy) {
      auto node = root.append_child(element.name.c_str());
      for (std::size_t s = 0; s < slots.size(); ++s) {
        const bool here = slots[s].element == element.name && !slots[s].fact.empty() && slots[s].copy == copy;
        if (here) node.append_attribute(slots[s].fact.c_str()).set_value(chosen[s]->c_str());
      }
      add_names_of(base, element, node);
    }
  }
  std::string text;
  struct Writer : pugi::xml_writer {
    explicit Writer(std::string& to) : out(to) {}
    void write(const void* data, std::size_t size) override { out.append(static_cast<const char*>(data), size); }
    std::string& out;
  } writer(text);
  record.document_element().print(writer, "", pugi::format_raw);
  return text;
}

std::string key_of(const Conditions& conditions, bool wanted) {
  std::set<std::string> texts;
  for (const auto* condition : conditions) texts.insert(condition->text);
  std::string key = wanted ? "+" : "-";
  for (const auto& text : texts) key += text + "\n";
  return key;
}

}  // namespace

Conditions together(std::initializer_list<const std::optional<knowledge::Expression>*> conditions) {
  Conditions all;
  for (const auto* condition : conditions) {
    if (*condition) all.push_back(&**condition);
  }
  return all;
}

BoatSearch::BoatSearch(const KnowledgeBase& base) : base_(base) {
  known_.push_back(std::make_unique<installation::Evaluation>(base, installation::make_installation(base, {})));
}

bool BoatSearch::fits(const installation::Evaluation& boat, const Conditions& conditions, bool wanted) const {
  return std::all_of(conditions.begin(), conditions.end(), [&](const auto* condition) { return boat.holds(*condition); }) == wanted;
}

BoatSearch::Found BoatSearch::try_all(const Conditions& conditions, bool wanted) const {
  for (const auto& boat : known_) {
    if (fits(*boat, conditions, wanted)) return {boat.get(), true};
  }
  Named named;
  for (const auto* condition : conditions) add_names(base_, condition->text, named);
  const auto slots = slots_of(base_, named);
  std::size_t all = 1;
  for (const auto& slot : slots) all = std::min(all * slot.values.size(), most_tried * 1000);
  // Too many: some spread over all of them, by a stride that has no factor in common with the numbers of values.
  const std::size_t stride = all > most_tried ? 7919 : 1;
  for (std::size_t tried = 0; tried < std::min(all, most_tried); ++tried) {
    std::size_t rest = (tried * stride) % all;
    std::vector<const std::string*> chosen;
    for (const auto& slot : slots) chosen.push_back(&slot.values[rest % slot.values.size()]), rest /= slot.values.size();
    const auto record = installation::read_installation(base_, text::Source{"record", record_of(base_, slots, chosen)});
    if (!record.value) continue;
    auto boat = std::make_unique<installation::Evaluation>(base_, *record.value);
    if (!fits(*boat, conditions, wanted)) continue;
    if (known_.size() >= most_known) {
      kept_.push_back(std::move(boat));
      return {kept_.back().get(), true};
    }
    known_.push_back(std::move(boat));
    return {known_.back().get(), true};
  }
  return {nullptr, all <= most_tried};
}

const BoatSearch::Found& BoatSearch::search(const Conditions& conditions, bool wanted) const {
  const auto key = key_of(conditions, wanted);
  const auto known = answers_.find(key);
  return known != answers_.end() ? known->second : answers_.emplace(key, try_all(conditions, wanted)).first->second;
}

const installation::Evaluation* BoatSearch::where(const Conditions& conditions) const { return search(conditions, true).boat; }

bool BoatSearch::never(const Conditions& conditions) const {
  const auto& found = search(conditions, true);
  return found.boat == nullptr && found.tried_all;
}

bool BoatSearch::always(const knowledge::Expression& condition) const {
  const auto& found = search({&condition}, false);
  return found.boat == nullptr && found.tried_all;
}

}  // namespace leadline::audit
