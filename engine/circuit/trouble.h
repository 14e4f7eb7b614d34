#pragma once
// Why a value or a circuit has no answer: bad circuits are data, not exceptions. Tested by every test of the room.
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace leadline::circuit {

struct Trouble {
  enum class Kind {
    bad_value,            // a number no conductor, battery or element can have
    unknown_name,         // no such node or element
    repeated_id,          // two elements of one id
    floating,             // two nodes that nothing joins: a voltmeter between them reads nothing a circuit decides
    source_loop,          // ideal sources or closed switches in a ring: their currents are undetermined
    contradiction,        // such a ring whose volts do not add up to zero: no currents at all satisfy it
    no_return,            // a load whose current cannot come back
    power_not_available,  // constant-power loads that ask for more than can be delivered
    not_trustworthy,      // the numbers do not allow it: Kirchhoff's laws fail when checked afterwards
  };
  Kind kind = Kind::bad_value;
  std::vector<std::string> names = {};  // the nodes or elements it is about
  std::string what;                // a sentence without a full stop
  std::string hint = {};           // the way out; may be empty
  double most_watt = 0;            // power_not_available: the most these loads could get, in the proportions asked
};

template <class T>
using Result = std::variant<T, Trouble>;

template <class T>
const T* value_of(const Result<T>& result) { return std::get_if<T>(&result); }
template <class T>
const Trouble* trouble_of(const Result<T>& result) { return std::get_if<Trouble>(&result); }

// Nothing when `value` is a number within [least, most]; otherwise a bad_value that says so, with the unit.
std::optional<Trouble> outside(const std::string& what, double value, double least, double most, const std::string& unit);

}  // namespace leadline::circuit
