#pragma once
// Facts of the record that the program itself reads, by name: the review of a record (docs/review.md) and the network's string. Internal to the room.
// tests/audit/planted_test.cpp holds the list against the sources.
#include <array>
#include <string_view>

namespace leadline::audit {

constexpr std::array<std::string_view, 7> facts_of_the_program{"network/@bit-rate", "network/@stations", "power/@engine-space", "power/@insulation", "station/@drives", "station/@number", "thruster/@role"};

}  // namespace leadline::audit
