// The supply of the control network and the shape of its string.
#include <algorithm>
#include <cmath>

#include "engine/circuit/bus_limits.h"
#include "engine/circuit/network_map.h"
#include "engine/circuit/review_facts.h"

namespace leadline::circuit {

namespace {

constexpr double most_drop_v = 1.5;
constexpr double copper_ohm_mm2_per_m = 0.0175;

void judge_tap(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const auto supply = facts.word("network/@supply");
  const double volts = facts.number("bank/@volts");
  const auto add = [&](const std::string& rule, Severity severity, const std::string& what, const std::string& way_out, const Figure& figure) {
    remarks.push_back(remark(facts, rule, severity, what, way_out));
    remarks.back().figures = {figure};
  };
  const std::string from_house =
      "feed the network from the house battery" +
      (volts > 12 ? ", or from a " + shown(volts, 0, "") + " to 12 V converter whose minus is on the common negative" : std::string());
  if (supply == "bank-upper" && volts > 12) {
    add("supply-upper-half", Severity::wrong,
        "The network is fed from the upper battery of the series bank: its minus stands " + shown(volts - 12, 0, "V") +
            " above the common negative, and any join between the two shorts a battery through the network's minus",
        from_house, {"network's minus above common negative", volts - 12, 0, "V", shown(volts, 0, "V") + " less 12 V"});
  }
  if (supply == "bank-lower" && volts > 12) {
    add("supply-lower-half", Severity::doubtful,
        "The network is fed from the lower battery of the series bank: it works, but that battery is drawn down and the others are overcharged for "
        "it",
        from_house, {"drawn from one battery alone", 24, 0, "Ah", "a day, for each ampere of the network"});
  }
  if ((supply == "bank-upper" || supply == "bank-lower") && volts <= 12) {
    add("record-contradiction", Severity::doubtful,
        "The record feeds the network from the " + std::string(supply == "bank-upper" ? "upper" : "lower") + " battery of a series bank, and its bank has " +
            shown(volts, 0, "V") + ": no series, no " + (supply == "bank-upper" ? "upper" : "lower") + " battery",
        "count the batteries, read the bank's volts, trace the feed of the network; correct the record", {"bank", volts, 0, "V", "a series starts at 24 V"});
  }
  if (supply == "bank" && volts > 12) {
    add("supply-whole-bank", Severity::wrong,
        "The network is fed with the " + shown(volts, 0, "V") + " of the whole bank, and its devices are made for 12 V (9 to 16 V)", from_house,
        {"supply", volts, 0, "V", "at most 16 V"});
  }
  if (supply == "starter") {
    add("supply-starter", Severity::doubtful,
        "The network is fed from a starter battery: it dips each time that engine is cranked, and devices may start anew",
        "feed the network from the house battery", {"first dip while cranking", 4, 0, "V", "and up to 7 V, for some 15 to 40 ms"});
  }
}

// Amperes that flow towards each place and what lies behind it, from the place farthest back. Requires: no ring.
std::vector<double> flows(const NetworkMap& map, const Ways& ways, double device_a) {
  std::vector<double> amps(map.places.size(), 0);
  for (const auto& device : map.devices) {
    if (const auto place = place_of(map, device); place < amps.size()) amps[place] += device_a;
  }
  for (auto at = ways.order.rbegin(); at != ways.order.rend(); ++at) {
    if (ways.by[*at] == map.pieces.size()) continue;
    const auto& piece = map.pieces[ways.by[*at]];
    amps[piece.from == *at ? piece.to : piece.from] += amps[*at];
  }
  return amps;
}

std::vector<double> drops(const NetworkMap& map, const Ways& ways, const std::vector<double>& amps, double ohm_per_m) {
  std::vector<double> volts(map.places.size(), 0);
  for (const auto place : ways.order) {
    if (ways.by[place] == map.pieces.size()) continue;
    const auto& piece = map.pieces[ways.by[place]];
    volts[place] = volts[piece.from == place ? piece.to : piece.from] + 2 * ohm_per_m * piece.length_m * amps[place];
  }
  return volts;
}

// Where the supply is fed in. Unless a place of that name is on the string: at the only station, else at the end listed last, as in the
// network's page of the book.
std::size_t fed_place(Facts& facts, const NetworkMap& map) {
  const auto named_place = place_of(map, facts.word("network/@feed"));
  if (named_place < map.places.size()) return named_place;
  const auto stations = facts.root().children("station");
  const auto ends = trunk_ends(map);
  if (std::distance(stations.begin(), stations.end()) == 1 || ends.empty()) return place_of(map, word_in(facts.root().child("station"), "name"));
  return ends.back();
}

void judge_supply_drop(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const auto map = network_map(boat);
  facts.decisive("segment");
  const double area = facts.number("network/@supply-area"), device_a = facts.number("network/@device-amps");
  const auto fed = fed_place(facts, map);
  if (fed == map.places.size() || !closing_pieces(map).empty() || !(area > 0)) return;
  const auto ways = ways_from(map, {fed}, Pieces::all);
  const double ohm_per_m = copper_ohm_mm2_per_m / area;
  const auto volts = drops(map, ways, flows(map, ways, device_a), ohm_per_m);
  const auto worst = static_cast<std::size_t>(std::max_element(volts.begin(), volts.end()) - volts.begin());
  if (!(volts[worst] > most_drop_v)) return;
  auto made = remark(facts, "supply-drop", Severity::wrong,
                     "The network's supply loses " + shown(volts[worst], 2, "V") + " on its way from " + map.places[fed] + " to " +
                         map.places[worst] + ": more than " + shown(most_drop_v, 1, "V"),
                     "feed the string in its middle, or with thicker supply conductors: " +
                         shown(std::ceil(area * volts[worst] / most_drop_v * 10) / 10, 1, "mm²") + " would do");
  made.figures = {{"devices", static_cast<double>(map.devices.size()), 0, "", shown(device_a, 2, "A") + " each"},
                  {"way to " + map.places[worst], ways.metres[worst], 1, "m", ""},
                  {"one conductor", ohm_per_m * 1000, 1, "mΩ/m", shown(area, 2, "mm²")},
                  {"drop", volts[worst], 2, "V", "each device's current over its way, out and back"},
                  {"limit", most_drop_v, 1, "V", ""}};
  remarks.push_back(std::move(made));
}

std::string ends_of(const NetworkMap& map, std::size_t p) { return map.places[map.pieces[p].from] + " - " + map.places[map.pieces[p].to]; }

// A record that lists no pieces may still say how the network runs.
void judge_shape_in_words(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const auto shape = facts.word("network/@shape");
  if (shape == "loop") {
    remarks.push_back(remark(facts, "trunk-loop", Severity::wrong,
                             "The network is closed to a ring: it has no ends for its terminators, and a break in it hides",
                             "open the ring at its least needed piece; terminators at the two ends"));
  }
  if (shape == "branches") {
    remarks.push_back(remark(facts, "trunk-star", Severity::doubtful,
                             "The network runs with long branches or as a star; the record does not say how long they are",
                             "list the pieces of cable in the record, with their lengths, to have them judged"));
  }
}

void judge_rings(const Facts& facts, const NetworkMap& map, Remarks& remarks) {
  const auto closing = closing_pieces(map);
  if (closing.empty()) return;
  std::vector<std::string> pieces;
  pieces.reserve(closing.size());
  for (const auto p : closing) pieces.push_back(ends_of(map, p));
  remarks.push_back(
      remark(facts, "trunk-loop", Severity::wrong,
             "The network is closed to a ring by the piece " + named(pieces) + ": it has no ends for its terminators, and a break in it hides",
             "take out one piece of the ring; terminators at the two ends"));
}

void judge_forks(const Facts& facts, const NetworkMap& map, Remarks& remarks) {
  std::vector<std::string> forks;
  for (std::size_t place = 0; place < map.places.size(); ++place) {
    if (trunk_count(map, place) > 2) forks.push_back(map.places[place] + " (" + std::to_string(trunk_count(map, place)) + ")");
  }
  const bool no_trunk = std::none_of(map.pieces.begin(), map.pieces.end(), [](const CablePiece& piece) { return piece.trunk; });
  if (forks.empty() && !no_trunk) return;
  remarks.push_back(remark(facts, "trunk-star", Severity::wrong,
                           no_trunk ? "No piece of the network is trunk: a star of branches has no ends for its terminators"
                                    : "The trunk forks: more than two of its pieces meet at " + named(forks) + ", so it is no string",
                           "lead one cable from device to device; what hangs off it is a branch, and short"));
}

// The trunk itself broken: what lies between is called a branch.
void judge_trunk_ends(const Facts& facts, const NetworkMap& map, Remarks& remarks) {
  std::vector<std::string> ends;
  for (const auto place : trunk_ends(map)) ends.push_back(map.places[place]);
  if (ends.size() <= 2) return;
  auto made = remark(facts, "trunk-pieces", Severity::wrong,
                     "The trunk is not one string: it ends at " + named(ends) + ", and only a branch joins its pieces",
                     "make what lies between them trunk, in the boat or in the record");
  made.figures = {{"ends", static_cast<double>(ends.size()), 0, "", "a string has 2"}};
  remarks.push_back(std::move(made));
}

void judge_parts(const Facts& facts, const NetworkMap& map, Remarks& remarks) {
  const auto parts = part_count(map);
  const bool forked = std::any_of(remarks.begin(), remarks.end(), [](const Remark& made) { return made.rule == "trunk-star"; });
  if (parts < 2 && !forked) return judge_trunk_ends(facts, map, remarks);
  if (parts < 2) return;
  const auto ways = ways_from(map, {0}, Pieces::all);
  std::vector<std::string> away;
  for (std::size_t place = 0; place < map.places.size(); ++place) {
    if (std::isinf(ways.metres[place])) away.push_back(map.places[place]);
  }
  auto made =
      remark(facts, "trunk-pieces", Severity::wrong, "The network falls into parts: no cable leads from " + map.places[0] + " to " + named(away),
             "join the parts, or correct the names of the places in the record");
  made.figures = {{"parts", static_cast<double>(parts), 0, "", ""}};
  remarks.push_back(std::move(made));
}

void judge_devices(const Facts& facts, const NetworkMap& map, Remarks& remarks) {
  std::vector<std::string> off;
  for (const auto& device : map.devices) {
    if (place_of(map, device) == map.places.size()) off.push_back(device);
  }
  if (off.empty()) return;
  remarks.push_back(remark(facts, "device-off-string", Severity::wrong, "No piece of network cable reaches " + named(off),
                           "name the device in a piece of trunk or branch, spelt as in its own entry"));
}

void judge_trunk_length(const installation::Installation& boat, const NetworkMap& map, Remarks& remarks) {
  Facts facts(boat);
  double trunk = metres_of(map, Pieces::trunk);
  if (map.pieces.empty() || !facts.stated("segment")) trunk = facts.number("network/@length");
  const auto limits = bus_limits(facts.number("network/@bit-rate"));
  if (trouble_of(limits) || !(trunk > value_of(limits)->usual_trunk_m)) return;
  const bool surely = trunk > value_of(limits)->trunk_m;
  const auto rate = shown(facts.number("network/@bit-rate"), 0, "kbit/s");
  auto made =
      remark(facts, "trunk-length", surely ? Severity::wrong : Severity::doubtful,
             "The trunk of " + shown(trunk, 1, "m") + " is " + (surely ? "too long for " : "long for ") + rate + ": at most " +
                 shown(surely ? value_of(limits)->trunk_m : value_of(limits)->usual_trunk_m, 0, "m") + (surely ? "" : " by the stricter lists"),
             "a shorter way, or a lower bit rate if every device can be set to it");
  made.figures = {{"trunk", trunk, 1, "m", ""}, {"most", value_of(limits)->trunk_m, 0, "m", "at " + rate}};
  remarks.push_back(std::move(made));
}

void judge_contradiction(const installation::Installation& boat, const NetworkMap& map, Remarks& remarks) {
  Facts facts(boat);
  if (!facts.stated("segment") || !facts.stated("network/@length")) return;
  const double trunk = metres_of(map, Pieces::trunk);
  const double said = facts.number("network/@length");
  if (!(trunk > 0) || !(std::abs(said - trunk) > 0.1 * std::max(said, trunk))) return;
  auto made = remark(facts, "record-contradiction", Severity::doubtful,
                     "The record gives the network " + shown(said, 1, "m") + ", but its pieces of trunk add up to " + shown(trunk, 1, "m"),
                     "measure, and correct one of the two");
  made.figures = {{"said", said, 1, "m", "network/@length"}, {"pieces", trunk, 1, "m", ""}};
  remarks.push_back(std::move(made));
}

}  // namespace

void review_supply(const installation::Installation& boat, Remarks& remarks) {
  if (!networked(boat)) return;
  judge_tap(boat, remarks);
  judge_supply_drop(boat, remarks);
}

void review_string(const installation::Installation& boat, Remarks& remarks) {
  if (!networked(boat)) return;
  const auto map = network_map(boat);
  const Facts facts(boat);
  judge_trunk_length(boat, map, remarks);
  judge_contradiction(boat, map, remarks);
  if (!facts.stated("segment") || map.pieces.empty()) return judge_shape_in_words(boat, remarks);
  judge_rings(facts, map, remarks);
  judge_forks(facts, map, remarks);
  judge_parts(facts, map, remarks);
  judge_devices(facts, map, remarks);
}

}  // namespace leadline::circuit
