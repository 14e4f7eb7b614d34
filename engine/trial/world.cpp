#include "engine/trial/world.h"

#include <algorithm>

namespace leadline::trial {

World::World(const diagnosis::Model& model, Dice& dice) : model_(model) {
  while (causes_.empty()) {
    for (std::size_t c = 0; c < model.causes.size(); ++c) {
      if (dice.uniform() < model.causes[c].prior) causes_.push_back(c);
    }
    if (!model.something_is_wrong) break;
  }
  mended_.resize(causes_.size());
  for (const auto cause : causes_) {
    auto& states = pushed_to_.emplace_back();
    for (const auto& push : model.causes[cause].pushes) states.push_back(draw_state(push.at_most, dice));
  }
  for (const auto& finding : model.findings) leaked_to_.push_back(draw_state(finding.leak_at_most, dice));
}

std::vector<std::size_t> World::present() const {
  std::vector<std::size_t> still;
  for (std::size_t i = 0; i < causes_.size(); ++i) {
    if (!mended_[i]) still.push_back(causes_[i]);
  }
  return still;
}

std::size_t World::state_of(std::size_t finding) const {
  auto state = leaked_to_[finding];
  for (std::size_t i = 0; i < causes_.size(); ++i) {
    const auto& pushes = model_.causes[causes_[i]].pushes;
    for (std::size_t p = 0; p < pushes.size() && !mended_[i]; ++p) {
      if (pushes[p].finding == finding) state = std::max(state, pushed_to_[i][p]);
    }
  }
  return state;
}

void World::mend(const std::vector<std::pair<std::size_t, double>>& mends, std::size_t remedy, Dice& dice) {
  if (tried_.size() <= remedy) tried_.resize(remedy + 1);
  if (tried_[remedy]) return;
  tried_[remedy] = true;
  for (const auto& [cause, chance] : mends) {
    const bool takes = dice.uniform() < chance;
    const auto at = std::find(causes_.begin(), causes_.end(), cause);
    if (at != causes_.end() && takes) mended_[static_cast<std::size_t>(at - causes_.begin())] = true;
  }
}

std::size_t draw_state(const std::vector<double>& at_most, Dice& dice) {
  const double u = dice.uniform();
  std::size_t state = 0;
  while (state + 1 < at_most.size() && u >= at_most[state]) ++state;
  return state;
}

}  // namespace leadline::trial
