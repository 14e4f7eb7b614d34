#include "engine/planning/packing.h"

#include <algorithm>
#include <numeric>

namespace leadline::planning {

bool at_hand(const Way& way, const std::vector<bool>& packed) {
  return std::all_of(way.things.begin(), way.things.end(), [&](auto t) { return packed[t]; });
}

namespace {

constexpr double rounding = 1e-12;

bool has_way(const PackingProblem& problem, std::size_t cause, const std::vector<bool>& packed) {
  const auto& ways = problem.ways[cause];
  return std::any_of(ways.begin(), ways.end(), [&](const auto& way) { return at_hand(way, packed); });
}

std::vector<bool> curable(const PackingProblem& problem, const std::vector<bool>& packed) {
  std::vector<bool> can(problem.ways.size());
  for (std::size_t c = 0; c < can.size(); ++c) can[c] = has_way(problem, c, packed);
  return can;
}

double share_of(const PackingProblem& problem, const std::vector<bool>& packed) {
  const auto can = curable(problem, packed);
  double share = 0;
  for (const auto& one : problem.cases) {
    if (std::all_of(one.causes.begin(), one.causes.end(), [&](auto c) { return can[c]; })) share += one.chance;
  }
  return share;
}

// By cause: what its way would bring. The chance of a case is shared out among those of its causes that have no way yet, so that covering one of
// two is worth something; a case with a cause that nobody can mend is worth nothing.
std::vector<double> worth_of_causes(const PackingProblem& problem, const std::vector<bool>& can, const std::vector<bool>& ever) {
  std::vector<double> worth(problem.ways.size());
  for (const auto& one : problem.cases) {
    if (!std::all_of(one.causes.begin(), one.causes.end(), [&](auto c) { return ever[c]; })) continue;
    const auto open = std::count_if(one.causes.begin(), one.causes.end(), [&](auto c) { return !can[c]; });
    for (const auto c : one.causes) {
      if (!can[c]) worth[c] += one.chance / static_cast<double>(open);
    }
  }
  return worth;
}

class Packer {
 public:
  Packer(const PackingProblem& problem, double target) : problem_(problem), packed_(problem.price.size()) {
    for (std::size_t t = 0; t < packed_.size(); ++t) packed_[t] = problem.price[t] <= 0;
    const std::vector<bool> everything(packed_.size(), true);
    ever_ = curable(problem, everything);
    target_ = std::min(target, most_wanted * share_of(problem, everything));
  }

  std::vector<bool> pack() {
    for (double share = share_of(problem_, packed_); share < target_ - rounding; share = share_of(problem_, packed_)) {
      const auto* way = best_way(target_ - share);
      if (way == nullptr) break;
      for (const auto t : way->things) packed_[t] = true;
    }
    leave_out();
    return packed_;
  }

 private:
  // The most worth for its price; more than is still wanted counts as what is wanted.
  const Way* best_way(double wanted) const {
    const auto can = curable(problem_, packed_);
    const auto worth = worth_of_causes(problem_, can, ever_);
    const Way* best = nullptr;
    double best_rate = 0;
    for (std::size_t c = 0; c < problem_.ways.size(); ++c) {
      if (can[c] || worth[c] <= 0) continue;
      for (const auto& way : problem_.ways[c]) {
        const double rate = std::min(wanted, worth_with(way, can, worth)) / price_of(way);
        if (rate > best_rate) best = &way, best_rate = rate;
      }
    }
    return best;
  }

  // Of all causes that have a way once the things of this one are packed.
  double worth_with(const Way& way, const std::vector<bool>& can, const std::vector<double>& worth) const {
    auto packed = packed_;
    for (const auto t : way.things) packed[t] = true;
    double sum = 0;
    for (std::size_t c = 0; c < worth.size(); ++c) {
      if (!can[c] && worth[c] > 0 && has_way(problem_, c, packed)) sum += worth[c];
    }
    return sum;
  }

  // Above 0: a way that costs nothing is at hand already.
  double price_of(const Way& way) const {
    double price = 0;
    for (const auto t : way.things) price += packed_[t] ? 0 : problem_.price[t];
    return price;
  }

  // The dearest first: what was packed early may not be needed any more.
  void leave_out() {
    std::vector<std::size_t> order(packed_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return problem_.price[a] > problem_.price[b]; });
    for (const auto t : order) {
      if (!packed_[t] || problem_.price[t] <= 0) continue;
      packed_[t] = false;
      if (share_of(problem_, packed_) < target_ - rounding) packed_[t] = true;
    }
  }

  const PackingProblem& problem_;
  double target_ = 0;
  std::vector<bool> packed_, ever_;
};

}  // namespace

bool served(const PackingProblem& problem, const std::vector<bool>& packed, const std::vector<std::size_t>& causes) {
  return std::all_of(causes.begin(), causes.end(), [&](auto c) { return has_way(problem, c, packed); });
}

Packing judged(const PackingProblem& problem, std::vector<bool> packed) {
  std::vector<double> cured(problem.ways.size());
  for (std::size_t c = 0; c < cured.size(); ++c) {
    double left = 1;
    for (const auto& way : problem.ways[c]) left *= at_hand(way, packed) ? 1 - way.chance : 1;
    cured[c] = 1 - left;
  }
  Packing out{std::move(packed), 0, 0, 0};
  out.share = share_of(problem, out.packed);
  for (const auto& one : problem.cases) {
    double all = one.chance;
    for (const auto c : one.causes) all *= cured[c];
    out.mended += all;
  }
  for (std::size_t t = 0; t < out.packed.size(); ++t) out.minutes += out.packed[t] ? problem.price[t] : 0;
  return out;
}

Packing pack(const PackingProblem& problem, double target) { return judged(problem, Packer(problem, target).pack()); }

}  // namespace leadline::planning
