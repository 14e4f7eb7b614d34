#pragma once
// Names, validity and connections of a circuit, before any number is solved. Internal to the room.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/circuit/network.h"

namespace leadline::circuit {

struct Ends {
  std::size_t from = 0, to = 0;
};

// Sets of nodes that grow together.
class Groups {
 public:
  explicit Groups(std::size_t count);
  std::size_t of(std::size_t node) const;          // the least node of its group
  bool join(std::size_t a, std::size_t b);         // false when they were together already

 private:
  std::vector<std::size_t> parent_;
};

struct Layout {
  std::vector<std::string> nodes;   // in order of first mention
  std::vector<Ends> ends;           // by element
  std::vector<std::size_t> island;  // by node: the first node that conductors join it to
};

Result<Layout> layout_of(const Circuit& circuit);

// No resistance at all: an ideal source or a closed switch.
bool is_ideal(const Kind& kind);
bool conducts(const Kind& kind);

// A ring of ideal elements; contradiction when its volts do not add up to 0. Requires a valid layout, as all below.
std::optional<Trouble> ring_of_ideals(const Circuit& circuit, const Layout& layout);
// A load between two islands.
std::optional<Trouble> missing_return(const Circuit& circuit, const Layout& layout);

// The index of a name, or unknown_name with what may have been meant.
Result<std::size_t> index_of(std::string_view name, const std::vector<std::string>& names, std::string_view what);

}  // namespace leadline::circuit
