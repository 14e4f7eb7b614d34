#pragma once
// The stations and the network string a record leaves unsaid. Tested by tests/installation/network_string_test.cpp.
#include <array>
#include <pugixml.hpp>
#include <string>
#include <vector>

#include "engine/installation/record.h"

namespace leadline::installation {

// Stations that are written are all there are, and `network/@stations` is their number; of fewer than it says the rest is made. A record that says neither is
// left alone, and so is one whose number of stations cannot be. Before any fact is assumed. `fact`: of that path.
void place_stations(pugi::xml_node root, const knowledge::Fact& fact);
inline constexpr const char* number_of_stations = "network/@stations";

// Each station has a number of its own where nobody states otherwise: the least from `assume` upwards that no station bears; `assume` when all are borne.
std::string free_station_number(pugi::xml_node root, const knowledge::Fact& fact);
inline constexpr const char* number_of_a_station = "station/@number";

// A record that lists no <segment> is given a string: its devices (thrusters, then stations) in the order of the record, on equal pieces of
// trunk that add up to network/@length. Without <terminator> as many are placed as network/@terminators says, the ends first. A feed that
// is at no place of the string is put beside the last station on it, or at the end listed last. Devices of one name become "helm",
// "helm 2", …, for places on the string are told apart by name. Requires: all facts have values.
void complete_string(pugi::xml_node root, std::vector<Assumed>& assumed);

// By these facts, and by the devices and their names, it is laid: segments and terminators hang on them.
inline constexpr std::array facts_of_the_string{"network/@supply", "network/@length", "network/@terminators", number_of_stations};

}  // namespace leadline::installation
