#include "engine/circuit/expectation.h"

#include <algorithm>
#include <cmath>
#include <numeric>

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

// Readings at the corners of a grid of sizes of no, one or two faults, and the cells between them.
struct Grid {
  std::vector<std::size_t> steps;          // by fault
  std::vector<Eigen::VectorXd> corners;    // [first * (steps of second + 1) + second]
  std::vector<std::vector<std::size_t>> idle;  // by corner: what stands still there

  std::size_t cell_count() const { return product(0); }
  std::size_t corner_count() const { return product(1); }
  std::size_t first_corner(std::size_t cell) const { return corner_index(split(cell, 0), 0); }

  std::vector<double> sizes_at(std::size_t corner) const {
    const auto at = split(corner, 1);
    std::vector<double> sizes;
    for (std::size_t f = 0; f < steps.size(); ++f) sizes.push_back(static_cast<double>(at[f]) / static_cast<double>(steps[f]));
    return sizes;
  }

  // The mean over a cell is that of its corners less a twelfth of how the readings bend there; its width half of its edges, and what the bend
  // leaves between curve and chord as one column more.
  Cell cell(std::size_t index) const {
    const auto at = split(index, 0);
    const auto measures = corners[0].size(), faults = static_cast<Eigen::Index>(steps.size());
    Cell cell{0, Eigen::VectorXd::Zero(measures), Eigen::MatrixXd::Zero(measures, faults + (faults > 0 ? 1 : 0)), nullptr, {}, {}, {}};
    const std::size_t count = std::size_t{1} << steps.size();
    for (std::size_t corner = 0; corner < count; ++corner) {
      const auto& reading = corners[corner_index(at, corner)];
      cell.mean += reading / static_cast<double>(count);
      for (Eigen::Index f = 0; f < faults; ++f) cell.width.col(f) += ((corner >> f & 1) != 0 ? 1 : -1) * reading / static_cast<double>(count);
    }
    for (std::size_t f = 0; f < steps.size(); ++f) {
      const Eigen::VectorXd bent = bend(at, f);
      cell.mean -= bent / 12;
      cell.width.col(faults) += bent / 24;
      cell.sizes.push_back((static_cast<double>(at[f]) + 0.5) / static_cast<double>(steps[f]));
      cell.half.push_back(0.5 / static_cast<double>(steps[f]));
    }
    return cell;
  }

 private:
  std::size_t product(std::size_t more) const {
    std::size_t count = 1;
    for (const auto step : steps) count *= step + more;
    return count;
  }

  std::vector<std::size_t> split(std::size_t index, std::size_t more) const {
    std::vector<std::size_t> at(steps.size());
    for (std::size_t f = steps.size(); f-- > 0;) {
      at[f] = index % (steps[f] + more);
      index /= steps[f] + more;
    }
    return at;
  }

  // Bit f of `corner`: the upper end of fault f.
  std::size_t corner_index(const std::vector<std::size_t>& at, std::size_t corner) const {
    std::size_t index = 0;
    for (std::size_t f = 0; f < steps.size(); ++f) index = index * (steps[f] + 1) + at[f] + (corner >> f & 1);
    return index;
  }

  // Second difference along one fault, the mean of those at the cell's two ends that have neighbours. Where something comes to stand still
  // the readings jump: that is no bend.
  Eigen::VectorXd bend(std::vector<std::size_t> at, std::size_t fault) const {
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(corners[0].size());
    double count = 0;
    const auto cell_at = at[fault];
    const auto corner_at = [&](std::size_t step) {
      at[fault] = step;
      return corner_index(at, 0);
    };
    for (const auto middle : {cell_at, cell_at + 1}) {
      if (middle == 0 || middle >= steps[fault]) continue;
      const auto before = corner_at(middle - 1), here = corner_at(middle), after = corner_at(middle + 1);
      if (idle[before] != idle[here] || idle[here] != idle[after]) continue;
      sum += corners[before] - 2 * corners[here] + corners[after];
      ++count;
    }
    return count > 0 ? Eigen::VectorXd(sum / count) : sum;
  }
};

// The circuit of one bench under any faults, on the judged scale.
class Judge {
 public:
  explicit Judge(const Bench& bench) : bench_(bench), healthy_numbers_(numbers_of(bench.healthy())), tolerances_(tolerances_of(bench.healthy().parts)) {}

