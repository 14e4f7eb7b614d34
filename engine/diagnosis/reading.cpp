#include "engine/diagnosis/reading.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <limits>

#include "engine/markup/element.h"
#include "engine/text/number.h"

namespace leadline::diagnosis {

namespace {

using knowledge::Unit;

bool is_digit(char c) { return c >= '0' && c <= '9'; }

struct Split {
  std::string number;   // with a point as decimal mark
  std::string unit;
  int decimals = 0;
};

// "24.6 V" -> 24.6, V. A comma counts as the decimal mark when it is the only one.
std::optional<Split> split(std::string_view text) {
  Split out;
  std::size_t at = 0;
  if (at < text.size() && (text[at] == '-' || text[at] == '+')) {
    if (text[at] == '-') out.number = "-";
    ++at;
  }
  bool marked = false, any = false;
  for (; at < text.size(); ++at) {
    if (is_digit(text[at])) {
      out.number += text[at];
      any = true;
      out.decimals += marked ? 1 : 0;
    } else if ((text[at] == '.' || text[at] == ',') && !marked) {
      marked = true;
      if (!any) out.number += '0';
      out.number += '.';
    } else {
      break;
    }
  }
  if (!any) return std::nullopt;
  while (at < text.size() && text[at] == ' ') ++at;
  out.unit = text.substr(at);
  return out;
}

// "24V6" and "4k7": the unit stands where the decimal mark would. Becomes "24.6 V".
std::optional<Split> split_inner_unit(std::string_view text) {
  const auto letter = text.find_first_not_of("-0123456789");
  if (letter == std::string_view::npos || letter == 0) return std::nullopt;
  const auto fraction = text.find_first_of("0123456789", letter);
  if (fraction == std::string_view::npos || text.find_first_not_of("0123456789", fraction) != std::string_view::npos) return std::nullopt;
  const auto unit = text.substr(letter, fraction - letter);
  if (unit.find_first_of(".,-+ ") != std::string_view::npos) return std::nullopt;
  return split(std::string(text.substr(0, letter)) + "." + std::string(text.substr(fraction)) + std::string(unit));
}

std::string without_case(std::string_view text) {
  std::string lower(text);
  std::transform(lower.begin(), lower.end(), lower.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return lower;
}

bool over_range(std::string_view text, Unit unit) {
  if (unit != Unit::ohm && unit != Unit::megohm) return false;
  const auto lower = without_case(text);
  return lower == "ol" || lower == "0l" || lower == "o.l" || lower == "0.l" || lower == "o.l." || lower == "open" || lower == "infinite";
}

struct Range { double least, most; };

Range plausible_range(Unit unit, double bank_volts) {
  constexpr double over_nominal = 1.6, beside_the_thruster = 40;
  const double volts = std::max(beside_the_thruster, over_nominal * (bank_volts > 0 ? bank_volts : 48));
  switch (unit) {
    case Unit::volt: return {-volts, volts};
    case Unit::ampere: return {-5000, 5000};
    case Unit::ohm: return {0, 1e9};
    case Unit::megohm: return {0, 1e6};
    case Unit::celsius: return {-50, 400};
    case Unit::minute: return {0, 100'000};
    case Unit::percent: return {-1000, 1000};  // a spread may be several times the middle
    case Unit::ampere_hour: return {0, 20'000};
    default: return {0, 2000};
  }
}

}  // namespace

std::optional<Reading> parse_reading(std::string_view typed, Unit unit) {
  const auto text = markup::fold_blanks(typed);
  if (over_range(text, unit)) return Reading{std::numeric_limits<double>::infinity(), 0, text};
  const auto inner = split_inner_unit(text);
  const auto parts = inner ? inner : split(text);
  if (!parts) return std::nullopt;
  const auto number = text::parse_number(parts->number.ends_with('.') ? parts->number.substr(0, parts->number.size() - 1) : parts->number);
  const auto factor = knowledge::factor_to(unit, parts->unit);
  if (!number || !factor || std::abs(*number) > 1e12) return std::nullopt;
  return Reading{*number * *factor, std::pow(10.0, -parts->decimals) * *factor, text};
}

std::string range_left(const Reading& reading, Unit unit, double bank_volts) {
  const auto [least, most] = plausible_range(unit, bank_volts);
  if (std::isinf(reading.value) || (reading.value >= least && reading.value <= most)) return "";
  return "from " + text::format_number(least, 0) + " to " + text::format_number(most, 0) + " " + std::string(knowledge::name_of(unit));
}

Instrument instrument_of(InstrumentClass which) {
  switch (which) {
    case InstrumentClass::pocket: return {};
    case InstrumentClass::good: return {0.001, 0.015, 0.005, 1, 3, 2};
    case InstrumentClass::poor: return {0.015, 0.04, 0.03, 5, 10, 5};
  }
  return {};
}

std::optional<InstrumentClass> instrument_class_of(std::string_view word) {
  if (word == "pocket") return InstrumentClass::pocket;
  if (word == "good") return InstrumentClass::good;
  if (word == "poor") return InstrumentClass::poor;
  return std::nullopt;
}

std::string_view to_string(InstrumentClass which) { return which == InstrumentClass::good ? "good" : which == InstrumentClass::poor ? "poor" : "pocket"; }

double standard_uncertainty(const Reading& reading, Unit unit, const Instrument& instrument) {
  if (!std::isfinite(reading.value)) return 0;
  double relative = 0, digits = 0, digit = reading.resolution;
  switch (unit) {
    case Unit::volt: relative = instrument.volts_relative, digits = instrument.volts_digits, digit = std::min(digit, 0.01); break;
    case Unit::ampere: relative = instrument.amps_relative, digits = instrument.amps_digits, digit = std::min(digit, 0.1); break;
    case Unit::ohm:
    case Unit::megohm: relative = instrument.ohms_relative, digits = instrument.ohms_digits, digit = std::min(digit, 0.1); break;
    default: relative = 0.02; break;  // a tape, a watch, a thermometer: a fiftieth, common practice, no source
  }
  const double limit = relative * std::abs(reading.value) + digits * digit;
  const double rounding = reading.resolution / 2;  // what was written may be rounded from what the display showed
  const bool rounded = reading.resolution > digit;
  return std::sqrt((limit * limit + (rounded ? rounding * rounding : 0)) / 3);
}

}  // namespace leadline::diagnosis
