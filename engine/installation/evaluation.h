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
  const std::map<std::string, double>& quantities() const { return quantities_; }

 private:
  Installation installation_;  // shares the tree: an evaluation may outlive the installation it was made of
  std::shared_ptr<pugi::xpath_variable_set> variables_;
  std::map<std::string, double> quantities_;
};

}  // namespace leadline::installation
