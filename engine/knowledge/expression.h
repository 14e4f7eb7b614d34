#pragma once
// An XPath 1.0 text and where it stands, already checked by expression_check.h when it comes out of the reader.
#include <string>

#include "engine/text/place.h"

namespace leadline::knowledge {

struct Expression {
  std::string text;
  text::Place place;
};

}  // namespace leadline::knowledge
