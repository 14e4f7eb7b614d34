#pragma once
// What is fitted in this boat: the installation record, completed with assumed values. Tested by tests/installation/record_test.cpp.
#include <memory>
#include <pugixml.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "engine/knowledge/knowledge_base.h"
#include "engine/text/problem.h"

namespace leadline::markup {
class Element;
}

namespace leadline::installation {

// A fact nobody stated, and the value taken for it: once for each value, when elements that repeat are given several.
struct Assumed {
  std::string path, value;
};

// A complete record: every declared fact has a value, every element is present at least once.
class Installation {
 public:
  Installation(std::shared_ptr<const pugi::xml_document> tree, std::vector<Assumed> assumed) : tree_(std::move(tree)), assumed_(std::move(assumed)) {}

  // The element <installation>, against which conditions are evaluated.
  pugi::xml_node root() const { return tree_->document_element(); }
  std::string name() const { return root().attribute("name").value(); }
  const std::vector<Assumed>& assumed() const { return assumed_; }

 private:
  std::shared_ptr<const pugi::xml_document> tree_;
  std::vector<Assumed> assumed_;
};

// What a person stated, fact by fact: from the intake. Unknown paths are a mistake of the caller (std::invalid_argument).
struct Stated {
  std::string path, value;  // "bank/@volts"
};

// Reports unknown elements and facts, values outside choices and ranges, elements given twice that do not repeat.
text::Loaded<Installation> read_installation(const knowledge::KnowledgeBase& base, const text::Source& file);
// The same from an <installation> inside another document (a recorded call-out). Problems go to the element's list.
Installation read_installation(const knowledge::KnowledgeBase& base, const markup::Element& element);

// The fact "bank/@volts" of the first element of that name; empty when the record has none.
pugi::xml_attribute attribute_at(pugi::xml_node root, const std::string& path);

// A record of stated facts; the rest is assumed.
Installation make_installation(const knowledge::KnowledgeBase& base, const std::vector<Stated>& stated);

// Why `value` cannot be the value of `fact`, with the way out; empty when it can.
std::string why_not(const knowledge::Fact& fact, const std::string& value);

// The choices of a fact that this boat can have, as far as the book says.
std::vector<knowledge::Choice> possible_choices(const Installation& installation, const knowledge::Fact& fact);

// What is taken for a fact that nobody stated (of any of its elements); nothing when it was stated.
std::optional<std::string> assumed_for(const Installation& installation, const knowledge::Fact& fact);

// Whether nobody stated this: a fact of any of its elements ("bank/@volts"), or that there are such elements ("segment").
bool is_assumed(const Installation& installation, std::string_view path);
// Whether nobody stated it and it was taken to be this. Where an element repeats, its other values were stated.
bool is_assumed(const Installation& installation, std::string_view path, std::string_view value);

// The record as XML, as read_installation accepts it; assumed facts are left out.
std::string to_xml(const Installation& installation);

}  // namespace leadline::installation
