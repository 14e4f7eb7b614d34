#include "engine/knowledge/unit.h"

#include <algorithm>

namespace leadline::knowledge {

namespace {

struct Name {
  Unit unit;
  std::string_view name;
};

constexpr Name names[] = {{Unit::volt, "V"},       {Unit::ampere, "A"},   {Unit::ohm, "ohm"},
                          {Unit::megohm, "Mohm"},  {Unit::celsius, "degC"}, {Unit::minute, "min"},
                          {Unit::metre, "m"},      {Unit::square_millimetre, "mm2"}, {Unit::percent, "percent"},
                          {Unit::ampere_hour, "Ah"}};

struct Spelling {
  Unit unit;
  std::string_view typed;
  double factor;
};

// What people write behind the number. Case matters only where it carries meaning: m is milli, M is mega.
constexpr Spelling spellings[] = {
    {Unit::volt, "V", 1}, {Unit::volt, "v", 1}, {Unit::volt, "volt", 1}, {Unit::volt, "volts", 1}, {Unit::volt, "Volt", 1},
    {Unit::volt, "mV", 1e-3}, {Unit::volt, "mv", 1e-3}, {Unit::volt, "millivolt", 1e-3},
    {Unit::ampere, "A", 1}, {Unit::ampere, "a", 1}, {Unit::ampere, "amp", 1}, {Unit::ampere, "amps", 1}, {Unit::ampere, "ampere", 1},
    {Unit::ampere, "mA", 1e-3}, {Unit::ampere, "ma", 1e-3},
    {Unit::ohm, "ohm", 1}, {Unit::ohm, "Ohm", 1}, {Unit::ohm, "ohms", 1}, {Unit::ohm, "R", 1}, {Unit::ohm, "r", 1},
    {Unit::ohm, "\xCE\xA9", 1}, {Unit::ohm, "\xE2\x84\xA6", 1},
    {Unit::ohm, "mohm", 1e-3}, {Unit::ohm, "milliohm", 1e-3}, {Unit::ohm, "m\xCE\xA9", 1e-3}, {Unit::ohm, "m", 1e-3},
    {Unit::ohm, "k", 1e3}, {Unit::ohm, "K", 1e3}, {Unit::ohm, "kohm", 1e3}, {Unit::ohm, "k\xCE\xA9", 1e3}, {Unit::ohm, "kilohm", 1e3},
    {Unit::ohm, "M", 1e6}, {Unit::ohm, "Mohm", 1e6}, {Unit::ohm, "M\xCE\xA9", 1e6}, {Unit::ohm, "megohm", 1e6},
    {Unit::celsius, "C", 1}, {Unit::celsius, "c", 1}, {Unit::celsius, "degC", 1}, {Unit::celsius, "\xC2\xB0" "C", 1},
    {Unit::minute, "min", 1}, {Unit::minute, "minutes", 1}, {Unit::minute, "m", 1}, {Unit::minute, "s", 1.0 / 60}, {Unit::minute, "h", 60},
    {Unit::metre, "m", 1}, {Unit::metre, "cm", 0.01}, {Unit::metre, "mm", 0.001},
    {Unit::square_millimetre, "mm2", 1}, {Unit::square_millimetre, "mm\xC2\xB2", 1},
    {Unit::percent, "%", 1}, {Unit::percent, "percent", 1}, {Unit::ampere_hour, "Ah", 1}, {Unit::ampere_hour, "ah", 1}};

}  // namespace

std::optional<Unit> unit_of(std::string_view written) {
  const auto* found = std::find_if(std::begin(names), std::end(names), [&](const Name& n) { return n.name == written; });
  return found == std::end(names) ? std::nullopt : std::optional(found->unit);
}

std::string_view name_of(Unit unit) {
  return std::find_if(std::begin(names), std::end(names), [&](const Name& n) { return n.unit == unit; })->name;
}

std::vector<std::string> unit_names() {
  std::vector<std::string> all;
  for (const auto& n : names) all.emplace_back(n.name);
  return all;
}

std::optional<double> factor_to(Unit expected, std::string_view typed) {
  if (typed.empty()) return 1.0;
  if (expected == Unit::megohm) {
    const auto in_ohms = factor_to(Unit::ohm, typed);
    return in_ohms ? std::optional(*in_ohms * 1e-6) : std::nullopt;
  }
  for (const auto& s : spellings) {
    if (s.unit == expected && s.typed == typed) return s.factor;
  }
  return std::nullopt;
}

}  // namespace leadline::knowledge
