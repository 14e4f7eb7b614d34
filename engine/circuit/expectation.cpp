#include "engine/circuit/expectation.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "engine/circuit/size_grid.h"

namespace leadline::circuit {

namespace {

// Sizes looked at of one fault, of one that may strike in more than a few places, and of each of two faults.
constexpr std::size_t cells_alone = 8, few_places = 6, cells_of_many = 4, cells_together = 3;
constexpr std::size_t most_parts = 300;                     // some 30 devices on a network, 4 s; beyond it the wait would grow with the cube
constexpr double tolerance_step = 0.5;                      // standard deviations by which a tolerance is moved to see what sways
constexpr double least_volt_doubt = 0.005, least_relative_doubt = 0.01;

// One thing that varies among sound boats: parts that share it vary together.
struct Tolerance {
  std::vector<std::size_t> parts;
  bool volts = false;
};

std::vector<Tolerance> tolerances_of(const std::vector<FittedPart>& parts) {
  std::vector<Tolerance> tolerances;
  std::map<std::pair<std::string, bool>, std::size_t> shared;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    for (const bool volts : {false, true}) {
      if ((volts ? parts[i].spread_volt : parts[i].spread) <= 0) continue;
      const auto found = parts[i].shared.empty() ? shared.end() : shared.find({parts[i].shared, volts});
      if (found != shared.end()) {
        tolerances[found->second].parts.push_back(i);
        continue;
      }
      if (!parts[i].shared.empty()) shared[{parts[i].shared, volts}] = tolerances.size();
      tolerances.push_back({{i}, volts});
    }
  }
  return tolerances;
}

// Moves what varies by so many standard deviations. Ratios, so that nothing turns negative.
void vary(const Tolerance& tolerance, double deviations, const std::vector<FittedPart>& parts, std::vector<PartNumbers>& numbers) {
  for (const auto i : tolerance.parts) {
    auto& part = numbers[i];
    if (tolerance.volts) {
      part.volt += deviations * parts[i].spread_volt;
      continue;
    }
    const double factor = std::exp(deviations * parts[i].spread);
    if (parts[i].kind != knowledge::PartKind::motor) part.ohm *= factor;
    part.amp *= factor;
    part.watt *= factor;
  }
}

std::vector<bool> either(std::vector<bool> a, const std::vector<bool>& b) {
  for (std::size_t i = 0; i < a.size(); ++i) a[i] = a[i] || b[i];
  return a;
}

std::vector<bool> conditions_of(const Bench& bench, const Alternative& alternative) {
  std::vector<std::size_t> parts;
  for (const auto& change : alternative.changes) parts.push_back(change.part);
  return bench.conditions_of(parts);
}

}  // namespace

// The circuit of one bench under any faults, on the judged scale. Kept, for how a sound boat sways is the start of how a faulty one does.
class Expectation::Judge {
 public:
  explicit Judge(const Bench& bench) : bench_(bench), healthy_numbers_(numbers_of(bench.healthy())), tolerances_(tolerances_of(bench.healthy().parts)) {
    const Read sound{bench.probed_healthy(), bench.idle_healthy(), {}};
    for (const auto& tolerance : tolerances_) {
      const auto conditions = bench.conditions_of(tolerance.parts);
      auto up = varied(sound, {}, {}, tolerance, tolerance_step, conditions), down = varied(sound, {}, {}, tolerance, -tolerance_step, conditions);
      sound_sways_.push_back({conditions, {std::move(up), std::move(down)}});
    }
  }

  Outlook outlook(const std::vector<const std::vector<Alternative>*>& faults) {
    sways_.clear();
    Outlook outlook = frame();
    for (const auto* alternatives : faults) {
      outlook.alternatives.emplace_back();
      for (const auto& alternative : *alternatives) outlook.alternatives.back().push_back({alternative.words, alternative.struck});
    }
    if (faults.empty()) add_cells(outlook, {}, {}, 1);
    if (faults.size() == 1) {
      const auto cells = faults[0]->size() > few_places ? cells_of_many : cells_alone;
      for (std::size_t a = 0; a < faults[0]->size(); ++a) add_cells(outlook, {&(*faults[0])[a]}, {a}, cells);
    }
    if (faults.size() == 2) {
      for (const auto a : looked_at(*faults[0])) {
        for (const auto b : looked_at(*faults[1])) add_cells(outlook, {&(*faults[0])[a], &(*faults[1])[b]}, {a, b}, cells_together);
      }
    }
    double sum = 0;
    for (const auto& cell : outlook.cells) sum += cell.weight;
    for (auto& cell : outlook.cells) cell.weight /= sum;
    return outlook;
  }

 private:
  using Alternatives = std::vector<const Alternative*>;

