#pragma once
// Reading one element strictly: what is missing, what is unknown, what is not a number. Every complaint is gathered,
// none ends the reading. Tested by tests/markup/element_test.cpp.
#include <functional>
#include <initializer_list>
#include <string>
#include <vector>

#include "engine/markup/document.h"

namespace leadline::markup {

class Element {
 public:
  Element(const Document& document, pugi::xml_node node, text::Problems& problems)
      : document_(&document), node_(node), problems_(&problems) {}

  std::string name() const { return node_.name(); }
  pugi::xml_node node() const { return node_; }
  const Document& document() const { return *document_; }
  text::Place place() const { return document_->place(node_); }
  text::Place place(const char* attribute) const { return document_->place(node_, attribute); }

  bool has(const char* attribute) const { return !node_.attribute(attribute).empty(); }
  std::string optional(const char* attribute) const { return node_.attribute(attribute).value(); }
  std::string required(const char* attribute) const;                           // reports when missing or empty
  double number(const char* attribute, double least, double most) const;      // reports when no number in [least, most]; then `least`
  bool yes(const char* attribute) const;                                       // "yes" or "no" (default no)
  std::string one_of(const char* attribute, const std::vector<std::string>& words) const;  // reports when none of them

  // The text of this element, blanks folded; reports when empty or when it holds elements.
  std::string text() const;
  // The text of the only child of that name; reports when it is missing (if `must`) or given twice.
  std::string child_text(const char* child, bool must) const;
  std::vector<Element> children(const char* child) const;

  // Reports every attribute and child element that is not listed, with a suggestion, and stray text.
  void allow_only(std::initializer_list<const char*> attributes, std::initializer_list<const char*> children) const;

  // The same for an element that holds plain text, read with text().
  void allow_text(std::initializer_list<const char*> attributes) const;

  void report(const text::Place& place, std::string what, std::string hint = "") const;

 private:
  void report_unknown_attributes(std::initializer_list<const char*> known) const;

  const Document* document_;
  pugi::xml_node node_;
  text::Problems* problems_;
};

// Blanks at the ends removed, runs of blanks inside made one.
std::string fold_blanks(std::string_view text);

}  // namespace leadline::markup
