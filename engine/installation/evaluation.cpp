#include "engine/installation/evaluation.h"

#include <clocale>
#include <stdexcept>

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

}  // namespace leadline::installation
