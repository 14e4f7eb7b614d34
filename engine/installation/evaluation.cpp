#include "engine/installation/evaluation.h"

#include <clocale>
#include <stdexcept>

#include "engine/text/number.h"

namespace leadline::installation {

namespace {

// pugixml reads number literals with strtod, which follows the thread's locale: under a decimal comma "0.95" would be 0,
// silently. The program never sets a numeric locale, but a host of this library may have.
class PointAsDecimalMark {
 public:
  PointAsDecimalMark() : c_(newlocale(LC_NUMERIC_MASK, "C", nullptr)), before_(uselocale(c_)) {}
  ~PointAsDecimalMark() {
    uselocale(before_);
    freelocale(c_);
  }
  PointAsDecimalMark(const PointAsDecimalMark&) = delete;
  PointAsDecimalMark& operator=(const PointAsDecimalMark&) = delete;

 private:
  locale_t c_, before_;
};

}  // namespace

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
