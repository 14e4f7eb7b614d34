#include "engine/diagnosis/reach_table.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace leadline::diagnosis {

namespace {

constexpr std::size_t none = static_cast<std::size_t>(-1);

// Runs of equal likelihood share a level: what cannot be told apart need not be tracked apart.
void add_level(Levels& levels, std::size_t state, double likelihood) {
  if (!levels.likelihood.empty() && levels.likelihood.back() == likelihood) {
    levels.upto.back() = state;
    return;
  }
  levels.upto.push_back(state);
  levels.likelihood.push_back(likelihood);
}

// How badly a side would loosen the bounds: the more the later levels outweigh the first, the more the finding belongs in the table.
double table_need(const Levels& levels) {
  const double rest = *std::max_element(levels.likelihood.begin() + 1, levels.likelihood.end());
  return rest / (rest + levels.likelihood.front());
}

struct Placement {
  std::vector<Levels> levels;               // by observation
  std::vector<std::size_t> axis_of;         // by observation; none: absorbed or side
};

void choose_axes(const Evidence& evidence, std::size_t most_states, Reach& reach, Placement& placement) {
  std::vector<std::size_t> open;
  for (std::size_t o = 0; o < evidence.size(); ++o) {
    placement.levels.push_back(levels_of(evidence[o].likelihood));
    placement.axis_of.push_back(none);
    if (placement.levels[o].upto.size() > 1) open.push_back(o);
  }
  std::stable_sort(open.begin(), open.end(), [&](auto a, auto b) { return table_need(placement.levels[a]) > table_need(placement.levels[b]); });
  for (const auto o : open) {
    const auto count = placement.levels[o].upto.size();
    if (reach.states * count > most_states) {
      reach.sides.push_back(o);
      continue;
    }
    placement.axis_of[o] = reach.axes.size();
    reach.axes.push_back({o, reach.states, placement.levels[o]});
    reach.states *= count;
  }
  std::sort(reach.sides.begin(), reach.sides.end());
}

// A cumulative distribution cut into levels, relative to what stays within the last one: chances, then cumulative chances.
void append_levels(std::vector<double>& numbers, const std::vector<double>& at_most, const Levels& levels) {
  const double within = at_most[levels.upto.back()];
  const double scale = within > 0 ? 1 / within : 0;
  double below = 0;
  for (const auto state : levels.upto) {
    numbers.push_back((at_most[state] - below) * scale);
    below = at_most[state];
  }
  for (const auto state : levels.upto) numbers.push_back(at_most[state] * scale);
}

void fill_tables(const Model& model, const Evidence& evidence, Reach& reach) {
  reach.start.assign(reach.states, 1.0);
  reach.finish.assign(reach.states, 1.0);
  for (const auto& axis : reach.axes) {
    std::vector<double> leak;
    append_levels(leak, model.findings[evidence[axis.observation].finding].leak_at_most, axis.levels);
    const auto count = axis.levels.upto.size();
    for (std::size_t state = 0; state < reach.states; ++state) {
      const auto level = state / axis.stride % count;
      reach.start[state] *= leak[level];
      reach.finish[state] *= axis.levels.likelihood[level];
    }
  }
}

// By finding: the observation that axes or odds take up; none for unseen findings and sides.
std::vector<std::size_t> observations_by_finding(const Model& model, const Evidence& evidence, const Placement& placement, Reach& reach) {
  std::vector<std::size_t> observation_of(model.findings.size(), none);
  for (std::size_t o = 0; o < evidence.size(); ++o) {
    if (std::binary_search(reach.sides.begin(), reach.sides.end(), o)) continue;
    observation_of[evidence[o].finding] = o;
    const auto& likelihood = evidence[o].likelihood;
    reach.log_constant += std::log(*std::max_element(likelihood.begin(), likelihood.end()));
    reach.log_constant += std::log(model.findings[evidence[o].finding].leak_at_most[placement.levels[o].upto.back()]);
  }
  return observation_of;
}

// Absorbs what factorises: "the finding stays within its last possible level" multiplies each cause's odds. The rest are its pushes.
void absorb(const Model& model, const Evidence& evidence, const Placement& placement, Reach& reach) {
  const auto observation_of = observations_by_finding(model, evidence, placement, reach);
  reach.odds.reserve(model.causes.size());
  reach.first_push.reserve(model.causes.size() + 1);
  for (const auto& cause : model.causes) {
    reach.first_push.push_back(reach.pushes.size());
    FarNumber odds{cause.prior / (1 - cause.prior), 0};
    for (const auto& push : cause.pushes) {
      const auto o = observation_of[push.finding];
      if (o == none) continue;
      const auto& levels = placement.levels[o];
      const double within = push.at_most[levels.upto.back()];
      if (within != 1) odds *= within;
      if (placement.axis_of[o] == none) continue;
      reach.pushes.push_back({placement.axis_of[o], reach.numbers.size(), levels.upto.size()});
      append_levels(reach.numbers, push.at_most, levels);
    }
    reach.odds.push_back(odds);
  }
  reach.first_push.push_back(reach.pushes.size());
}

}  // namespace

