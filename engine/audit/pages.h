#pragma once
// The book as it was written: where each element, attribute and child stands, which the knowledge base does not keep for all of them. Internal to
// the room. Tested by tests/audit/planted_test.cpp.
#include <map>
#include <span>
#include <string>

#include "engine/markup/document.h"

namespace leadline::audit {

// An element of a file; a missing one has the place of the element it was looked for in.
struct Written {
  const markup::Document* document = nullptr;
  pugi::xml_node node;
  text::Place place() const { return document->place(node); }
  text::Place place(const char* attribute) const { return document->place(node, attribute); }
  // Its first child <name attribute="value">; itself when there is none.
  Written child(const char* name, const char* attribute, const std::string& value) const;
};

class Pages {
 public:
  // Requires: read_knowledge accepted the sources.
  explicit Pages(std::span<const text::Source> sources);

  // <kind id="id">. Throws std::logic_error when no file has it.
  const Written& of(const std::string& kind, const std::string& id) const;
  // The only element of that kind, where the book has one.
  const Written* only(const std::string& kind) const;
  // The first line of the first file: where what concerns the book as a whole is reported.
  text::Place front() const { return documents_.begin()->place(documents_.begin()->root()); }

 private:
  std::vector<markup::Document> documents_;
  std::map<std::pair<std::string, std::string>, Written> written_;  // by kind and id
};

}  // namespace leadline::audit
