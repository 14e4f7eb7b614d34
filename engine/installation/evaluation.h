#pragma once
// Conditions and quantities, evaluated on one installation by pugixml's XPath 1.0. Tested by tests/installation/evaluation_test.cpp.
#include <map>
#include <memory>
#include <optional>
#include <string>

#include "engine/installation/record.h"

namespace leadline::installation {

// Assumes but does not check: expressions come out of read_knowledge, which has checked them against the same facts.
class Evaluation {
 public:
  Evaluation(const knowledge::KnowledgeBase& base, const Installation& installation);

  bool holds(const std::optional<knowledge::Expression>& condition) const;  // an absent condition holds
  bool holds(const knowledge::Expression& condition) const;
  double number(const knowledge::Expression& expression) const;
  // The same for one of several elements of the record, whose facts are variables: $segment-length.
  bool holds(const std::optional<knowledge::Expression>& condition, pugi::xml_node each) const;
  double number(const knowledge::Expression& expression, pugi::xml_node each) const;
  // The same with further variables.
  double number(const knowledge::Expression& expression, const std::map<std::string, double>& further) const;

  // The element <installation> they are evaluated on.
  pugi::xml_node root() const { return installation_.root(); }
  const Installation& installation() const { return installation_; }
  const std::map<std::string, double>& quantities() const { return quantities_; }

 private:
  pugi::xpath_variable_set variables_with(pugi::xml_node each) const;

  Installation installation_;  // shares the tree: an evaluation may outlive the installation it was made of
  std::shared_ptr<pugi::xpath_variable_set> variables_;
  std::map<std::string, double> quantities_;
};

}  // namespace leadline::installation
