#pragma once
// What is wrong in an installation record before anyone lifts a hatch. From the record alone: nothing was measured. The rules, their numbers
// and sources: docs/review.md. Tested by tests/circuit/review_test.cpp, tests/outside/circuit/review_rules_test.cpp.
#include <span>
#include <string>
#include <vector>

#include "engine/installation/record.h"

namespace leadline::circuit {

// doubtful: right in some boats, or resting on a decisive fact that nobody stated.
enum class Severity { wrong, doubtful };

// How the number of a rule is known: the tags of docs/circuit.md.
enum class Tag { read, memory, derived, common_practice };

struct RuleSource {
  std::string title;
  Tag tag;
};

// A number a remark rests on: what it is, how it was computed or where it stands in the record ("how" may be empty).
struct Figure {
  std::string what;
  double value = 0;
  int decimals = 0;  // those worth showing
  std::string unit, how;
};

struct Remark {
  std::string rule;  // id: "cable-drop"
  Severity severity = Severity::wrong;
  std::string what;     // in a technician's words
  std::string way_out;  // what would put it right
  std::vector<Figure> figures;
  std::vector<RuleSource> sources;
  std::vector<std::string> causes;             // ids of causes in the knowledge base that it raises and that can exist in this boat
  std::vector<installation::Assumed> assumed;  // the facts it used that nobody stated
};

struct ReviewRule {
  std::string id;
  std::vector<RuleSource> sources;
  std::vector<std::string> causes;  // every cause it may raise
};

std::span<const ReviewRule> review_rules();

// Remarks in order of review_rules(), those that are wrong first. Facts a knowledge base does not declare are not judged.
std::vector<Remark> review(const knowledge::KnowledgeBase& base, const installation::Installation& boat);

}  // namespace leadline::circuit
