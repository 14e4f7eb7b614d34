#pragma once
// What the audit has to say of one spot of the book. Tested by tests/audit/planted_test.cpp.
#include <compare>
#include <string>
#include <vector>

#include "engine/text/place.h"

namespace leadline::audit {

struct Remark {
  text::Place place;
  std::string what;     // a sentence without a full stop
  std::string way_out;  // likewise
  std::string rule;     // its id, as in docs/audit.md; "reader" for what the reader refuses or warns of
  friend bool operator==(const Remark&, const Remark&) = default;
  friend auto operator<=>(const Remark&, const Remark&) = default;
};

using Remarks = std::vector<Remark>;

}  // namespace leadline::audit
