#pragma once
// Readings tied to circuits, judged together by their density under sets of causes. The mathematics: docs/mathematics.md § tied readings.
// Tested by tests/diagnosis/tied_test.cpp.
#include <map>
#include <memory>

#include "engine/circuit/quantify.h"
#include "engine/diagnosis/evidence.h"

namespace leadline::diagnosis {

// The readings of one evidence that circuits describe. Keeps what it has worked out; not for two threads at once.
class TiedReadings {
 public:
  // Requires: `model` outlives it; model.circuits is there when any observation is tied.
  TiedReadings(const Model& model, const Evidence& evidence);

  // Without one of the readings; the causes they speak of stay those of all.
  TiedReadings without(std::size_t finding) const;

  bool empty() const { return circuits_.empty(); }
  // Causes of the model that these readings speak of: with an effect on a circuit that was read which they can notice, or a written rule about
  // one of the readings. All others leave the density alone.
  const std::vector<std::size_t>& implicated() const { return implicated_; }

  // Log density of all readings together under exactly these causes; of the implicated ones the first two with an effect on a circuit count
  // there (docs). Ascending.
  double log_density(const std::vector<std::size_t>& causes) const;

  // How big the fault is: for each of these causes with an effect on a circuit that was read. Empty where no reading speaks of one.
  struct FaultSize {
    std::size_t cause;                      // of the model
    std::vector<circuit::Sized> ways;
  };
  std::vector<FaultSize> sizes_of(const knowledge::KnowledgeBase& base, const std::vector<std::size_t>& causes) const;

  // P(state of the finding | the causes, these readings): from its circuit, and from written rules and leak where they speak. Of two causes
  // that these readings did not judge together, by the stronger of what each gives alone.
  std::vector<double> states_of(std::size_t finding, const std::vector<std::size_t>& causes) const;
  // False: among the causes of states_of() this one changes nothing.
  bool sways(std::size_t finding, std::size_t cause) const;

 private:
  struct CircuitReadings {
    std::size_t circuit;
    std::vector<const Observation*> observations;
  };
  std::vector<circuit::Taken> taken(const CircuitReadings& read, const std::vector<std::size_t>& causes) const;
  struct Judged {
    circuit::Informed informed;
    std::map<std::size_t, std::vector<double>> states;  // by finding, as far as asked for: most explanations of a list differ in causes that do not matter here
  };
  const CircuitReadings* read_on(std::size_t circuit) const;  // null: nothing was read there
  Judged& judged(const CircuitReadings& read, const std::vector<std::size_t>& causes) const;
  const circuit::Informed& informed(const CircuitReadings& read, const std::vector<std::size_t>& causes) const { return judged(read, causes).informed; }
  const std::vector<double>& states_by_circuit(std::size_t finding, const circuit::Tie& tie, const std::vector<std::size_t>& causes) const;
  bool matters(std::size_t cause, const CircuitReadings& read) const;
  bool noticed(std::size_t cause) const;
  bool needs_new_pair(std::size_t circuit, const std::vector<std::size_t>& causes) const;

  explicit TiedReadings(const Model& model) : model_(model) {}
  void add_readings(const Evidence& evidence);
  friend double log_density_under(const Model& model, const Evidence& evidence, const std::vector<std::size_t>& causes);

  const Model& model_;
  std::vector<CircuitReadings> circuits_;
  std::vector<std::size_t> implicated_;
  mutable std::map<std::pair<std::size_t, std::vector<std::size_t>>, Judged> judged_;  // by circuit and the causes that matter there
};

// The same log density, without working out which other causes the readings speak of: for a few sets of causes. Requires: as for TiedReadings.
double log_density_under(const Model& model, const Evidence& evidence, const std::vector<std::size_t>& causes);

// Observations with and without a tie, in their order.
Evidence tied_part(const Evidence& evidence);
Evidence plain_part(const Evidence& evidence);

}  // namespace leadline::diagnosis
