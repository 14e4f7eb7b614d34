#include "cli/sheet_places.h"

#include <algorithm>
#include <array>
#include <set>

#include "cli/phrases.h"
#include "cli/sheet_parts.h"

namespace leadline::cli {

namespace {

using callout::Assessment;
using installation::Installation;

struct Word {
  std::string_view in, place;
};

// The first that is found decides: "isolator coil" is the isolator's, "small fuse of the control" the contactor's.
constexpr std::array<Word, 19> power_words{{{"charger", "charger"}, {"charging", "charger"}, {"alternator", "charger"}, {"isolator", "isolator"},
                                           {"control", "contactor"}, {"coil", "contactor"}, {"command", "contactor"}, {"thermal", "contactor"},
                                           {"contact", "contactor"}, {"fuse", "fuse"}, {"lug on the thruster", "thruster"}, {"thruster plus stud", "thruster"},
                                           {"thruster minus stud", "thruster"}, {"motor", "motor"}, {"brush", "motor"}, {"bank", "bank"}, {"battery", "bank"},
                                           {"string", "bank"}, {"12 V minus", "bank"}}};
constexpr std::array<Word, 14> network_words{{{"terminator", "terminator"}, {"feed", "supply"}, {"fuse", "supply"}, {"supply", "supply"}, {"converter", "supply"},
                                             {"battery", "supply"}, {"plug of", "panels"}, {"panel", "panels"}, {"plug at the thruster", "thruster"},
                                             {"thruster", "thruster"}, {"far end", "far-end"}, {"near end", "trunk"}, {"cable", "trunk"}, {" at ", "trunk"}}};

template <class Words>
std::string place_in(const Words& known, const std::string& words) {
  for (const auto& word : known) {
    if (words.find(word.in) != std::string::npos) return std::string(word.place);
  }
  return "";
}

std::size_t rank_of(const std::string& place) {
  static const std::array<std::string, 6> order{"bank", "fuse", "isolator", "thruster", "contactor", "motor"};
  return static_cast<std::size_t>(std::find(order.begin(), order.end(), place) - order.begin());
}

// A probe's minus lead says little of the place: it goes to the bank's post for most readings.
std::set<std::string> places_of(const knowledge::Probe& probe, bool power) {
  const auto place = [&](const std::string& node) { return power ? power_place(node) : network_place(node); };
  std::set<std::string> places{place(probe.from)};
  const bool against_minus = probe.to.find("minus") != std::string::npos && probe.from.find("minus") == std::string::npos;
  if (!probe.to.empty() && !against_minus) places.insert(place(probe.to));
  places.erase("");
  return places;
}

bool all_minus(const knowledge::Measure& measure) {
  return std::all_of(measure.probes.begin(), measure.probes.end(), [](const auto& p) { return p.from.find("minus") != std::string::npos && p.to.find("minus") != std::string::npos; });
}

// Where a reading is taken; between two places the farther from the bank, between bank and thruster the cable.
std::string place_of_measure(const knowledge::Measure& measure, bool power) {
  std::set<std::string> places;
  for (const auto& probe : measure.probes) places.merge(places_of(probe, power));
  if (places.empty()) return power ? "bank" : "trunk";
  if (!power) return places.size() == 1 ? *places.begin() : "trunk";
  if (places.contains("bank") && places.contains("thruster")) return all_minus(measure) ? "minus-cable" : "plus-cable";
  if (places.contains("thruster") && places.contains("motor")) return "contactor";  // it lies between
  if (places.contains("charger")) return "charger";
  return *std::max_element(places.begin(), places.end(), [](const auto& a, const auto& b) { return rank_of(a) < rank_of(b); });
}

// A cause's place by its subsystem and, where that holds several things, by the words for what it is about.
std::pair<std::string, std::string> place_of_cause(const knowledge::Cause& cause) {
  const auto words = cause.item + " " + cause.title;
  if (cause.subsystem == "protection") return {"power", words.find("solator") != std::string::npos ? "isolator" : "fuse"};
  if (cause.subsystem == "cables") return {"power", words.find("inus") != std::string::npos || words.find("egative") != std::string::npos ? "minus-cable" : "plus-cable"};
  if (cause.subsystem == "network-wiring") return {"network", words.find("erminator") != std::string::npos ? "terminator" : "trunk"};
  if (cause.subsystem == "network-supply") return {"network", "supply"};
  if (cause.subsystem == "stations") return {"network", "panels"};
  static const std::array<Word, 5> direct{{{"bank", "bank"}, {"charging", "charger"}, {"contactor", "contactor"}, {"motor", "motor"}, {"drive", "propeller"}}};
  for (const auto& [subsystem, place] : direct) {
    if (cause.subsystem == subsystem) return {"power", std::string(place)};
  }
  return {"", ""};
}

// The boat's facts as short words. What nobody stated is marked by a question mark: "6 m?".
class Facts {
 public:
  Facts(const knowledge::KnowledgeBase& base, const Installation& boat) : base_(base), boat_(boat) {}

