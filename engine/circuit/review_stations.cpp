// Stations and thrusters as they are set: numbers and roles.
#include <algorithm>
#include <map>

#include "engine/circuit/review_facts.h"

namespace leadline::circuit {

namespace {

struct Station {
  std::string name, drives;
  double number = 0;
  bool moves(const std::string& role) const { return drives == role || drives == "both"; }
};

std::vector<Station> stations_of(pugi::xml_node root) {
  std::vector<Station> stations;
  for (const auto node : root.children("station")) stations.push_back({word_in(node, "name"), word_in(node, "drives"), number_in(node, "number")});
  return stations;
}

std::vector<std::string> thrusters_in(pugi::xml_node root, const std::string& role) {
  std::vector<std::string> names;
  for (const auto node : root.children("thruster")) {
    if (word_in(node, "role") == role) names.push_back(word_in(node, "name"));
  }
  return names;
}

const std::vector<std::string>& roles() {
  static const std::vector<std::string> both{"bow", "stern"};
  return both;
}

// Numbers that are shared were stated: no other is assumed twice.
void judge_numbers(const installation::Installation& boat, Remarks& remarks) {
  const Facts facts(boat);
  std::map<double, std::vector<Station>> by_number;
  for (const auto& station : stations_of(facts.root())) by_number[station.number].push_back(station);
  for (const auto& [number, sharing] : by_number) {
    if (sharing.size() < 2) continue;
    std::vector<std::string> names;
    for (const auto& station : sharing) names.push_back(station.name);
    const bool apart = sharing.size() == 2 && sharing[0].drives != sharing[1].drives && sharing[0].drives != "both" && sharing[1].drives != "both";
    auto made = remark(facts, "station-number", apart ? Severity::doubtful : Severity::wrong,
                       named(names) + " bear the same station number " + shown(number, 0, "") +
                           (apart ? ", though each drives another thruster: right only where they are one station"
                                  : ": they come alive together and speak over each other"),
                       "give each station a number of its own");
    made.figures = {
        {"stations of that number", static_cast<double>(sharing.size()), 0, "", names.size() > 6 ? "" : "station " + shown(number, 0, "")}};
    remarks.push_back(std::move(made));
  }
}

std::string told_in_vain(const Station& station, const std::string& role) {
  const auto told = station.drives == "both" ? "both thrusters" : "the " + role + " thruster";
  return "The station " + station.name + " is told to drive " + told + ", and no " + role + " thruster is fitted";
}

void judge_absent(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  facts.decisive("station/@drives");
  facts.decisive("thruster/@role");
  for (const auto& station : stations_of(facts.root())) {
    for (const auto& role : roles()) {
      if (!station.moves(role) || !thrusters_in(facts.root(), role).empty()) continue;
      remarks.push_back(remark(facts, "station-role", station.drives == "both" ? Severity::doubtful : Severity::wrong, told_in_vain(station, role),
                               "set the panel to the thruster that is there, or correct the role of the thruster"));
    }
  }
}

void judge_undriven(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  facts.decisive("station/@drives");
  facts.decisive("thruster/@role");
  const auto stations = stations_of(facts.root());
  for (const auto& role : roles()) {
    const auto fitted = thrusters_in(facts.root(), role);
    const bool driven = std::any_of(stations.begin(), stations.end(), [&](const Station& station) { return station.moves(role); });
    if (fitted.empty() || driven) continue;
    remarks.push_back(remark(facts, "thruster-undriven", Severity::wrong,
                             "No station is told to drive the " + role + " thruster (" + named(fitted) + ")",
                             "set a panel to " + role + ", or correct the role of the thruster"));
  }
}

void judge_roles(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  facts.decisive("thruster/@role");
  for (const auto& role : roles()) {
    const auto fitted = thrusters_in(facts.root(), role);
    if (fitted.size() < 2) continue;
    auto made = remark(facts, "thruster-roles", Severity::wrong,
                       std::to_string(fitted.size()) + " thrusters answer to the role " + role + " (" + named(fitted) +
                           "): all run at one command, or fall out with each other",
                       "set the role of each thruster by where it sits");
    made.figures = {{"thrusters in the role " + role, static_cast<double>(fitted.size()), 0, "", "at most 1"}};
    remarks.push_back(std::move(made));
  }
}

}  // namespace

void review_stations(const installation::Installation& boat, Remarks& remarks) {
  if (!networked(boat)) return;
  judge_numbers(boat, remarks);
  judge_absent(boat, remarks);
  judge_undriven(boat, remarks);
  judge_roles(boat, remarks);
}

}  // namespace leadline::circuit
