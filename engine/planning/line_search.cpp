#include "engine/planning/line_search.h"

#include <algorithm>

#include "engine/circuit/network_map.h"
#include "engine/diagnosis/tied.h"

namespace leadline::planning {

namespace {

using circuit::FittedPart;

constexpr double plug_metres = 4;        // what a plug counts beside the cable it sits on: most breaks are in plugs; estimate
constexpr double known = 0.9;            // a piece this likely is mended without parting further
constexpr std::size_t fewest_pieces = 3;  // of two, the remedy looks at both

// What is told apart: a piece of cable by its ends, whichever of its conductors is at fault; anything else by its name.
std::string name_of(const std::string& title, const std::string& from, const std::string& to) { return from.empty() ? title : "piece from " + from + " to " + to; }

// Of all that a fault changes, the part on such a run.
std::optional<std::size_t> struck_part(const std::vector<FittedPart>& parts, const circuit::Alternative& way, const std::string& run) {
  const auto piece = std::find_if(way.changes.begin(), way.changes.end(), [&](const auto& change) { return parts[change.part].id.starts_with(run); });
  if (piece == way.changes.end()) return std::nullopt;
  return piece->part;
}

std::string struck_name(const circuit::Sized& way) {
  const auto piece = std::find_if(way.amounts.begin(), way.amounts.end(), [](const auto& amount) { return !amount.piece_from.empty(); });
  const auto& amount = piece == way.amounts.end() ? way.amounts.front() : *piece;
  return name_of(amount.part, amount.piece_from, amount.piece_to);
}

double weight_of(const circuit::NetworkMap& map, const FittedPart& part) {
  if (part.piece_from.empty()) return 1;
  for (const auto& piece : map.pieces) {
    const auto& a = map.places[piece.from];
    const auto& b = map.places[piece.to];
    if ((a == part.piece_from && b == part.piece_to) || (b == part.piece_from && a == part.piece_to)) return plug_metres + piece.length_m;
  }
  return plug_metres;
}

// The places a cause may strike in that circuit, in the order of the run.
std::vector<Piece> pieces_of(const Job& job, std::size_t circuit, std::size_t book_cause, const std::string& run) {
  const auto& expectation = *job.boat.expectation;
  const auto& parts = expectation.bench(circuit)->healthy().parts;
  const auto map = circuit::network_map(job.evaluation.installation());
  std::vector<std::pair<std::size_t, Piece>> found;
  for (const auto& way : expectation.faults(circuit, book_cause)) {
    const auto at = struck_part(parts, way, run);
    if (!at || way.struck.empty()) continue;
    const auto& part = parts[*at];
    const auto name = name_of(part.title, part.piece_from, part.piece_to);
    const auto same = std::find_if(found.begin(), found.end(), [&](const auto& f) { return f.second.title == name; });
    const double chance = way.share * weight_of(map, part);
    if (same == found.end()) found.push_back({*at, {name, part.piece_from, part.piece_to, chance}});
    else same->second.chance += chance;
  }
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Piece> pieces;
  for (auto& [at, piece] : found) pieces.push_back(std::move(piece));
  return pieces;
}

// What readings on the circuit say of the place, where they speak.
void weigh_by_readings(const Job& job, std::size_t cause, std::vector<Piece>& pieces) {
  const diagnosis::TiedReadings tied(job.boat.model, job.diagnosis.tied);
  if (tied.empty()) return;
  for (const auto& size : tied.sizes_of(job.base, {cause})) {
    std::vector<double> told(pieces.size(), 0.0);
    for (const auto& way : size.ways) {
      if (way.amounts.empty()) continue;
      for (std::size_t p = 0; p < pieces.size(); ++p) {
        if (pieces[p].title == struck_name(way)) told[p] += way.share;
      }
    }
    double all = 0;
    for (const double share : told) all += share;
    for (std::size_t p = 0; all > 0 && p < pieces.size(); ++p) pieces[p].chance *= told[p] / all;
  }
}

void normalise(std::vector<Piece>& pieces) {
  double all = 0;
  for (const auto& piece : pieces) all += piece.chance;
  for (auto& piece : pieces) piece.chance = all > 0 ? piece.chance / all : 1.0 / static_cast<double>(pieces.size());
}

void weigh_by_tests(const std::vector<Parted>& parted, std::vector<Piece>& pieces) {
  for (const auto& test : parted) {
    for (std::size_t p = 0; p < pieces.size(); ++p) pieces[p].chance *= (p <= test.cut) == test.before ? 1 - slip_of_a_cut : slip_of_a_cut;
  }
}

// The check that may be done here and parts a run of that circuit which this cause may strike at several places.
std::optional<LineSearch> search_in(const Job& job, std::size_t cause, std::size_t book_cause, std::size_t circuit) {
  for (std::size_t c = 0; c < job.base.checks.size(); ++c) {
    const auto& check = job.base.checks[c];
    if (check.parts_run.empty() || !job.evaluation.holds(check.applies) || obstacle_to(job.base, check, job.now)) continue;
    auto pieces = pieces_of(job, circuit, book_cause, check.parts_run);
    if (pieces.size() >= fewest_pieces) return LineSearch{cause, {c}, std::move(pieces), {}};
  }
  return std::nullopt;
}

}  // namespace

std::optional<LineSearch> line_search(const Job& job, std::size_t cause, const std::vector<Parted>& parted) {
  const auto& book = job.boat.cause_refs[cause];
  if (!book || !job.boat.expectation || !job.boat.model.circuits) return std::nullopt;
  for (std::size_t circuit = 0; circuit < job.boat.expectation->circuits(); ++circuit) {
    if (job.boat.expectation->bench(circuit) == nullptr || !job.boat.expectation->governs(book->index, circuit)) continue;
    auto found_run = search_in(job, cause, book->index, circuit);
    if (!found_run) continue;
    auto& search = *found_run;
    weigh_by_readings(job, cause, search.pieces);
    weigh_by_tests(parted, search.pieces);
    normalise(search.pieces);
    const bool found = std::any_of(search.pieces.begin(), search.pieces.end(), [](const auto& p) { return p.chance >= known; });
    OrderedRun run{{}, std::vector<Doing>(search.pieces.size() - 1, doing_of(job.base[search.how].effort, job.now)), slip_of_a_cut, terrain_of(job.base), job.now.standing};
    for (const auto& piece : search.pieces) run.chance.push_back(piece.chance);
    if (!found) search.cuts = cuts_by_minutes(run);
    return found_run;
  }
  return std::nullopt;
}

}  // namespace leadline::planning
