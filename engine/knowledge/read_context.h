#pragma once
// What the parts of the reader share while one knowledge base is being read. Not for use outside read_*.cpp and reader.cpp.
#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "engine/knowledge/expression_check.h"
#include "engine/knowledge/knowledge_base.h"
#include "engine/markup/element.h"
#include "engine/text/spelling.h"

namespace leadline::knowledge {

// An element whose id is registered and whose content is still to be read.
struct Pending {
  markup::Element element;
  std::string subsystem;
};

// Where an expression stands, and so what it may name besides the record.
struct Scope {
  std::string each = {};   // in a part repeated for this element
  bool measured = false;   // in the bands of a finding tied to a circuit: $healthy, $healthy_low, $healthy_high
};

struct ReadContext {
  KnowledgeBase base;
  text::Problems problems;
  std::vector<markup::Document> documents;
  std::map<std::string, std::vector<Pending>> pending;  // by element name: "cause", "finding", …

  Vocabulary vocabulary(const Scope& scope) const;
};

// Each part reads the pending elements of its kinds. Order matters: record, findings, actions, causes.
void read_record(ReadContext& context);
void read_numbers(ReadContext& context);      // after the record, which names the sources
void register_ids(ReadContext& context);      // makes room in the lists and reports duplicate ids, before references are resolved
void read_circuits(ReadContext& context);     // before findings and causes, which are tied to them
void read_findings(ReadContext& context);
void read_job(ReadContext& context);          // before actions, which name places, conditions and tools
void read_spoken(ReadContext& context);       // after the record and the job: the words for the telephone
void read_actions(ReadContext& context);
void read_causes(ReadContext& context);
void check_references(ReadContext& context);  // what can be judged only when all is read
void check_certificates(ReadContext& context);  // last: no number without a source

// A word of a list in an attribute, and where it stands there.
struct Word {
  std::string text;
  std::size_t offset = 0;
};
std::vector<Word> words_of(const std::string& value);
void report_word(const markup::Element& element, const char* attribute, const Word& word, const std::string& what, const std::string& hint);

// Every <source ref="…"/> of an element, and of which of its numbers.
std::vector<Citation> read_sources(ReadContext& context, const markup::Element& element);

// The checked expression of an attribute; nothing when absent or faulty (then reported).
std::optional<Expression> read_expression(ReadContext& context, const markup::Element& element, const char* attribute, Wanted wanted,
                                          const Scope& scope = {});

// The record element that a part or probe is repeated for, as its attribute `each` names it; reports one the record has not. Empty: once.
std::string read_each(const ReadContext& context, const markup::Element& element);

// <measure> of a finding and <effect> of a cause; each reports what does not fit the circuit it names.
std::optional<Measure> read_measure(ReadContext& context, const markup::Element& element);
std::optional<Effect> read_effect(ReadContext& context, const markup::Element& element);

constexpr double longest_minutes = 10'000;

Who read_who(const markup::Element& element);

// What a check or remedy takes, as its attributes and its <tool> say.
Effort read_effort(ReadContext& context, const markup::Element& element);

// The states of the finding that the attribute `state` names, ascending; reports unknown and repeated ones.
std::vector<std::size_t> read_states_named(const Finding& finding, const markup::Element& element);

// The <needs> of a check that observes these findings, or of a finding (then of itself alone); reports what could never be met or says nothing.
std::vector<Needs> read_needs(ReadContext& context, const markup::Element& element, const std::vector<Ref<Finding>>& observes);

// A chance: a number or a word of the scale; reports what is neither.
double read_chance(const markup::Element& element, const char* attribute);

// The item an attribute names; reports a dangling one with a suggestion.
template <class T>
std::optional<Ref<T>> read_reference(const std::vector<T>& items, const markup::Element& element, const char* attribute, const char* kind) {
  const auto id = element.required(attribute);
  if (id.empty()) return std::nullopt;
  const auto found = find_id(items, id);
  if (!found) element.report(element.place(attribute), std::string("no file declares the ") + kind + " '" + id + "'", text::suggestion(id, ids_of(items), 0));
  return found;
}

// The items whose ids stand in an attribute, separated by blanks; reports unknown and repeated ones. Without the attribute: none.
template <class T>
std::vector<Ref<T>> read_named(const std::vector<T>& items, const markup::Element& element, const char* attribute, const std::string& kind) {
  std::vector<Ref<T>> refs;
  if (!element.has(attribute)) return refs;
  for (const auto& word : words_of(element.required(attribute))) {
    const auto found = find_id(items, word.text);
    const auto named = "the " + kind + " '" + word.text + "'";
    if (!found) report_word(element, attribute, word, "no file declares " + named, text::suggestion(word.text, ids_of(items)));
    else if (std::find(refs.begin(), refs.end(), *found) != refs.end()) report_word(element, attribute, word, named + " is named twice", "keep one");
    else refs.push_back(*found);
  }
  return refs;
}

// References of all children of one name: <precaution ref="…"/>.
template <class T>
std::vector<Ref<T>> read_references(const std::vector<T>& items, const markup::Element& element, const char* child, const char* attribute, const char* kind) {
  std::vector<Ref<T>> refs;
  for (const auto& item : element.children(child)) {
    item.allow_only({attribute}, {});
    if (const auto ref = read_reference(items, item, attribute, kind)) refs.push_back(*ref);
  }
  return refs;
}

std::vector<std::string> read_texts(const markup::Element& element, const char* child);

}  // namespace leadline::knowledge
