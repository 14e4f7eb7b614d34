#pragma once
// A parsed XML text that can still say where each of its elements and attributes stands.
// Tested by tests/markup/document_test.cpp.
#include <memory>
#include <pugixml.hpp>

#include "engine/markup/strictness.h"

namespace leadline::markup {

class Document {
 public:
  // Assumes but does not check: `source` has no breach.
  explicit Document(text::Source source);

  pugi::xml_node root() const { return tree_->document_element(); }
  const text::Source& source() const { return source_; }

  text::Place place(pugi::xml_node node) const;                              // of the element's name
  text::Place place(pugi::xml_node node, const char* attribute) const;      // of the attribute's name; of the element when absent
  // Byte `offset` of the attribute's value, entities counted as the one character they stand for.
  text::Place place_in_value(pugi::xml_node node, const char* attribute, std::size_t offset) const;

 private:
  text::Place at(std::size_t offset) const { return lines_.place_of(source_.name, source_.content, offset); }

  text::Source source_;
  text::LineIndex lines_;
  std::shared_ptr<pugi::xml_document> tree_;
};

// Refuses what first_breach refuses and what pugixml refuses. A syntax error ends the file: one problem at most.
text::Loaded<Document> parse(const text::Source& source, const Limits& limits = {});

}  // namespace leadline::markup
