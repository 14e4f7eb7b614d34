#pragma once
// What the parts of the reader share while one knowledge base is being read. Not for use outside read_*.cpp and reader.cpp.
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

struct ReadContext {
  KnowledgeBase base;
  text::Problems problems;
  std::vector<markup::Document> documents;
  std::map<std::string, std::vector<Pending>> pending;  // by element name: "cause", "finding", …

  Vocabulary vocabulary() const;
};

// Each part reads the pending elements of its kinds. Order matters: record, findings, actions, causes.
void read_record(ReadContext& context);
void register_ids(ReadContext& context);      // makes room in the lists and reports duplicate ids, before references are resolved
void read_findings(ReadContext& context);
void read_actions(ReadContext& context);
void read_causes(ReadContext& context);
void check_references(ReadContext& context);  // what can be judged only when all is read

// The checked expression of an attribute; nothing when absent or faulty (then reported).
std::optional<Expression> read_expression(ReadContext& context, const markup::Element& element, const char* attribute, Wanted wanted);

// The item an attribute names; reports a dangling one with a suggestion.
template <class T>
std::optional<Ref<T>> read_reference(const std::vector<T>& items, const markup::Element& element, const char* attribute, const char* kind) {
  const auto id = element.required(attribute);
  if (id.empty()) return std::nullopt;
  const auto found = find_id(items, id);
  if (!found) element.report(element.place(attribute), std::string("no file declares the ") + kind + " '" + id + "'", text::suggestion(id, ids_of(items), 0));
  return found;
}

// References of all children of one name: <precaution ref="…"/>, <source ref="…"/>.
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
