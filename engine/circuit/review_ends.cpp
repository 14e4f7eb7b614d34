// Branches and terminators of the control network.
#include <algorithm>
#include <cmath>

#include "engine/circuit/bus_limits.h"
#include "engine/circuit/network_map.h"
#include "engine/circuit/review_facts.h"

namespace leadline::circuit {

namespace {

constexpr double least_terminator_ohm = 100, most_terminator_ohm = 130;

struct Branch {
  std::size_t tee = 0, end = 0;  // places
  double length_m = 0;
};

// From each end of a branch back to the trunk.
std::vector<Branch> branches_of(const NetworkMap& map) {
  std::vector<std::size_t> on_trunk;
  for (std::size_t place = 0; place < map.places.size(); ++place) {
    if (trunk_count(map, place) > 0) on_trunk.push_back(place);
  }
  const auto ways = ways_from(map, on_trunk, Pieces::branches);
  const auto before = [&](std::size_t place) {
    const auto& piece = map.pieces[ways.by[place]];
    return piece.from == place ? piece.to : piece.from;
  };
  std::vector<bool> goes_on(map.places.size(), false);
  std::vector<std::size_t> tee(map.places.size());
  for (const auto place : ways.order) {
    const bool hangs = ways.by[place] != map.pieces.size();
    tee[place] = hangs ? tee[before(place)] : place;
    if (hangs) goes_on[before(place)] = true;
  }
  std::vector<Branch> branches;
  for (const auto place : ways.order) {
    if (!goes_on[place] && ways.by[place] != map.pieces.size()) branches.push_back({tee[place], place, ways.metres[place]});
  }
  return branches;
}

Figure branch_figure(const NetworkMap& map, const Branch& branch) {
  return {"branch to " + map.places[branch.end], branch.length_m, 1, "m", "from " + map.places[branch.tee]};
}

void add_with_branches(const NetworkMap& map, const std::vector<Branch>& branches, Remark made, const Figure& limit, Remarks& remarks) {
  for (const auto& branch : branches) made.figures.push_back(branch_figure(map, branch));
  made.figures.push_back(limit);
  remarks.push_back(std::move(made));
}

std::string ends_named(const NetworkMap& map, const std::vector<Branch>& branches) {
  std::vector<std::string> names;
  names.reserve(branches.size());
  for (const auto& branch : branches) names.push_back(map.places[branch.end]);
  return std::string(branches.size() == 1 ? "The branch to " : "The branches to ") + named(names) + (branches.size() == 1 ? " is" : " are");
}

void judge_branch_lengths(const installation::Installation& boat, const NetworkMap& map, const std::vector<Branch>& branches, Remarks& remarks) {
  Facts facts(boat);
  const double rate = facts.number("network/@bit-rate");
  const auto limits = bus_limits(rate);
  if (trouble_of(limits)) return;
  const double most = value_of(limits)->branch_m;
  std::vector<Branch> too_long, long_at_sea;
  for (const auto& branch : branches) {
    if (branch.length_m > most)
      too_long.push_back(branch);
    else if (branch.length_m > marine_branch_m)
      long_at_sea.push_back(branch);
  }
  const std::string way_out = "lead the trunk past the device, so that its branch is short", rated = shown(rate, 0, "kbit/s");
  if (!too_long.empty()) {
    auto made =
        remark(facts, "branch-length", Severity::wrong,
               ends_named(map, too_long) + " longer than " + shown(most, 1, "m") + " at " + rated + ": each pulse comes back from its end", way_out);
    made.sources.pop_back();  // the marine limit is not needed to say so
    add_with_branches(map, too_long, std::move(made), {"most for one branch", most, 1, "m", "at " + rated}, remarks);
  }
  if (!long_at_sea.empty()) {
    add_with_branches(map, long_at_sea,
                      remark(facts, "branch-length", Severity::doubtful,
                             ends_named(map, long_at_sea) + " within " + shown(most, 1, "m") + " at " + rated + ", but longer than the " +
                                 shown(marine_branch_m, 0, "m") + " of marine networks",
                             way_out),
                      {"most by marine networks", marine_branch_m, 0, "m", ""}, remarks);
  }
}

void judge_branch_sum(const installation::Installation& boat, const NetworkMap& map, Remarks& remarks) {
  Facts facts(boat);
  const double rate = facts.number("network/@bit-rate");
  const auto limits = bus_limits(rate);
  const double sum = metres_of(map, Pieces::branches);
  if (trouble_of(limits) || !(sum > value_of(limits)->branches_together_m)) return;
  auto made = remark(facts, "branch-sum", Severity::wrong,
                     "All branches together are " + shown(sum, 1, "m") + ": more than " + shown(value_of(limits)->branches_together_m, 1, "m") +
                         " at " + shown(rate, 0, "kbit/s"),
                     "lead the trunk nearer to the devices, the longest branches first");
  made.figures = {{"branches together", sum, 1, "m", ""},
                  {"most together", value_of(limits)->branches_together_m, 1, "m", "at " + shown(rate, 0, "kbit/s")}};
  remarks.push_back(std::move(made));
}

struct Terminator {
  std::string at;
  double ohm = 0;
};

std::vector<Terminator> terminators_of(const installation::Installation& boat) {
  std::vector<Terminator> all;
  for (const auto node : boat.root().children("terminator")) all.push_back({word_in(node, "at"), number_in(node, "ohm")});
  return all;
}

void judge_branch_as_trunk(const installation::Installation& boat, const NetworkMap& map, const std::vector<Branch>& branches, Remarks& remarks) {
  Facts facts(boat);
  facts.decisive("terminator");
  std::vector<std::size_t> ended;
  for (const auto& terminator : terminators_of(boat)) {
    if (const auto place = place_of(map, terminator.at); place < map.places.size()) ended.push_back(place);
  }
  const auto ways = ways_from(map, ended, Pieces::trunk);
  for (const auto& branch : branches) {
    const double to_terminator = ways.metres[branch.tee];
    if (!(branch.length_m > to_terminator)) continue;
    auto made = remark(facts, "branch-as-trunk", Severity::doubtful,
                       "The branch to " + map.places[branch.end] + " is longer than the trunk from " + map.places[branch.tee] +
                           " to the nearest terminator: it is the trunk, in truth, and its end has no terminator",
                       "move the terminator to " + map.places[branch.end] + ", or shorten the branch");
    made.figures = {branch_figure(map, branch), {"to the nearest terminator", to_terminator, 1, "m", "along the trunk"}};
    remarks.push_back(std::move(made));
  }
}

std::string count_in_words(std::size_t count) { return count == 0 ? "none" : count == 1 ? "one" : count == 2 ? "two" : "more"; }

bool lists_terminators(const Facts& facts, const std::vector<Terminator>& terminators) { return facts.stated("terminator") && !terminators.empty(); }

void judge_said_count(const installation::Installation& boat, const std::vector<Terminator>& terminators, Remarks& remarks) {
  Facts facts(boat);
  const auto said = facts.word("network/@terminators");
  if (!lists_terminators(facts, terminators) || !facts.stated("network/@terminators") || said == count_in_words(terminators.size())) return;
  remarks.push_back(remark(facts, "record-contradiction", Severity::doubtful,
                           "The record says '" + said + "' of terminators and lists " + std::to_string(terminators.size()),
                           "count them, and correct one of the two"));
}

void judge_count(const installation::Installation& boat, const std::vector<Terminator>& terminators, Remarks& remarks) {
  Facts facts(boat);
  const bool listed = lists_terminators(facts, terminators);
  if (terminators.size() == 2 || (!listed && facts.word("network/@terminators").empty())) return;
  std::vector<std::string> places;
  places.reserve(terminators.size());
  for (const auto& terminator : terminators) places.push_back(terminator.at);
  const auto what =
      terminators.empty() ? std::string("No terminator is fitted: pulses come back from both ends of the string")
      : terminators.size() == 1
          ? "Only one terminator is fitted" + (listed ? ", at " + places[0] : "") + ": pulses come back from the other end"
          : (listed ? std::to_string(terminators.size()) + " terminators are fitted, at " + named(places) : "More than two terminators are fitted") +
                ": they load the lines more than a device is built for";
  auto made = remark(facts, "terminator-count", Severity::wrong, what,
                     terminators.size() < 2 ? "fit one of 120 ohm at each end of the string" : "leave one at each end, take out the rest");
  made.causes = {terminators.empty() ? "terminators-both-missing" : terminators.size() == 1 ? "terminator-missing" : "terminator-surplus"};
  double siemens = 0;
  for (const auto& terminator : terminators) siemens += 1 / terminator.ohm;
  if (!terminators.empty()) made.figures = {{"H to L, supply off", 1 / siemens, 0, "ohm", "instead of 60 ohm; cable and devices left out"}};
  remarks.push_back(std::move(made));
}

void judge_places(const installation::Installation& boat, const NetworkMap& map, const std::vector<Terminator>& terminators, Remarks& remarks) {
  Facts facts(boat);
  facts.decisive("segment");
  facts.decisive("terminator");
  if (terminators.size() != 2 || !is_one_string(map)) return;
  std::vector<std::string> ends, astray;
  for (const auto place : trunk_ends(map)) ends.push_back(map.places[place]);
  for (const auto& terminator : terminators) {
    if (std::find(ends.begin(), ends.end(), terminator.at) == ends.end()) astray.push_back(terminator.at);
  }
  const bool same = astray.empty() && terminators[0].at == terminators[1].at;
  if (astray.empty() && !same) return;
  remarks.push_back(remark(facts, "terminator-place", Severity::wrong,
                           same ? "Both terminators sit at " + terminators[0].at + ": the other end of the string has none"
                                : std::string(astray.size() == 1 ? "The terminator at " : "The terminators at ") + named(astray) +
                                      (astray.size() == 1 ? " is" : " are") + " not at an end of the trunk, which runs from " + ends[0] + " to " +
                                      ends[1],
                           "one terminator at " + ends[0] + ", one at " + ends[1] + ", none between and none on a branch"));
}

void judge_values(const installation::Installation& boat, const std::vector<Terminator>& terminators, Remarks& remarks) {
  Facts facts(boat);
  facts.decisive("terminator");
  for (const auto& terminator : terminators) {
    if (terminator.ohm >= least_terminator_ohm && terminator.ohm <= most_terminator_ohm) continue;
    auto made =
        remark(facts, "terminator-value", Severity::wrong,
               "The terminator at " + terminator.at + " has " + shown(terminator.ohm, 1, "ohm") + " instead of 120 ohm", "a terminator of 120 ohm");
    made.figures = {
        {"terminator", terminator.ohm, 1, "ohm", ""}, {"least", least_terminator_ohm, 0, "ohm", ""}, {"most", most_terminator_ohm, 0, "ohm", ""}};
    remarks.push_back(std::move(made));
  }
}

}  // namespace

void review_branches(const installation::Installation& boat, Remarks& remarks) {
  if (!networked(boat)) return;
  const auto map = network_map(boat);
  const auto branches = branches_of(map);
  judge_branch_lengths(boat, map, branches, remarks);
  judge_branch_sum(boat, map, remarks);
  judge_branch_as_trunk(boat, map, branches, remarks);
}

void review_terminators(const installation::Installation& boat, Remarks& remarks) {
  if (!networked(boat)) return;
  const auto terminators = terminators_of(boat);
  judge_said_count(boat, terminators, remarks);
  judge_count(boat, terminators, remarks);
  judge_places(boat, network_map(boat), terminators, remarks);
  judge_values(boat, terminators, remarks);
}

}  // namespace leadline::circuit