  // Of many places that two faults may strike, a few stand for all: the likeliest, and of equally likely ones some spread along the list.
  static std::vector<std::size_t> looked_at(const std::vector<Alternative>& alternatives) {
    constexpr std::size_t most = 3;
    std::vector<std::size_t> order(alternatives.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return alternatives[a].share > alternatives[b].share; });
    if (order.size() <= most) return order;
    const bool alike = alternatives[order.front()].share < 1.5 * alternatives[order[most]].share;
    if (!alike) return {order.begin(), order.begin() + most};
    return {order.front(), order[order.size() / 2], order.back()};
  }

  Outlook frame() const {
    const auto& measures = bench_.measures();
    Outlook outlook;
    outlook.doubt = Eigen::VectorXd(static_cast<Eigen::Index>(measures.size()));
    for (std::size_t m = 0; m < measures.size(); ++m) {
      const double least = measures[m].ohms ? least_relative_doubt : least_volt_doubt;
      outlook.doubt(static_cast<Eigen::Index>(m)) = measures[m].doubt > 0 ? measures[m].doubt : least;
      outlook.folded.push_back(measures[m].take == knowledge::Take::spread);
    }
    return outlook;
  }

  Eigen::VectorXd judged(const std::vector<double>& probes) const {
    const auto readings = bench_.measured(probes);
    Eigen::VectorXd scaled(static_cast<Eigen::Index>(readings.size()));
    for (std::size_t m = 0; m < readings.size(); ++m) scaled(static_cast<Eigen::Index>(m)) = judged_scale(readings[m], bench_.measures()[m].ohms);
    return scaled;
  }

  // A sound boat, then its faults: what varies among boats does not vary the size of a fault.
  std::vector<PartNumbers> numbers_at(const Alternatives& alternatives, const std::vector<double>& sizes, const Tolerance* varied = nullptr, double step = 0) const {
    auto numbers = healthy_numbers_;
    if (varied) vary(*varied, step, bench_.healthy().parts, numbers);
    for (std::size_t f = 0; f < alternatives.size(); ++f) apply(*alternatives[f], sizes[f], bench_.healthy(), numbers);
    return numbers;
  }

  // What is read under faults of these sizes, and what stands still meanwhile.
  struct Read {
    std::vector<double> probes;
    std::vector<std::size_t> idle;
    Eigen::VectorXd judged;
  };
  using Columns = std::shared_ptr<const Eigen::MatrixXd>;

  Read read(const Alternatives& alternatives, const std::vector<double>& sizes, const std::vector<bool>& conditions) const {
    Read read{{}, bench_.idle_healthy(), {}};
    read.probes = bench_.probed(numbers_at(alternatives, sizes), conditions, bench_.probed_healthy(), &read.idle);
    read.judged = judged(read.probes);
    return read;
  }

  // The same with one tolerance moved.
  Read varied(const Read& middle, const Alternatives& alternatives, const std::vector<double>& sizes, const Tolerance& tolerance, double step,
              const std::vector<bool>& conditions) const {
    Read read{{}, middle.idle, {}};
    read.probes = bench_.probed(numbers_at(alternatives, sizes, &tolerance, step), conditions, middle.probes, &read.idle);
    return read;
  }

  // Places of one effect, and sizes, at which much the same is read sway alike: worked out once for them.
  Columns sway_about(const Read& middle, const Alternatives& alternatives, const std::vector<double>& sizes) {
    constexpr double much_the_same = 0.05;  // volts, amperes, or a twentieth of the ohms
    std::vector<std::size_t> effects;
    for (const auto* alternative : alternatives) effects.push_back(alternative->effect);
    for (const auto& [readings, sways] : sways_[effects]) {
      if (told_or_nothing(readings - middle.judged).cwiseAbs().maxCoeff() < much_the_same) return sways;
    }
    const auto sways = std::make_shared<const Eigen::MatrixXd>(sway(middle, alternatives, sizes));
    sways_[effects].emplace_back(middle.judged, sways);
    return sways;
  }

  // How the readings sway about these sizes: of a sound boat by a step to each side, of a faulty one by a step to one side, for there are a
  // hundred times as many. A step at whose end something else stands still says nothing of a slope: the other one alone is taken, and if that is
  // over an edge as well the tolerance is taken to sway nothing. Conditions in which the faults change no reading sway as in a sound boat.
  Eigen::MatrixXd sway(const Read& middle, const Alternatives& alternatives, const std::vector<double>& sizes) const {
    const auto moved = bench_.moved(middle.probes, bench_.probed_healthy());
    Eigen::MatrixXd columns = Eigen::MatrixXd::Zero(middle.judged.size(), static_cast<Eigen::Index>(tolerances_.size()));
    for (std::size_t t = 0; t < tolerances_.size(); ++t) {
      const auto& sound = sound_sways_[t];
      auto anew = sound.conditions;
      for (std::size_t c = 0; c < anew.size(); ++c) anew[c] = anew[c] && (moved[c] || middle.idle[c] != bench_.idle_healthy()[c]);
      const bool any = std::find(anew.begin(), anew.end(), true) != anew.end();
      Eigen::VectorXd ends[2] = {middle.judged, middle.judged};
      double width = 0;
      for (const std::size_t side : {0, 1}) {
        if (any && width > 0) break;
        auto start = middle;
        for (std::size_t p = 0; p < start.probes.size(); ++p) start.probes[p] += sound.ends[side].probes[p] - bench_.probed_healthy()[p];
        for (std::size_t c = 0; c < anew.size(); ++c) start.idle[c] += anew[c] ? 0 : sound.ends[side].idle[c] - bench_.idle_healthy()[c];
        const auto end = any ? varied(start, alternatives, sizes, tolerances_[t], side == 0 ? tolerance_step : -tolerance_step, anew) : start;
        if (end.idle != middle.idle) continue;
        ends[side] = judged(end.probes);
        width += tolerance_step;
      }
      if (width > 0) columns.col(static_cast<Eigen::Index>(t)) = told_or_nothing(slopes(middle.judged, ends, width));
    }
    return columns;
  }

  // A spread has a kink at 0, where the steps to either side would cancel: there the larger one counts.
  Eigen::VectorXd slopes(const Eigen::VectorXd& middle, const Eigen::VectorXd (&ends)[2], double width) const {
    Eigen::VectorXd slopes = (ends[0] - ends[1]) / width;
    for (std::size_t m = 0; m < bench_.measures().size(); ++m) {
      if (bench_.measures()[m].take != knowledge::Take::spread) continue;
      const auto at = static_cast<Eigen::Index>(m);
      const double up = ends[0](at) - middle(at), down = middle(at) - ends[1](at);
      slopes(at) = (std::abs(up) > std::abs(down) ? up : down) / tolerance_step;
    }
    return slopes;
  }

  // Sizes of the grid about which the sway is worked out. Two faults together: the middle only, for the ends of both would be five times the work.
  struct Node {
    double size;
    std::vector<std::size_t> idle;
    Columns columns;
  };

  // Sums over the tolerances of two nodes' columns, by measurement; many cells ask for the same.
  class Products {
   public:
    const Eigen::VectorXd& of(const Columns& a, const Columns& b) {
      auto& product = known_[std::minmax(a.get(), b.get())];
      if (product.size() == 0) product = a->cwiseProduct(*b).rowwise().sum();
      return product;
    }

   private:
    std::map<std::pair<const Eigen::MatrixXd*, const Eigen::MatrixXd*>, Eigen::VectorXd> known_;
  };

  // Between the nodes at which the same stands still, by the polynomial through them (two or three nodes).
  static Sway between(const std::vector<Node>& nodes, const std::vector<std::size_t>& idle, double size, Products& products) {
    std::vector<const Node*> alike;
    for (const auto& node : nodes) {
      if (node.idle == idle) alike.push_back(&node);
    }
    Sway sway;
    if (alike.empty()) return sway;
    const double at = std::clamp(size, alike.front()->size, alike.back()->size);
    for (const auto* node : alike) {
      double factor = 1;
      for (const auto* other : alike) factor *= other == node ? 1 : (at - other->size) / (node->size - other->size);
      const auto same = std::find_if(sway.parts.begin(), sway.parts.end(), [&](const auto& part) { return part.at == node->columns; });
      if (same != sway.parts.end()) same->factor += factor;
      else sway.parts.push_back({factor, node->columns});
    }
    sway.squares = Eigen::VectorXd::Zero(alike.front()->columns->rows());
    for (const auto& a : sway.parts) {
      for (const auto& b : sway.parts) sway.squares += a.factor * b.factor * products.of(a.at, b.at);
    }
    return sway;
  }

  // The grid of sizes of these alternatives: readings at its corners; each cell takes the mean of its corners and half of its edges. Of one
  // fault the sway is worked out about both ends and the middle of its sizes. Where something else stands still than at any of these
  // (a controller that does not get its power) readings sway as about such a corner.
  void add_cells(Outlook& outlook, const Alternatives& alternatives, const std::vector<std::size_t>& indices, std::size_t most) {
    std::vector<bool> conditions(bench_.conditions_of({}));
    SizeGrid grid;
    double share = 1;
    for (const auto* alternative : alternatives) {
      grid.steps.push_back(alternative->sized() ? most : 1);
      conditions = either(conditions, conditions_of(bench_, *alternative));
      share *= alternative->share;
    }
    const bool one_sized = alternatives.size() == 1 && alternatives[0]->sized();
    std::vector<Node> nodes;
    for (const double size : one_sized ? std::vector<double>{0, 0.5, 1} : std::vector<double>{0.5}) {
      const std::vector<double> sizes(alternatives.size(), size);
      const auto there = read(alternatives, sizes, conditions);
      nodes.push_back({size, there.idle, sway_about(there, alternatives, sizes)});
    }
    for (std::size_t at = 0; at < grid.corner_count(); ++at) {
      const auto sizes = grid.sizes_at(at);
      const auto corner = read(alternatives, sizes, conditions);
      const bool known = std::any_of(nodes.begin(), nodes.end(), [&](const auto& node) { return node.idle == corner.idle; });
      if (!known) nodes.push_back({sizes[0], corner.idle, sway_about(corner, alternatives, sizes)});
      grid.corners.push_back(corner.judged);
      grid.idle.push_back(corner.idle);
    }
    Products products;
    auto cells = grid.cells(one_sized);
    double within = 0;
    for (const auto& cell : cells) within += cell.weight;
    for (std::size_t c = 0; c < cells.size(); ++c) {
      auto& cell = cells[c];
      cell.sway = between(nodes, grid.idle[grid.corner_of(c)], cell.sizes.empty() ? 0.5 : cell.sizes[0], products);
      cell.weight *= share / within;
      cell.alternatives = indices;
      outlook.cells.push_back(std::move(cell));
    }
  }

  struct SoundSway {
    std::vector<bool> conditions;
    std::array<Read, 2> ends;  // a step up, a step down
  };

  const Bench& bench_;
  std::vector<PartNumbers> healthy_numbers_;
  std::vector<Tolerance> tolerances_;
  std::vector<SoundSway> sound_sways_;                                                                   // by tolerance
  std::map<std::vector<std::size_t>, std::vector<std::pair<Eigen::VectorXd, Columns>>> sways_;  // of one outlook, by effect of each fault
};

