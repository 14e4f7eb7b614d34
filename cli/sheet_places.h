#pragma once
// Where on this boat the readings were taken and the suspect sits: the places of the wiring sketch. Tested by tests/cli/sheet_places_test.cpp.
#include "cli/sheet.h"

namespace leadline::cli {

// The place of a node, part or title of the circuits' words: "bank", "fuse", "isolator", "contactor", "motor", "charger", "supply", "terminator",
// "trunk", "thruster", "panels"; of the heavy cables "plus-cable" and "minus-cable". Empty for words that name none of them.
std::string power_place(const std::string& words);
std::string network_place(const std::string& words);

// The places of this boat, in the order of the current: what is fitted, with readings and suspect.
std::vector<Sheet::Place> sheet_places(const callout::Assessment& assessment, const Sheet& sheet);

}  // namespace leadline::cli
