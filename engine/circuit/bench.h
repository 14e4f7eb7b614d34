#pragma once
// The measurements that the book ties to one circuit, ready to be read in one boat under any numbers of its parts.
// Tested by tests/circuit/bench_test.cpp.
#include "engine/circuit/fitted.h"
#include "engine/circuit/prepared.h"

namespace leadline::circuit {

// One measurement: a finding of the knowledge base and the probes it is made of.
struct TiedMeasure {
  std::size_t finding = 0;
  knowledge::Take take = knowledge::Take::sum;
  double doubt = 0;
  bool ohms = false;
  std::vector<std::size_t> probes;   // into the bench's list
};

class Bench {
 public:
  // Requires: `base` outlives the bench. Measurements whose probes have no place in this boat are left out.
  static Result<Bench> of(const knowledge::KnowledgeBase& base, FittedCircuit healthy, const installation::Evaluation& evaluation);

  const FittedCircuit& healthy() const { return healthy_; }
  const std::vector<TiedMeasure>& measures() const { return measures_; }
  // Under which condition a measurement's first probe is read.
  std::size_t condition_of(const TiedMeasure& measure) const { return probes_[measure.probes.front()].condition; }
  // Conditions in which any of these parts is there: the only ones whose readings they change.
  std::vector<bool> conditions_of(const std::vector<std::size_t>& parts) const;

  // Conditions in which any probe reads something else than in `reference`.
  std::vector<bool> moved(const std::vector<double>& probes, const std::vector<double>& reference) const;

  // What each probe reads; `numbers`: of healthy()'s parts. Conditions left out keep what they read in `otherwise`. Where
  // a constant power cannot be had its load stands still: current 0. Not for two threads at once.
  // `idle`, when given: by condition, how many loads and chargers stand still; kept for conditions left out.
  std::vector<double> probed(const std::vector<PartNumbers>& numbers, const std::vector<bool>& conditions, const std::vector<double>& otherwise,
                             std::vector<std::size_t>* idle = nullptr) const;
  const std::vector<double>& probed_healthy() const { return healthy_probes_; }
  const std::vector<std::size_t>& idle_healthy() const { return healthy_idle_; }
  // Volts and amperes of each part under one condition; 0 where it is not there.
  struct PartReading {
    double volt = 0, amp = 0;
  };
  std::vector<PartReading> part_readings(std::size_t condition, const std::vector<PartNumbers>& numbers) const;

  // Readings of all measurements from those of the probes, in their findings' units (V, A, ohm). Not a number where there is
  // nothing to read from: ohms worked out from volts and amperes when no current flows.
  std::vector<double> measured(const std::vector<double>& probes) const;

 private:
  struct Fixed {  // a probe with its places resolved
    knowledge::ProbeKind kind;
    std::size_t condition, a, b;
    double weight;
  };
  Bench() = default;
  void prepare_probes(const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation);
  std::optional<Fixed> fixed(const knowledge::Probe& probe, pugi::xml_node each) const;
  std::size_t read_condition(std::size_t condition, const std::vector<PartNumbers>& numbers, std::vector<double>& probes) const;
  double ratio(const TiedMeasure& measure, const std::vector<double>& probes) const;
  struct OperatingPoint {
    State state;
    std::size_t idle = 0;
  };
  OperatingPoint operating_point(std::size_t condition, const std::vector<PartNumbers>& numbers) const;
  void set_parts(std::size_t condition, const std::vector<PartNumbers>& numbers, const std::vector<bool>& awake) const;

  FittedCircuit healthy_;
  std::vector<std::shared_ptr<Prepared>> conditions_;       // by condition; their numbers are set anew before each reading
  std::vector<std::vector<std::size_t>> element_of_part_;   // [condition][part]; none when it is not there
  struct Sleeper {
    std::size_t part, from, to;  // a step-up input and its nodes
  };
  std::vector<std::vector<Sleeper>> sleepers_;              // by condition
  std::vector<Fixed> probes_;
  std::vector<TiedMeasure> measures_;
  std::vector<double> healthy_probes_;
  std::vector<std::size_t> healthy_idle_;                   // by condition
};

}  // namespace leadline::circuit
