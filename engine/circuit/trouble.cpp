#include "engine/circuit/trouble.h"

#include "engine/text/number.h"

namespace leadline::circuit {

std::optional<Trouble> outside(const std::string& what, double value, double least, double most,
                               const std::string& unit) {
  if (value >= least && value <= most) return std::nullopt;  // false for not-a-number
  const auto shown = [&unit](double number) {
    return text::format_number(number, 9) + (unit.empty() ? "" : " " + unit);
  };
  return Trouble{Trouble::Kind::bad_value, {}, what + " is " + shown(value), "expected " + shown(least) + " to " + shown(most)};
}

}  // namespace leadline::circuit
