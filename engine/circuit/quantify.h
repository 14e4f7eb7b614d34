#pragma once
// How big a fault is, from what readings left of its sizes and places. Tested by tests/diagnosis/tied_test.cpp.
#include "engine/circuit/expectation.h"

namespace leadline::circuit {

// One change the fault makes, with nine chances of ten between low and high.
struct Amount {
  std::string part;                     // its title; of several struck alike the first
  std::size_t parts = 1;                // how many are struck alike
  knowledge::ChangeKind kind = knowledge::ChangeKind::add;
  std::string value;                    // "ohm", "volt", "amp", "watt", "load", "wake"
  double middle = 0, low = 0, high = 0; // what is added, the factor, or the new value; of open: unused
  double most_amp = 0, heat_watt = 0;   // of a resistance: the largest current through it under any condition, and what the fault burns there
  std::optional<double> charge;         // of a battery that lost volts: what its rested volts say of its charge, percent
  std::string piece_from, piece_to;     // of a piece of network cable: the places of the string at its ends; else empty
};

// One way in which the cause may have struck, with its share of the belief in the cause.
struct Sized {
  double share = 0;
  std::string words, struck;
  std::vector<Amount> amounts;
};

// For the cause at `position` among `causes` (as in Expectation::under). Ways with a share below a hundredth are left out; heaviest first.
std::vector<Sized> quantify(const knowledge::KnowledgeBase& base, const Expectation& expectation, std::size_t circuit,
                            const std::vector<std::size_t>& causes, std::size_t position, const Informed& informed);

}  // namespace leadline::circuit
