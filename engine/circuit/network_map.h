#pragma once
// The control network as the record draws it: places, pieces of trunk and branches between them.
// Tested by tests/circuit/review_test.cpp.
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "engine/installation/record.h"

namespace leadline::circuit {

struct CablePiece {
  std::size_t from = 0, to = 0;  // places
  double length_m = 0;
  bool trunk = true;
};

struct NetworkMap {
  std::vector<std::string> places;  // devices and joints, in order of first mention
  std::vector<CablePiece> pieces;
  std::vector<std::vector<std::size_t>> at;  // by place: the pieces that end there
  std::vector<std::string> devices;          // thrusters and panels by name, hand-held remotes left out, in order of the record
};

NetworkMap network_map(const installation::Installation& boat);

// The place of that name, or the number of places.
std::size_t place_of(const NetworkMap& map, const std::string& name);
// Pieces of trunk that end there.
std::size_t trunk_count(const NetworkMap& map, std::size_t place);
// Places where the trunk ends: one piece of trunk, no more.
std::vector<std::size_t> trunk_ends(const NetworkMap& map);

enum class Pieces { all, trunk, branches };
double metres_of(const NetworkMap& map, Pieces of);

// How far each place is from the nearest of `from`, over these pieces; infinite where no way leads. `order`: reached places, nearest
// first; `by`: the piece on which each was reached.
struct Ways {
  std::vector<double> metres;
  std::vector<std::size_t> order, by;
};
Ways ways_from(const NetworkMap& map, const std::vector<std::size_t>& from, Pieces over);

// Where a piece of cable lies, counted along the cable from one place of the string.
struct Stretch {
  double from_m = 0, to_m = 0;
};
// Nothing when no way leads there.
std::optional<Stretch> stretch_between(const NetworkMap& map, const std::string& counted_from, const std::string& piece_from, const std::string& piece_to);

// Pieces that close a ring, in order of the record.
std::vector<std::size_t> closing_pieces(const NetworkMap& map);
// How many parts the places fall into.
std::size_t part_count(const NetworkMap& map);
// One trunk from end to end, and everything hangs on it.
bool is_one_string(const NetworkMap& map);

}  // namespace leadline::circuit