namespace {

Trouble too_large(const knowledge::CircuitPage& page, std::size_t parts) {
  return {Trouble::Kind::bad_value, {page.id}, "'" + page.title + "' has " + std::to_string(parts) + " parts in this boat: too many to be solved while a person waits",
          "its readings are judged by what the book writes of them"};
}

bool measures_one_of(const knowledge::KnowledgeBase& base, std::size_t circuit, const std::vector<bool>& wanted) {
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    if (wanted[j] && base.findings[j].measure && base.findings[j].measure->circuit == circuit) return true;
  }
  return false;
}

}  // namespace

Expectation::Expectation(const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation, const std::vector<bool>* wanted) : ties_(base.findings.size()) {
  for (std::size_t k = 0; k < base.circuits.size(); ++k) {
    benches_.emplace_back();
    faults_.emplace_back(base.causes.size());
    if (wanted != nullptr && !measures_one_of(base, k, *wanted)) continue;
    auto fitted = fit(base, k, evaluation);
    if (trouble_of(fitted)) {
      troubles_.push_back(*trouble_of(fitted));
      continue;
    }
    auto circuit = *value_of(fitted);
    if (circuit.parts.empty()) continue;
    if (circuit.parts.size() > most_parts) {
      troubles_.push_back(too_large(base.circuits[k], circuit.parts.size()));
      continue;
    }
    add_possible_joins(circuit, base, evaluation);
    for (std::size_t i = 0; i < base.causes.size(); ++i) {
      if (evaluation.holds(base.causes[i].applies)) faults_[k][i] = faults_of(base.causes[i], circuit, evaluation);
    }
    auto bench = Bench::of(base, std::move(circuit), evaluation);
    if (trouble_of(bench)) {
      troubles_.push_back(*trouble_of(bench));
      faults_[k].assign(base.causes.size(), {});
      continue;
    }
    benches_.back() = *value_of(bench);
    const auto& measures = benches_.back()->measures();
    for (std::size_t m = 0; m < measures.size(); ++m) ties_[measures[m].finding] = {k, m};
  }
}

const Outlook& Expectation::under(std::size_t circuit, const std::vector<std::size_t>& causes) const {
  const std::pair key(circuit, causes);
  const auto known = outlooks_.find(key);
  if (known != outlooks_.end()) return known->second;
  std::vector<const std::vector<Alternative>*> faults;
  for (const auto cause : causes) faults.push_back(&faults_[circuit][cause]);
  auto& judge = judges_[circuit];
  if (!judge) judge = std::make_shared<Judge>(*benches_[circuit]);
  return outlooks_.emplace(key, judge->outlook(faults)).first->second;
}

const Informed& Expectation::unread(std::size_t circuit, const std::vector<std::size_t>& causes) const {
  const std::pair key(circuit, causes);
  const auto known = unread_.find(key);
  return known != unread_.end() ? known->second : unread_.emplace(key, inform(under(circuit, causes), {})).first->second;
}

}  // namespace leadline::circuit
