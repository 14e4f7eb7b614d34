#pragma once
// Boats of all kinds, for simulated call-outs. Tested by tests/trial/drawn_boats_test.cpp.
#include "engine/diagnosis/model.h"

namespace leadline::trial {

// A boat of the trial. Its findings are drawn by their states: the model stands alone, without the circuits it was made from.
struct TrialBoat {
  TrialBoat(const knowledge::KnowledgeBase& base, std::vector<installation::Stated> stated);
  std::vector<installation::Stated> stated;
  installation::Installation installation;
  installation::Evaluation evaluation;
  diagnosis::BoatModel boat;
};

// What is stated of each boat: what kinds of boats differ in is drawn, each choice as likely; the rest is as the book assumes. The same seed, the same boats.
std::vector<std::vector<installation::Stated>> drawn_facts(const knowledge::KnowledgeBase& base, std::size_t count, std::uint64_t seed);
std::vector<TrialBoat> drawn_boats(const knowledge::KnowledgeBase& base, std::size_t count, std::uint64_t seed);

}  // namespace leadline::trial
