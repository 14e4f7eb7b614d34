#include "engine/circuit/quantify.h"

#include <algorithm>
#include <cmath>

namespace leadline::circuit {

namespace {

constexpr double least_share = 0.01, nine_of_ten = 1.645;

struct SizeBelief {
  double weight = 0, mean = 0, square = 0;
  double deviation() const { return std::sqrt(std::max(0.0, square / weight - mean / weight * mean / weight)); }
  double middle() const { return mean / weight; }
};

// The size within one cell: its middle, moved by what the readings made of the column that stands for it (half a cell per standard deviation).
void add_cell(SizeBelief& belief, const Cell& cell, const Informed::Known& known, std::size_t position) {
  const double half = cell.half[position];
  const auto column = cell.sway.cols() + static_cast<Eigen::Index>(position);
  const double middle = std::clamp(cell.sizes[position] + half * known.shift_of(column), 0.0, 1.0), variance = half * half * known.variance_of(column);
  belief.weight += known.weight;
  belief.mean += known.weight * middle;
  belief.square += known.weight * (middle * middle + variance);
}

std::string name_of(double PartNumbers::* value) {
  if (value == &PartNumbers::volt) return "volt";
  if (value == &PartNumbers::amp) return "amp";
  if (value == &PartNumbers::watt) return "watt";
  if (value == &PartNumbers::load) return "load";
  if (value == &PartNumbers::wake) return "wake";
  return "ohm";
}

bool alike(const FixedChange& a, const FixedChange& b) { return a.kind == b.kind && a.value == b.value && a.from == b.from && a.to == b.to; }

// The rested volts of one battery back to its charge.
double charge_at(Chemistry chemistry, double block_volt) {
  double low = 0, high = 1;
  for (int halving = 0; halving < 40; ++halving) {
    const double middle = (low + high) / 2;
    (*value_of(emf_v(chemistry, middle)) < block_volt ? low : high) = middle;
  }
  return 100 * low;
}

class Quantifier {
 public:
  Quantifier(const knowledge::KnowledgeBase& base, const Bench& bench) : base_(base), bench_(bench) {}

  std::vector<Amount> amounts_of(const Alternative& alternative, const SizeBelief& belief) const {
    std::vector<Amount> amounts;
    std::vector<FixedChange> seen;
    auto numbers = numbers_of(bench_.healthy());
    apply(alternative, belief.middle(), bench_.healthy(), numbers);
    for (const auto& change : alternative.changes) {
      const auto same = std::find_if(seen.begin(), seen.end(), [&](const auto& other) { return alike(other, change); });
      if (same != seen.end()) {
        ++amounts[static_cast<std::size_t>(same - seen.begin())].parts;
        continue;
      }
      seen.push_back(change);
      amounts.push_back(amount_of(change, belief, numbers));
    }
    return amounts;
  }

 private:
  Amount amount_of(const FixedChange& change, const SizeBelief& belief, const std::vector<PartNumbers>& numbers) const {
    const auto at = [&](double deviations) { return size_between(change.from, change.to, std::clamp(belief.middle() + deviations * belief.deviation(), 0.0, 1.0)); };
    const auto& part = bench_.healthy().parts[change.part];
    Amount amount{part.title, 1, change.kind, name_of(change.value), at(0), at(-nine_of_ten), at(nine_of_ten), 0, 0, std::nullopt, part.piece_from, part.piece_to};
    if (amount.low > amount.high) std::swap(amount.low, amount.high);
    if (amount.value == "ohm" && change.kind != knowledge::ChangeKind::open) add_heat(amount, change.part, numbers);
    if (part.kind == knowledge::PartKind::battery && amount.value == "volt") amount.charge = charge_at(*part.chemistry, numbers[change.part].volt / part.blocks);
    return amount;
  }

  void add_heat(Amount& amount, std::size_t part, const std::vector<PartNumbers>& numbers) const {
    const double extra = numbers[part].ohm - bench_.healthy().parts[part].numbers.ohm;
    for (std::size_t c = 0; c < base_.circuits[bench_.healthy().page].conditions.size(); ++c) {
      const double amp = std::abs(bench_.part_readings(c, numbers)[part].amp);
      if (amp <= amount.most_amp) continue;
      amount.most_amp = amp;
      amount.heat_watt = amp * amp * (amount.kind == knowledge::ChangeKind::join ? numbers[part].ohm : extra);
    }
  }

  const knowledge::KnowledgeBase& base_;
  const Bench& bench_;
};

}  // namespace

std::vector<Sized> quantify(const knowledge::KnowledgeBase& base, const Expectation& expectation, std::size_t circuit,
                            const std::vector<std::size_t>& causes, std::size_t position, const Informed& informed) {
  const auto& outlook = expectation.under(circuit, causes);
  const auto& alternatives = expectation.faults(circuit, causes[position]);
  std::vector<SizeBelief> beliefs(alternatives.size());
  for (std::size_t c = 0; c < outlook.cells.size(); ++c) {
    const auto& cell = outlook.cells[c];
    add_cell(beliefs[cell.alternatives[position]], cell, informed.cells[c], position);
  }
  const Quantifier quantifier(base, *expectation.bench(circuit));
  std::vector<Sized> sized;
  for (std::size_t a = 0; a < alternatives.size(); ++a) {
    if (beliefs[a].weight < least_share) continue;
    sized.push_back({beliefs[a].weight, alternatives[a].words, alternatives[a].struck, quantifier.amounts_of(alternatives[a], beliefs[a])});
  }
  std::stable_sort(sized.begin(), sized.end(), [](const Sized& a, const Sized& b) { return a.share > b.share; });
  return sized;
}

}  // namespace leadline::circuit