  Outlook outlook(const std::vector<const std::vector<Alternative>*>& faults) const {
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

  Read read(const Alternatives& alternatives, const std::vector<double>& sizes, const std::vector<bool>& conditions) const {
    Read read{{}, bench_.idle_healthy(), {}};
    read.probes = bench_.probed(numbers_at(alternatives, sizes), conditions, bench_.probed_healthy(), &read.idle);
    read.judged = judged(read.probes);
    return read;
  }

  using Sway = std::shared_ptr<const Eigen::MatrixXd>;

  // Places of one effect at which much the same is read sway alike: worked out once for them.
  Sway sway_about(const Read& middle, const Alternatives& alternatives, const std::vector<double>& sizes) const {
    constexpr double much_the_same = 0.05;  // volts, amperes, or a twentieth of the ohms
    std::vector<std::size_t> effects;
    for (const auto* alternative : alternatives) effects.push_back(alternative->effect);
    for (const auto& [readings, sways] : sways_[effects]) {
      if ((readings - middle.judged).cwiseAbs().maxCoeff() < much_the_same) return sways;
    }
    const auto sways = std::make_shared<const Eigen::MatrixXd>(sway(middle, alternatives, sizes));
    sways_[effects].emplace_back(middle.judged, sways);
    return sways;
  }

  // How the readings sway about these sizes. A step at whose end something else stands still says nothing of a slope: the other way is tried,
  // and if that is over an edge as well the tolerance is taken to sway nothing.
  Eigen::MatrixXd sway(const Read& middle, const Alternatives& alternatives, const std::vector<double>& sizes) const {
    Eigen::MatrixXd columns = Eigen::MatrixXd::Zero(middle.judged.size(), static_cast<Eigen::Index>(tolerances_.size()));
    for (std::size_t t = 0; t < tolerances_.size(); ++t) {
      for (const double step : {tolerance_step, -tolerance_step}) {
        auto idle = middle.idle;
        const auto numbers = numbers_at(alternatives, sizes, &tolerances_[t], step);
        const auto moved = bench_.probed(numbers, bench_.conditions_of(tolerances_[t].parts), middle.probes, &idle);
        if (idle != middle.idle) continue;
        columns.col(static_cast<Eigen::Index>(t)) = (judged(moved) - middle.judged) / step;
        break;
      }
    }
    return columns;
  }

  // The grid of sizes of these alternatives: readings at its corners; each cell takes the mean of its corners and half of its edges. Readings
  // sway as about the middle sizes, and where something else stands still (a controller that does not get its power) as about such a corner.
  void add_cells(Outlook& outlook, const Alternatives& alternatives, const std::vector<std::size_t>& indices, std::size_t most) const {
    std::vector<bool> conditions(bench_.conditions_of({}));
    Grid grid;
    double share = 1;
    for (const auto* alternative : alternatives) {
      grid.steps.push_back(alternative->sized() ? most : 1);
      conditions = either(conditions, conditions_of(bench_, *alternative));
      share *= alternative->share;
    }
    const std::vector<double> middle_sizes(alternatives.size(), 0.5);
    const auto middle = read(alternatives, middle_sizes, conditions);
    std::map<std::vector<std::size_t>, Sway> sways = {{middle.idle, sway_about(middle, alternatives, middle_sizes)}};
    for (std::size_t at = 0; at < grid.corner_count(); ++at) {
      const auto corner = read(alternatives, grid.sizes_at(at), conditions);
      auto& sway_there = sways[corner.idle];
      if (!sway_there) sway_there = sway_about(corner, alternatives, grid.sizes_at(at));
      grid.corners.push_back(corner.judged);
      grid.idle.push_back(corner.idle);
    }
    for (std::size_t cell = 0; cell < grid.cell_count(); ++cell) {
      outlook.cells.push_back(grid.cell(cell));
      outlook.cells.back().weight = share / static_cast<double>(grid.cell_count());
      outlook.cells.back().sway = sways[grid.idle[grid.first_corner(cell)]];
      outlook.cells.back().alternatives = indices;
    }
  }

  const Bench& bench_;
  std::vector<PartNumbers> healthy_numbers_;
  std::vector<Tolerance> tolerances_;
  mutable std::map<std::vector<std::size_t>, std::vector<std::pair<Eigen::VectorXd, Sway>>> sways_;  // by effect of each fault
};

Trouble too_large(const knowledge::CircuitPage& page, std::size_t parts) {
  return {Trouble::Kind::bad_value, {page.id}, "'" + page.title + "' has " + std::to_string(parts) + " parts in this boat: too many to be solved while a person waits",
          "its readings are judged by what the book writes of them"};
}

}  // namespace

Expectation::Expectation(const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation) {
  for (std::size_t k = 0; k < base.circuits.size(); ++k) {
    benches_.emplace_back();
    faults_.emplace_back(base.causes.size());
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

std::optional<Tie> Expectation::tie_of(std::size_t finding) const {
  const auto found = ties_.find(finding);
  return found == ties_.end() ? std::nullopt : std::optional(found->second);
}

const Outlook& Expectation::under(std::size_t circuit, const std::vector<std::size_t>& causes) const {
  const std::pair key(circuit, causes);
  const auto known = outlooks_.find(key);
  if (known != outlooks_.end()) return known->second;
  std::vector<const std::vector<Alternative>*> faults;
  for (const auto cause : causes) faults.push_back(&faults_[circuit][cause]);
  return outlooks_.emplace(key, Judge(*benches_[circuit]).outlook(faults)).first->second;
}

}  // namespace leadline::circuit