  std::string raw(const std::string& path) const { return installation::attribute_at(boat_.root(), path).value(); }
  std::string value(const std::string& path) const {
    const auto written = raw(path);
    const auto at = knowledge::find_fact(base_, path);
    std::string words = written;
    if (at && base_.facts[*at].type == knowledge::FactType::choice) {
      for (const auto& choice : base_.facts[*at].choices) words = choice.id == written ? choice.words : words;
    }
    if (at && !base_.facts[*at].unit.empty()) words += "\u00A0" + base_.facts[*at].unit;
    return words + (!words.empty() && installation::is_assumed(boat_, path) ? "?" : "");
  }
  std::string about(const std::vector<std::string>& paths) const {
    std::string words;
    for (const auto& path : paths) {
      const auto part = value(path);
      if (!part.empty()) words += (words.empty() ? "" : ", ") + part;
    }
    return words;
  }

 private:
  const knowledge::KnowledgeBase& base_;
  const Installation& boat_;
};

std::string chargers(const Facts& facts) {
  std::vector<std::string> kinds;
  if (facts.raw("charging/@mains") == "yes") kinds.push_back("from the mains");
  if (facts.raw("charging/@step-up") == "yes") kinds.push_back("stepping up from 12 V");
  if (facts.raw("charging/@alternator") == "yes") kinds.push_back("alternator");
  if (facts.raw("charging/@solar") == "yes") kinds.push_back("solar");
  return listed(kinds);
}

void add_power(std::vector<Sheet::Place>& places, const Facts& facts) {
  const auto add = [&](const char* id, const char* title, const std::string& about) { places.push_back({"power", id, title, about, {}, "", false}); };
  const auto cable = facts.about({"power/@length", "power/@area"});
  if (const auto kinds = chargers(facts); !kinds.empty()) add("charger", "Charging", kinds);
  add("bank", "Thruster bank", facts.about({"bank/@volts", "bank/@chemistry", "bank/@amp-hours"}) + "; " + facts.value("bank/@arrangement"));
  add("fuse", "Main fuse", facts.value("power/@fuse"));
  if (facts.raw("power/@isolator") != "none") add("isolator", "Isolator", facts.value("power/@isolator"));
  add("plus-cable", "Plus cable", cable);
  if (facts.raw("thruster/@motor") == "brushed") add("contactor", "Contactor", "");
  else add("contactor", "Controller", "");
  add("motor", "Motor", facts.value("thruster/@amps") + " at full push");
  add("propeller", "Drive and propeller", facts.about({"thruster/@mounting"}));
  add("minus-cable", "Minus cable", cable);
}

// Names of the places along the string, as its pieces lead on from each other.
std::vector<std::string> along_the_string(const Installation& boat) {
  std::vector<std::string> names;
  const auto add = [&](const std::string& name) {
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  };
  for (const auto segment : boat.root().children("segment")) add(segment.attribute("from").value()), add(segment.attribute("to").value());
  return names;
}

std::vector<Sheet::Place> devices(const Installation& boat) {
  const auto names = along_the_string(boat);
  std::vector<std::pair<std::ptrdiff_t, Sheet::Place>> placed;
  const auto add = [&](pugi::xml_node node, const char* id, const std::string& title, const std::string& about) {
    const std::string name = node.attribute("name").value();
    const auto terminators = boat.root().children("terminator");
    const bool terminated = std::any_of(terminators.begin(), terminators.end(), [&](const auto& t) { return name == t.attribute("at").value(); });
    placed.push_back({std::find(names.begin(), names.end(), name) - names.begin(), {"network", id, title + name, about, {}, "", terminated}});
  };
  for (const auto thruster : boat.root().children("thruster")) add(thruster, "thruster", "Thruster: ", "");
  // A number that nobody stated is none to look for on the panel.
  for (const auto station : boat.root().children("station")) {
    const std::string number = station.attribute("number").value();
    add(station, "panels", "Station: ", installation::is_assumed(boat, "station/@number", number) ? "number not stated" : "number " + number);
  }
  std::stable_sort(placed.begin(), placed.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Sheet::Place> places;
  for (auto& [order, place] : placed) places.push_back(std::move(place));
  return places;
}

void add_network(std::vector<Sheet::Place>& places, const Facts& facts, const Installation& boat) {
  const auto add = [&](const char* id, const char* title, const std::string& about) { places.push_back({"network", id, title, about, {}, "", false}); };
  if (facts.raw("network/@supply") == "none") return add("panels", "Switch at the helm", "wired straight to the contactor: no control network");
  add("supply", "Supply of the network", "from " + facts.value("network/@supply") + (facts.raw("network/@feed").empty() ? "" : "; fed in at " + facts.raw("network/@feed")));
  add("trunk", "Network cable", facts.value("network/@length"));
  for (auto& device : devices(boat)) places.push_back(std::move(device));
  std::vector<std::string> at;
  for (const auto terminator : boat.root().children("terminator")) at.push_back(terminator.attribute("at").value());
  add("terminator", "Terminators", at.empty() ? "none known" : "120 ohm at " + listed(at));
}

Sheet::Place* find_place(std::vector<Sheet::Place>& places, const std::string& circuit, std::string id) {
  if (circuit == "power" && id == "thruster") id = "contactor";
  const bool last = id == "far-end";  // the last station
  Sheet::Place* found = nullptr;
  for (auto& place : places) {
    if (place.circuit != circuit || place.id != (last ? "panels" : id)) continue;
    found = &place;
    if (!last) break;
  }
  return found;
}

void add_readings(std::vector<Sheet::Place>& places, const Assessment& assessment, const Sheet& sheet) {
  for (std::size_t i = 0; i < sheet.findings.size(); ++i) {
    const auto& finding = assessment.base()[assessment.record().answers[i].finding];
    if (!finding.measure || !std::holds_alternative<diagnosis::Reading>(assessment.record().answers[i].observed)) continue;
    const bool power = assessment.base().circuits[finding.measure->circuit].id == "power";
    if (auto* place = find_place(places, power ? "power" : "network", place_of_measure(*finding.measure, power))) place->readings.push_back(i + 1);
  }
}

// Which of several stations it is, nobody knows: all are marked, and the words say so.
void mark(std::vector<Sheet::Place>& places, const std::string& circuit, const std::string& id, const std::string& title) {
  const auto there = [&](const auto& place) { return place.circuit == circuit && place.id == id; };
  const auto count = std::count_if(places.begin(), places.end(), there);
  for (auto& place : places) {
    if (there(place)) place.suspect += (place.suspect.empty() ? "" : "; ") + title + (count > 1 ? ", at one of the " + std::to_string(count) : "");
  }
}

void add_suspects(std::vector<Sheet::Place>& places, const Assessment& assessment, const Sheet& sheet) {
  if (sheet.explanations.empty() || sheet.findings.empty()) return;
  const auto& leader = sheet.explanations.front();
  for (const auto& id : leader.causes) {
    const auto cause = knowledge::find_id(assessment.base().causes, id);
    if (!cause) continue;
    const auto [circuit, where] = place_of_cause(assessment.base()[*cause]);
    mark(places, circuit, where, assessment.base()[*cause].title);
  }
  for (auto& place : places) {
    if (!place.suspect.empty()) place.suspect += " (" + percent(leader.probability) + (leader.causes.size() > 1 ? ", together)" : ")");
  }
}

}  // namespace

std::string power_place(const std::string& words) { return place_in(power_words, words); }
std::string network_place(const std::string& words) { return place_in(network_words, words); }

std::vector<Sheet::Place> sheet_places(const Assessment& assessment, const Sheet& sheet) {
  const auto& boat = assessment.record().installation;
  const Facts facts(assessment.base(), boat);
  std::vector<Sheet::Place> places;
  add_power(places, facts);
  add_network(places, facts, boat);
  add_readings(places, assessment, sheet);
  add_suspects(places, assessment, sheet);
  return places;
}

}  // namespace leadline::cli
