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

// A cumulative distribution cut into levels, relative to what stays within the last one.
AxisPush axis_push(std::size_t axis, const std::vector<double>& at_most, const Levels& levels) {
  const double within = at_most[levels.upto.back()];
  AxisPush push{axis, {}, {}};
  double below = 0;
  for (const auto state : levels.upto) {
    push.chance.push_back(within > 0 ? (at_most[state] - below) / within : 0);
    push.at_most.push_back(within > 0 ? at_most[state] / within : 0);
    below = at_most[state];
  }
  return push;
}

void fill_tables(const Model& model, const Evidence& evidence, Reach& reach) {
  reach.start.assign(reach.states, 1.0);
  reach.finish.assign(reach.states, 1.0);
  for (const auto& axis : reach.axes) {
    const auto leak = axis_push(0, model.findings[evidence[axis.observation].finding].leak_at_most, axis.levels).chance;
    const auto count = axis.levels.upto.size();
    for (std::size_t state = 0; state < reach.states; ++state) {
      const auto level = state / axis.stride % count;
      reach.start[state] *= leak[level];
      reach.finish[state] *= axis.levels.likelihood[level];
    }
  }
}

// Absorbs what factorises: "the finding stays within its last possible level" multiplies each cause's odds.
void absorb(const Model& model, const Evidence& evidence, const Placement& placement, Reach& reach) {
  std::vector<std::size_t> observation_of(model.findings.size(), none);
  for (std::size_t o = 0; o < evidence.size(); ++o) {
    if (std::binary_search(reach.sides.begin(), reach.sides.end(), o)) continue;
    observation_of[evidence[o].finding] = o;
    const auto& likelihood = evidence[o].likelihood;
    reach.log_constant += std::log(*std::max_element(likelihood.begin(), likelihood.end()));
    reach.log_constant += std::log(model.findings[evidence[o].finding].leak_at_most[placement.levels[o].upto.back()]);
  }
  for (std::size_t i = 0; i < model.causes.size(); ++i) {
    const auto& cause = model.causes[i];
    reach.log_odds[i] = std::log(cause.prior) - std::log1p(-cause.prior);
    for (const auto& push : cause.pushes) {
      const auto o = observation_of[push.finding];
      if (o == none) continue;
      const auto& levels = placement.levels[o];
      const double within = push.at_most[levels.upto.back()];
      if (within < 1) reach.log_odds[i] += std::log(within);
      if (placement.axis_of[o] != none) reach.pushes[i].push_back(axis_push(placement.axis_of[o], push.at_most, levels));
    }
  }
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
  reach.log_odds.resize(model.causes.size());
  reach.pushes.resize(model.causes.size());
  absorb(model, evidence, placement, reach);
  fill_tables(model, evidence, reach);
  return reach;
}

namespace {

// The usual case, written apart so that the compiler can run it in vectors: normal and abnormal.
void push_two_levels(const AxisPush& push, std::size_t stride, std::vector<double>& weights) {
  const double stays = push.chance[0], lifts = push.chance[1];
  for (std::size_t block = 0; block < weights.size(); block += 2 * stride) {
    double* low = weights.data() + block;
    double* high = low + stride;
    for (std::size_t at = 0; at < stride; ++at) {
      high[at] += lifts * low[at];
      low[at] *= stays;
    }
  }
}

void pull_two_levels(const AxisPush& push, std::size_t stride, std::vector<double>& weights) {
  const double stays = push.chance[0], lifts = push.chance[1];
  for (std::size_t block = 0; block < weights.size(); block += 2 * stride) {
    double* low = weights.data() + block;
    const double* high = low + stride;
    for (std::size_t at = 0; at < stride; ++at) low[at] = stays * low[at] + lifts * high[at];
  }
}

void push_levels(const AxisPush& push, std::size_t stride, std::vector<double>& weights) {
  const auto count = push.chance.size();
  for (std::size_t block = 0; block < weights.size(); block += stride * count) {
    for (std::size_t at = block; at < block + stride; ++at) {
      double weaker = 0;  // weight at weaker levels, which the push may lift to this one
      for (std::size_t level = 0; level < count; ++level) {
        auto& weight = weights[at + level * stride];
        const double before = weight;
        weight = push.at_most[level] * before + push.chance[level] * weaker;
        weaker += before;
      }
    }
  }
}

void pull_levels(const AxisPush& push, std::size_t stride, std::vector<double>& weights) {
  const auto count = push.chance.size();
  for (std::size_t block = 0; block < weights.size(); block += stride * count) {
    for (std::size_t at = block; at < block + stride; ++at) {
      double lifted = 0;  // worth of being lifted above this level
      for (std::size_t level = count; level-- > 0;) {
        auto& weight = weights[at + level * stride];
        const double before = weight;
        weight = push.at_most[level] * before + lifted;
        lifted += push.chance[level] * before;
      }
    }
  }
}

}  // namespace

void push_forward(const Reach& reach, const std::vector<AxisPush>& pushes, std::vector<double>& weights) {
  for (const auto& push : pushes) {
    const auto stride = reach.axes[push.axis].stride;
    if (push.chance.size() == 2) push_two_levels(push, stride, weights);
    else push_levels(push, stride, weights);
  }
}

void push_backward(const Reach& reach, const std::vector<AxisPush>& pushes, std::vector<double>& weights) {
  for (const auto& push : pushes) {
    const auto stride = reach.axes[push.axis].stride;
    if (push.chance.size() == 2) pull_two_levels(push, stride, weights);
    else pull_levels(push, stride, weights);
  }
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

}  // namespace leadline::diagnosis
