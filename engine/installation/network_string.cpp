#include "engine/installation/network_string.h"

#include <algorithm>
#include <iterator>
#include <string>

#include "engine/text/number.h"

namespace leadline::installation {

namespace {

// Devices of one name cannot be told apart on the string: later ones are numbered.
std::vector<std::string> name_devices(pugi::xml_node root) {
  std::vector<std::string> names;
  for (const char* kind : {"thruster", "station"}) {
    for (auto device : root.children(kind)) {
      const std::string stated = device.attribute("name").value();
      std::string name = stated;
      for (int copy = 2; std::find(names.begin(), names.end(), name) != names.end(); ++copy) name = stated + " " + std::to_string(copy);
      device.attribute("name").set_value(name.c_str());
      names.push_back(name);
    }
  }
  return names;
}

void lay_string(pugi::xml_node root, const std::vector<std::string>& devices) {
  const double length = root.child("network").attribute("length").as_double() / static_cast<double>(devices.size() - 1);
  for (std::size_t d = 1; d < devices.size(); ++d) {
    auto segment = root.append_child("segment");
    segment.append_attribute("from").set_value(devices[d - 1].c_str());
    segment.append_attribute("to").set_value(devices[d].c_str());
    segment.append_attribute("length").set_value(text::format_number(length, 3).c_str());
    segment.append_attribute("kind").set_value("trunk");
  }
}

// The two places of the string that lie farthest apart in the list: its ends, when it was listed from end to end.
void place_terminators(pugi::xml_node root) {
  const std::string how_many = root.child("network").attribute("terminators").value();
  const std::string first = root.child("segment").attribute("from").value();
  auto last_segment = root.child("segment");
  for (const auto segment : root.children("segment")) {
    if (std::string_view(segment.attribute("kind").value()) == "trunk") last_segment = segment;
  }
  const std::string last = last_segment.attribute("to").value();
  std::vector<std::string> places;
  if (how_many != "none") places.push_back(first);
  if (how_many == "two" || how_many == "more") places.push_back(last);
  if (how_many == "more") places.push_back(root.child("segment").attribute("to").value());
  for (const auto& place : places) {
    auto terminator = root.append_child("terminator");
    terminator.append_attribute("at").set_value(place.c_str());
    terminator.append_attribute("ohm").set_value("120");
  }
}

bool on_string(pugi::xml_node root, const std::string& place) {
  const auto segments = root.children("segment");
  return std::any_of(segments.begin(), segments.end(), [&](pugi::xml_node s) { return place == s.attribute("from").value() || place == s.attribute("to").value(); });
}

// A place on the string that the record does not name: beside the last station, where a switchboard is; without one on it, the end listed last.
void place_feed(pugi::xml_node root) {
  auto feed = root.child("network").attribute("feed");
  if (feed.empty() || on_string(root, feed.value())) return;
  std::string place;
  for (const auto segment : root.children("segment")) place = segment.attribute("to").value();
  for (const auto station : root.children("station")) {
    if (on_string(root, station.attribute("name").value())) place = station.attribute("name").value();
  }
  feed.set_value(place.c_str());
}

std::string said_of(pugi::xml_node root, const char* element) {
  std::string said;
  for (const auto node : root.children(element)) {
    said += said.empty() ? "" : ", ";
    if (std::string_view(element) == "terminator") said += node.attribute("at").value();
    else said += std::string(node.attribute("from").value()) + " - " + node.attribute("to").value() + " " + node.attribute("length").value() + " m";
  }
  return said.empty() ? "none" : said;
}

}  // namespace

void place_stations(pugi::xml_node root, const knowledge::Fact& fact) {
  const auto stations = root.children("station");
  const auto written = std::distance(stations.begin(), stations.end());
  auto network = root.child("network");
  if (const auto stated = network.attribute("stations"); !stated.empty()) {
    if (!why_not(fact, stated.value()).empty()) return;
    for (auto made = static_cast<double>(written); made < text::parse_number(stated.value()); ++made) root.append_child("station");
  } else if (written > 0) {
    if (network.empty()) network = root.append_child("network");
    network.append_attribute("stations").set_value(std::to_string(written).c_str());
  }
}

std::string free_station_number(pugi::xml_node root, const knowledge::Fact& fact) {
  const auto stations = root.children("station");
  const auto borne = [&](double number) {
    return std::any_of(stations.begin(), stations.end(), [&](pugi::xml_node station) { return text::parse_number(station.attribute("number").value()) == number; });
  };
  for (auto number = text::parse_number(fact.assume).value_or(1); number <= fact.most.value_or(number); ++number) {
    if (!borne(number)) return text::format_number(number, 0);
  }
  return fact.assume;
}

void complete_string(pugi::xml_node root, std::vector<Assumed>& assumed) {
  const auto devices = name_devices(root);
  const bool networked = std::string_view(root.child("network").attribute("supply").value()) != "none";
  if (!networked || devices.size() < 2) return;
  if (root.child("segment").empty()) {
    lay_string(root, devices);
    assumed.push_back({"segment", said_of(root, "segment")});
  }
  place_feed(root);
  if (root.child("terminator").empty()) {
    place_terminators(root);
    assumed.push_back({"terminator", said_of(root, "terminator")});
  }
}

}  // namespace leadline::installation
