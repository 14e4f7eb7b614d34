#pragma once
// Readings as people write them, and what an instrument is worth. Tested by tests/diagnosis/reading_test.cpp.
#include <optional>
#include <string>
#include <string_view>

#include "engine/knowledge/unit.h"

namespace leadline::diagnosis {

struct Reading {
  double value = 0;         // in the finding's unit; infinity for an over-range ohm reading (OL)
  double resolution = 0;    // of what was written, in the same unit: 0.1 for "24.6", 0.001 for "310 mV"
  std::string written;      // as typed, blanks folded
  friend bool operator==(const Reading&, const Reading&) = default;
};

// "24.6 V", "24,6", "24V6", "310 mV", "0.4 ohm", "4k7", "1M", "OL", "-0.1". Nothing for anything else.
std::optional<Reading> parse_reading(std::string_view typed, knowledge::Unit unit);

// "from -40 to 40 V", where a number lies beyond that and so is a slip of the pen; empty when it may be right, and for an over-range ohm reading. On a boat whose
// bank has so many volts (0: not known) no battery aboard, charged as hard as may be, gives more than 1.6 times as much; one beside the thruster's may be of 24 V.
// Common practice, no source.
std::string range_left(const Reading& reading, knowledge::Unit unit, double bank_volts);

// Limits of error a = relative * |x| + digits * digit, taken as rectangular: u = a / sqrt(3) (GUM, JCGM 100:2008 § 4.3.7).
struct Instrument {
  double volts_relative = 0.005, amps_relative = 0.02, ohms_relative = 0.01;
  double volts_digits = 2, amps_digits = 5, ohms_digits = 3;
};

enum class InstrumentClass { pocket, good, poor };
Instrument instrument_of(InstrumentClass which);
std::optional<InstrumentClass> instrument_class_of(std::string_view word);  // "pocket", "good", "poor"
std::string_view to_string(InstrumentClass which);                          // back again

// Standard uncertainty of a reading, in its unit: the instrument and the rounding of what was written. Infinite readings: 0.
double standard_uncertainty(const Reading& reading, knowledge::Unit unit, const Instrument& instrument);

}  // namespace leadline::diagnosis
