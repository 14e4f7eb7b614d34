#pragma once
// Where along a cable or a row of joints the fault of a cause sits, and where to part the run next so that what is left in doubt is halved: from
// the boat's own order and lengths. Tested by tests/planning/line_search_test.cpp.
#include "engine/planning/halving.h"
#include "engine/planning/next_step.h"

namespace leadline::planning {

struct Piece {
  std::string title;                     // "lug on the bank plus post", "piece from helm to bow"
  std::string from, to;                  // of a piece of network cable: the places at its ends; else empty
  double chance = 0;                     // given that the cause is there
};

// One test: the fault was found to lie on that side of the cut.
struct Parted {
  std::size_t cut = 0;
  bool before = false;
  friend bool operator==(const Parted&, const Parted&) = default;
};

struct LineSearch {
  std::size_t cause = 0;                 // of the model
  knowledge::Ref<knowledge::Check> how;  // the check of the book that parts such a run: its precautions, its steps
  std::vector<Piece> pieces;             // in order along the run
  std::vector<Cut> cuts;                 // best first; none: the piece is known, as far as it can be
};

// What one test says, as chances: the tester is believed, but for one slip in fifty (estimate).
constexpr double slip_of_a_cut = 0.02;

// Nothing when no circuit describes where the cause strikes, when it strikes one place only, or when nobody here may part that run. Of pieces of
// cable the longer hold more, each with its plug counted as some metres; readings taken so far speak as they do in "how big it is".
std::optional<LineSearch> line_search(const Job& job, std::size_t cause, const std::vector<Parted>& parted);

}  // namespace leadline::planning
