#pragma once
// Circuits as the book describes them, measurements tied to them, and what causes do to them. Numbers are expressions over the record;
// engine/circuit fills them in for one boat. The format: docs/knowledge-format.md § circuits. Tested by tests/knowledge/reader_circuits_test.cpp.
#include <optional>
#include <string>
#include <vector>

#include "engine/knowledge/certificate.h"
#include "engine/knowledge/expression.h"

namespace leadline::knowledge {

enum class PartKind { resistor, cable, battery, source, current, power, motor, step_up };

// One number of a part: "ohm", "volt", "length", …
struct PartValue {
  std::string name;
  Expression value;
};

// One thing in a circuit: a cable, a joint, a battery, a load.
struct Part {
  std::string id;                     // of a repeated part with {@fact} of its element in it, as `from` and `to`
  std::string title;
  std::string from, to;               // names of nodes, as a technician would name the place of his probe
  PartKind kind = PartKind::resistor;
  std::vector<PartValue> values;
  std::string chemistry;              // of a battery: path of the fact; empty otherwise
  std::optional<Expression> when;     // not fitted in boats where it does not hold
  std::vector<std::size_t> conditions;  // of the page, in which it is there; empty: in all
  std::string awake_with;             // of a source or current: works only while the step-up part of this id is awake
  std::string each;                   // record element it is repeated for; empty: once
  double spread = 0;                  // relative standard deviation of its resistance, current or power among sound boats
  double spread_volt = 0;             // standard deviation of its volts
  std::string shared;                 // parts of one name vary together; empty: for itself
  text::Place place;
};

// How the boat stands while a reading is taken: at rest, full push, charging, power off.
struct OperatingCondition {
  std::string id, title;
};

struct CircuitPage {
  std::string id, title;
  std::string reference;              // the place to which all others leak a little, as damp does
  std::vector<OperatingCondition> conditions;
  std::vector<Part> parts;
  std::vector<Citation> sources;
  text::Place place;
};

enum class ProbeKind { volts, amps, ohms };

// What an instrument is put to: two nodes, or (for amps) one part, under one condition of the circuit.
struct Probe {
  ProbeKind kind = ProbeKind::volts;
  std::size_t condition = 0;
  std::string from, to;               // nodes; of amps: `from` is the id of the part
  double weight = 1;
  std::string each;                   // record element it is repeated for, {@fact} in `from` and `to`; empty: once
};

// How the probes of a measurement become one number.
enum class Take { sum, largest, least, spread, average, ratio };  // sum of weight * reading; spread: largest less least; ratio: volts by amps

struct Measure {
  std::size_t circuit = 0;            // index of the page
  Take take = Take::sum;
  std::vector<Probe> probes;
  double doubt = 0;                   // standard deviation of what the circuit leaves out, in the finding's unit (or relative, of ohms)
  text::Place place;
};

enum class ChangeKind { add, times, set, open, join };

// One part changed, by a size between `from` and `to`.
struct Change {
  ChangeKind kind = ChangeKind::add;
  std::string part;                   // its id; a * in it stands for any of several parts, one of which is struck. Of join: unused
  bool every = false;                 // all that fit are struck, not one
  std::string value;                  // "ohm", "volt", "amp", "watt", "wake"
  std::string from_node, to_node;     // of join: a new connection
  std::optional<Expression> from, to; // none of open
  text::Place place;
};

// What a cause does to a circuit. Several effects of one cause on one circuit are alternatives, weighed by `share`.
struct Effect {
  std::size_t circuit = 0;
  double share = 1;
  std::string words;
  std::vector<Change> changes;        // all of one size: they grow together
  std::optional<Expression> when;
  text::Place place;
};

}  // namespace leadline::knowledge
