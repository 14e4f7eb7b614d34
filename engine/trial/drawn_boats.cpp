#include "engine/trial/drawn_boats.h"

#include <algorithm>
#include <cmath>

#include "engine/text/number.h"
#include "engine/trial/dice.h"

namespace leadline::trial {

namespace {

constexpr std::uint64_t boats_number = 0;  // the dice of call-out 0 draw the boats; call-outs count from 1

std::string drawn_value(const knowledge::Fact& fact, Dice& dice) {
  if (!fact.choices.empty()) return fact.choices[static_cast<std::size_t>(dice.uniform() * static_cast<double>(fact.choices.size()))].id;
  if (fact.type != knowledge::FactType::number || !fact.least || !fact.most) return fact.assume;
  const auto assumed = text::parse_number(fact.assume);
  if (!assumed || *assumed <= 0) return fact.assume;
  // Around what is usual: half to double, in equal ratios.
  const double value = std::clamp(*assumed * std::exp2(2 * dice.uniform() - 1), *fact.least, *fact.most);
  return text::format_number(std::round(value), 0);
}

}  // namespace

TrialBoat::TrialBoat(const knowledge::KnowledgeBase& base, std::vector<installation::Stated> facts)
    : stated(std::move(facts)), installation(installation::make_installation(base, stated)), evaluation(base, installation), boat(diagnosis::build_model(base, evaluation)) {
  boat.model.circuits = nullptr;
}

std::vector<std::vector<installation::Stated>> drawn_facts(const knowledge::KnowledgeBase& base, std::size_t count, std::uint64_t seed) {
  Dice dice(seed, boats_number);
  std::vector<std::vector<installation::Stated>> boats(count);
  for (auto& stated : boats) {
    for (const auto& fact : base.facts) {
      if (!fact.drawn) continue;
      const auto value = drawn_value(fact, dice);
      if (installation::why_not(fact, value).empty()) stated.push_back({fact.path(), value});
    }
  }
  return boats;
}

std::vector<TrialBoat> drawn_boats(const knowledge::KnowledgeBase& base, std::size_t count, std::uint64_t seed) {
  std::vector<TrialBoat> boats;
  for (auto& stated : drawn_facts(base, count, seed)) boats.emplace_back(base, std::move(stated));
  return boats;
}

}  // namespace leadline::trial