Levels levels_of(const std::vector<double>& likelihood) {
  const double largest = *std::max_element(likelihood.begin(), likelihood.end());
  if (!(largest > 0)) throw std::invalid_argument("a likelihood without a positive entry");
  Levels levels;
  std::size_t possible = likelihood.size();
  while (!(likelihood[possible - 1] > 0)) --possible;
  for (std::size_t s = 0; s < possible; ++s) add_level(levels, s, likelihood[s] / largest);
  return levels;
}

Reach reach_of(const Model& model, const Evidence& evidence, std::size_t most_states) {
  Reach reach;
  Placement placement;
  choose_axes(evidence, most_states, reach, placement);
  absorb(model, evidence, placement, reach);
  fill_tables(model, evidence, reach);
  return reach;
}

namespace {

// The usual case, written apart so that the compiler can run it in vectors: normal and abnormal.
void push_two_levels(std::span<const double> chance, std::size_t stride, std::span<double> weights) {
  const double stays = chance[0], lifts = chance[1];
  for (std::size_t block = 0; block < weights.size(); block += 2 * stride) {
    double* low = weights.data() + block;
    double* high = low + stride;
    for (std::size_t at = 0; at < stride; ++at) {
      high[at] += lifts * low[at];
      low[at] *= stays;
    }
  }
}

void pull_two_levels(std::span<const double> chance, std::size_t stride, std::span<double> weights) {
  const double stays = chance[0], lifts = chance[1];
  for (std::size_t block = 0; block < weights.size(); block += 2 * stride) {
    double* low = weights.data() + block;
    const double* high = low + stride;
    for (std::size_t at = 0; at < stride; ++at) low[at] = stays * low[at] + lifts * high[at];
  }
}

void push_levels(std::span<const double> numbers, std::size_t stride, std::span<double> weights) {
  const auto count = numbers.size() / 2;
  for (std::size_t block = 0; block < weights.size(); block += stride * count) {
    for (std::size_t at = block; at < block + stride; ++at) {
      double weaker = 0;  // weight at weaker levels, which the push may lift to this one
      for (std::size_t level = 0; level < count; ++level) {
        auto& weight = weights[at + level * stride];
        const double before = weight;
        weight = numbers[count + level] * before + numbers[level] * weaker;
        weaker += before;
      }
    }
  }
}

void pull_levels(std::span<const double> numbers, std::size_t stride, std::span<double> weights) {
  const auto count = numbers.size() / 2;
  for (std::size_t block = 0; block < weights.size(); block += stride * count) {
    for (std::size_t at = block; at < block + stride; ++at) {
      double lifted = 0;  // worth of being lifted above this level
      for (std::size_t level = count; level-- > 0;) {
        auto& weight = weights[at + level * stride];
        const double before = weight;
        weight = numbers[count + level] * before + lifted;
        lifted += numbers[level] * before;
      }
    }
  }
}

std::span<const double> numbers_of(const Reach& reach, const AxisPush& push) {
  return std::span(reach.numbers).subspan(push.numbers, 2 * push.levels);
}

}  // namespace

void push_forward(const Reach& reach, std::size_t cause, std::span<double> weights) {
  for (const auto& push : reach.pushes_of(cause)) {
    const auto move = push.levels == 2 ? push_two_levels : push_levels;
    move(numbers_of(reach, push), reach.axes[push.axis].stride, weights);
  }
}

void push_backward(const Reach& reach, std::size_t cause, std::span<double> weights) {
  for (const auto& push : reach.pushes_of(cause)) {
    const auto move = push.levels == 2 ? pull_two_levels : pull_levels;
    move(numbers_of(reach, push), reach.axes[push.axis].stride, weights);
  }
}

std::vector<double> tables_after(const Reach& reach, const std::vector<std::size_t>& causes, const Odds& odds) {
  const auto n = reach.states;
  std::vector<double> after((causes.size() + 1) * n);
  std::copy(reach.finish.begin(), reach.finish.end(), after.end() - static_cast<std::ptrdiff_t>(n));
  for (std::size_t k = causes.size(); k-- > 0;) {
    const std::span now(after.data() + k * n, n);
    const double* without = after.data() + (k + 1) * n;
    std::copy(without, without + n, now.begin());
    push_backward(reach, causes[k], now);
    for (std::size_t at = 0; at < n; ++at) now[at] = without[at] + odds.later[causes[k]] * now[at];
  }
  return after;
}

// Four sums side by side: one would wait for itself at every step, and compilers may not part it.
double dot(std::span<const double> a, std::span<const double> b) {
  double sums[4] = {0, 0, 0, 0};
  const auto whole = a.size() - a.size() % 4;
  for (std::size_t at = 0; at < whole; at += 4) {
    for (std::size_t lane = 0; lane < 4; ++lane) sums[lane] += a[at + lane] * b[at + lane];
  }
  for (std::size_t at = whole; at < a.size(); ++at) sums[0] += a[at] * b[at];
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

}  // namespace leadline::diagnosis
