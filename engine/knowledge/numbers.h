#pragma once
// Every number of the book, one by one, with its birth certificate: for the reader, which refuses one without, and for people who ask where it
// comes from. Tested by tests/knowledge/certificate_test.cpp.
#include <optional>
#include <string>
#include <vector>

#include "engine/knowledge/knowledge_base.h"

namespace leadline::knowledge {

struct Number {
  NumberKind kind = NumberKind::frequency;
  std::string of;          // id of the finding, band, remedy or part of the element that it belongs to; empty: of the element itself
  std::string what;        // in words: "Push of the thruster: no push at all"
  double value = 0;        // in `unit`
  std::string expression;  // over the record, where it is one; then `value` is unused
  std::string unit;        // "min", "V", "" for a chance or a factor
  text::Place place;
  std::string when = {};   // the condition under which it counts; empty: always
  std::optional<Certificate> certificate = std::nullopt;  // none only while a base is being read
};

std::vector<Number> numbers_of(const KnowledgeBase& base, const Cause& cause);
std::vector<Number> numbers_of(const KnowledgeBase& base, const Finding& finding);
std::vector<Number> numbers_of(const KnowledgeBase& base, const Check& check);
std::vector<Number> numbers_of(const KnowledgeBase& base, const Remedy& remedy);

// What holds numbers: a cause, a finding, a check, a remedy, a place, a condition, a price of giving up, a circuit, the unlisted cause.
struct Numbered {
  std::string kind;                  // its element: "cause", "giving-up"
  std::string id, title;             // of giving up: the role; of the unlisted cause: empty
  std::vector<Number> numbers;
  std::vector<Citation> citations;
  text::Place place;
};

// All of the book, kind by kind in the order of the base.
std::vector<Numbered> all_numbers(const KnowledgeBase& base);

// Whether a citation stands for this number: of its kind, and of its name where it names some.
bool stands_for(const Citation& citation, const Number& number);

}  // namespace leadline::knowledge
