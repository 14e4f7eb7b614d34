#include "engine/installation/evaluation.h"

#include <stdexcept>

#include "engine/installation/decimal_mark.h"
#include "engine/text/number.h"

namespace leadline::installation {

Evaluation::Evaluation(const knowledge::KnowledgeBase& base, const Installation& installation)
    : installation_(installation), variables_(std::make_shared<pugi::xpath_variable_set>()) {
  for (const auto& quantity : base.quantities) {  // in order: each uses only earlier ones
    const double value = number(quantity.value);
    variables_->set(quantity.name.c_str(), value);
    quantities_[quantity.name] = value;
  }
}

bool Evaluation::holds(const std::optional<knowledge::Expression>& condition) const {
  return !condition || holds(*condition);
}

bool Evaluation::holds(const knowledge::Expression& condition) const {
  const PointAsDecimalMark point;
  return pugi::xpath_query(condition.text.c_str(), variables_.get()).evaluate_boolean(installation_.root());
}

double Evaluation::number(const knowledge::Expression& expression) const {
  const PointAsDecimalMark point;
  return pugi::xpath_query(expression.text.c_str(), variables_.get()).evaluate_number(installation_.root());
}

pugi::xpath_variable_set Evaluation::variables_with(pugi::xml_node each) const {
  pugi::xpath_variable_set variables(*variables_);
  for (const auto fact : each.attributes()) {
    const auto name = std::string(each.name()) + "-" + fact.name();
    const auto number = text::parse_number(fact.value());
    if (number) variables.set(name.c_str(), *number);
    else variables.set(name.c_str(), fact.value());
  }
  return variables;
}

bool Evaluation::holds(const std::optional<knowledge::Expression>& condition, pugi::xml_node each) const {
  if (!condition || each.empty()) return holds(condition);
  const PointAsDecimalMark point;
  auto variables = variables_with(each);
  return pugi::xpath_query(condition->text.c_str(), &variables).evaluate_boolean(installation_.root());
}

double Evaluation::number(const knowledge::Expression& expression, pugi::xml_node each) const {
  if (each.empty()) return number(expression);
  const PointAsDecimalMark point;
  auto variables = variables_with(each);
  return pugi::xpath_query(expression.text.c_str(), &variables).evaluate_number(installation_.root());
}

double Evaluation::number(const knowledge::Expression& expression, const std::map<std::string, double>& further) const {
  const PointAsDecimalMark point;
  pugi::xpath_variable_set variables(*variables_);
  for (const auto& [name, value] : further) variables.set(name.c_str(), value);
  return pugi::xpath_query(expression.text.c_str(), &variables).evaluate_number(installation_.root());
}

}  // namespace leadline::installation
