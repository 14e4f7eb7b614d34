#include "engine/circuit/network_map.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <queue>

#include "engine/circuit/layout.h"
#include "engine/circuit/review_facts.h"

namespace leadline::circuit {

namespace {

bool counts(const CablePiece& piece, Pieces over) { return over == Pieces::all || piece.trunk == (over == Pieces::trunk); }

std::vector<std::string> devices_of(pugi::xml_node root) {
  std::vector<std::string> devices;
  for (const auto thruster : root.children("thruster")) devices.push_back(word_in(thruster, "name"));
  for (const auto station : root.children("station")) {
    if (word_in(station, "kind") != "remote") devices.push_back(word_in(station, "name"));
  }
  return devices;
}

}  // namespace

NetworkMap network_map(const installation::Installation& boat) {
  NetworkMap map;
  std::map<std::string, std::size_t> known;
  const auto place = [&](const std::string& name) {
    const auto [entry, added] = known.emplace(name, map.places.size());
    if (added) map.places.push_back(name);
    return entry->second;
  };
  for (const auto segment : boat.root().children("segment")) {
    const auto from = place(word_in(segment, "from")), to = place(word_in(segment, "to"));
    map.pieces.push_back({from, to, number_in(segment, "length"), word_in(segment, "kind") != "branch"});
  }
  map.at.resize(map.places.size());
  for (std::size_t p = 0; p < map.pieces.size(); ++p) {
    map.at[map.pieces[p].from].push_back(p);
    if (map.pieces[p].to != map.pieces[p].from) map.at[map.pieces[p].to].push_back(p);
  }
  map.devices = devices_of(boat.root());
  return map;
}

std::size_t place_of(const NetworkMap& map, const std::string& name) {
  return static_cast<std::size_t>(std::find(map.places.begin(), map.places.end(), name) - map.places.begin());
}

std::size_t trunk_count(const NetworkMap& map, std::size_t place) {
  const auto& pieces = map.at[place];
  return static_cast<std::size_t>(std::count_if(pieces.begin(), pieces.end(), [&](std::size_t p) { return map.pieces[p].trunk; }));
}

std::vector<std::size_t> trunk_ends(const NetworkMap& map) {
  std::vector<std::size_t> ends;
  for (std::size_t place = 0; place < map.places.size(); ++place) {
    if (trunk_count(map, place) == 1) ends.push_back(place);
  }
  return ends;
}

double metres_of(const NetworkMap& map, Pieces of) {
  double sum = 0;
  for (const auto& piece : map.pieces) sum += counts(piece, of) ? piece.length_m : 0;
  return sum;
}

// Dijkstra from several places at once.
Ways ways_from(const NetworkMap& map, const std::vector<std::size_t>& from, Pieces over) {
  using Reach = std::pair<double, std::size_t>;
  Ways ways{std::vector<double>(map.places.size(), std::numeric_limits<double>::infinity()),
            {},
            std::vector<std::size_t>(map.places.size(), map.pieces.size())};
  std::priority_queue<Reach, std::vector<Reach>, std::greater<>> open;
  for (const auto place : from) ways.metres[place] = 0, open.emplace(0.0, place);
  std::vector<bool> settled(map.places.size(), false);
  while (!open.empty()) {
    const auto [metres, place] = open.top();
    open.pop();
    if (settled[place]) continue;
    settled[place] = true;
    ways.order.push_back(place);
    for (const auto p : map.at[place]) {
      const auto& piece = map.pieces[p];
      const auto other = piece.from == place ? piece.to : piece.from;
      if (!counts(piece, over) || !(metres + piece.length_m < ways.metres[other])) continue;
      ways.metres[other] = metres + piece.length_m;
      ways.by[other] = p;
      open.emplace(ways.metres[other], other);
    }
  }
  return ways;
}

std::optional<Stretch> stretch_between(const NetworkMap& map, const std::string& counted_from, const std::string& piece_from, const std::string& piece_to) {
  const auto start = place_of(map, counted_from), a = place_of(map, piece_from), b = place_of(map, piece_to);
  if (std::max({start, a, b}) >= map.places.size()) return std::nullopt;
  const auto ways = ways_from(map, {start}, Pieces::all);
  if (!std::isfinite(ways.metres[a]) || !std::isfinite(ways.metres[b])) return std::nullopt;
  return Stretch{std::min(ways.metres[a], ways.metres[b]), std::max(ways.metres[a], ways.metres[b])};
}

std::vector<std::size_t> closing_pieces(const NetworkMap& map) {
  Groups groups(map.places.size());
  std::vector<std::size_t> closing;
  for (std::size_t p = 0; p < map.pieces.size(); ++p) {
    if (!groups.join(map.pieces[p].from, map.pieces[p].to)) closing.push_back(p);
  }
  return closing;
}

std::size_t part_count(const NetworkMap& map) {
  return map.places.size() + closing_pieces(map).size() - map.pieces.size();  // each piece joins two parts, unless it closes a ring
}

// In one part without rings, a fork or a second piece of trunk would make a third end.
bool is_one_string(const NetworkMap& map) { return closing_pieces(map).empty() && part_count(map) == 1 && trunk_ends(map).size() == 2; }

}  // namespace leadline::circuit
