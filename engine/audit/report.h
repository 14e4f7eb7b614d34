#pragma once
// How far a book carries: what it can tell apart, how long jobs take, what its numbers rest on. No mistakes, so no remarks. The figures: docs/audit.md § report.
// Tested by tests/audit/report_test.cpp.
#include <span>

#include "engine/audit/separability.h"
#include "engine/audit/sensitivity.h"
#include "engine/audit/typical_job.h"

namespace leadline::audit {

// A finding in V, A or ohm whose written chances no circuit confirms.
struct Unconfirmed {
  std::size_t finding = 0;
  bool measured = false;         // a circuit describes the reading, but the causes of these rules have no effect there
  std::size_t rules = 0;
};
std::vector<Unconfirmed> unconfirmed_rules(const knowledge::KnowledgeBase& base);

struct Report {
  std::size_t boats = 0;                       // sample boats it rests on
  Separability separability;
  std::array<Testability, 3> testability;      // of the usual boat, by what an owner, a technician, a specialist may do
  std::vector<TypicalJob> jobs;
  std::vector<Unconfirmed> unconfirmed;
  std::size_t electrical_rules = 0;            // rules of findings in V, A or ohm, all together
  Sensitivity sensitivity;
};

// Requires: `base` came of these files. `records`: recorded call-outs for the sensitivity; may be empty.
Report report_on(const knowledge::KnowledgeBase& base, std::span<const text::Source> files, const std::vector<callout::Record>& records);

}  // namespace leadline::audit
