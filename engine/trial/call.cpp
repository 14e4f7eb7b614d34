#include "engine/trial/call.h"

#include <algorithm>

#include "engine/diagnosis/evidence.h"

namespace leadline::trial {

namespace {

// By finding: how often a cause of the book, drawn by its prior on this boat, shows it otherwise than normal; 0 for what no owner calls about.
std::vector<double> often_called_about(const knowledge::KnowledgeBase& base, const TrialBoat& boat) {
  std::vector<double> often(base.findings.size());
  const auto& causes = boat.boat.model.causes;
  for (std::size_t c = 0; c < causes.size(); ++c) {
    if (c == boat.boat.unlisted()) continue;   // a little of everything
    for (const auto& push : causes[c].pushes) {
      if (base.findings[push.finding].calls && boat.boat.finding_applies[push.finding]) often[push.finding] += causes[c].prior * (1 - push.at_most.front());
    }
  }
  return often;
}

// What the owner says when he is asked; empty when nothing of it is worth a call.
std::vector<Said> said_by_owner(const knowledge::KnowledgeBase& base, std::vector<double> often, const World& world, Dice& dice, const CallOptions& options) {
  std::vector<Said> said;
  while (said.size() < options.most_asked && std::any_of(often.begin(), often.end(), [](double share) { return share > 0; })) {
    const auto finding = dice.draw(often);
    often[finding] = 0;
    said.push_back({finding, dice.draw(diagnosis::named_chances(base.findings[finding], world.state_of(finding), knowledge::Who::owner))});
    if (said.back().state == 0) continue;
    const bool of_a_cause = world.state_of(finding) != 0 && world.state_without_causes(finding) == 0;
    return of_a_cause || !options.of_a_cause ? said : std::vector<Said>{};
  }
  return {};
}

}  // namespace

Call draw_call(const knowledge::KnowledgeBase& base, const std::vector<TrialBoat>& boats, Dice& dice, const CallOptions& options) {
  const auto which = static_cast<std::size_t>(dice.uniform() * static_cast<double>(boats.size()));
  const auto often = often_called_about(base, boats[which]);
  for (;;) {
    World world(boats[which].boat.model, dice);
    auto said = said_by_owner(base, often, world, dice, options);
    if (!said.empty()) return {which, std::move(world), std::move(said)};
  }
}

}  // namespace leadline::trial
