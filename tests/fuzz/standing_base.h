#pragma once
// The small base that targets of installations, cases and answers are read against. Made once.
#include "tests/knowledge/minimal_base.h"

namespace leadline::testing {

inline const knowledge::KnowledgeBase& standing_base() {
  static const auto base = minimal_base();
  return base;
}

inline std::string text_of(const unsigned char* data, std::size_t size) { return {reinterpret_cast<const char*>(data), size}; }

}  // namespace leadline::testing
