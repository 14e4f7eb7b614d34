#include "engine/trial/player.h"

#include <algorithm>
#include <array>
#include <map>
#include <variant>

#include "engine/diagnosis/mending.h"

namespace leadline::trial {

namespace {

using diagnosis::Observation;
using knowledge::Check;
using knowledge::KnowledgeBase;
using knowledge::Ref;
using knowledge::Remedy;
using planning::Possible;

struct GiveUp {};
using Step = std::variant<GiveUp, Ref<Check>, Ref<Remedy>>;

constexpr double worth_a_forecast = 0.01;
constexpr double still_possible = 0.005;   // belief below which the policy by frequency passes a cause over
constexpr std::array<std::string_view, 4> policy_words{"ours", "information", "frequency", "chart"};

std::vector<double> certain(std::size_t states, std::size_t state) {
  std::vector<double> likelihood(states, 0.0);
  likelihood[state] = 1;
  return likelihood;
}

// One call-out on its way.
class Player {
 public:
  Player(const KnowledgeBase& base, const TrialBoat& boat, Policy policy, const PlayOptions& options, Dice& dice, bool with_story)
      : base_(base), boat_(boat), policy_(policy), options_(options), dice_(dice), with_story_(with_story), terrain_(planning::terrain_of(base)) {
    now_.done.resize(base.remedies.size());
  }

  Played played;

  void hear(const Call& call);
  void work(World& world);

 private:
  std::size_t states(std::size_t finding) const { return boat_.boat.model.findings[finding].leak_at_most.size(); }
  void observe(std::size_t finding, const World& world);
  void close_what_is_not_to_be_seen();
  void begin_phase(diagnosis::Done done);
  planning::Job job();
  bool is_there(std::size_t cause) const;
  bool holds_true_causes_only(const std::vector<std::size_t>& causes) const;
  void note_forecasts();
  void note_what_it_was();
  void tell(const std::string& words, double minutes);

  Step next();
  Step next_of_ours();
  Step next_of_others();
  Step remedy_of_the_leader(const Possible& possible) const;
  std::optional<Ref<Check>> check_of_frequent_cause(const Possible& possible) const;
  double minutes_with_proof(Ref<Remedy> remedy) const;

  void do_check(Ref<Check> ref, const World& world);
  bool do_remedy(Ref<Remedy> ref, World& world);

  const KnowledgeBase& base_;
  const TrialBoat& boat_;
  Policy policy_;
  const PlayOptions& options_;
  Dice& dice_;
  bool with_story_;
  planning::Terrain terrain_;
  planning::Circumstances now_;
  diagnosis::History history_{1};
  diagnosis::Present present_;
  std::size_t complaint_ = 0;
};

void put(diagnosis::Evidence& evidence, Observation observation) {
  const auto at = std::lower_bound(evidence.begin(), evidence.end(), observation.finding, [](const auto& o, auto f) { return o.finding < f; });
  evidence.insert(at, std::move(observation));
}

void Player::tell(const std::string& words, double minutes) {
  if (with_story_) played.story.push_back(words + ", after " + std::to_string(static_cast<int>(minutes)) + " min");
}

void Player::hear(const Call& call) {
  now_.answered.assign(base_.findings.size(), false);
  for (const auto& [finding, state] : call.said) {
    put(history_.front().evidence, {finding, diagnosis::seen_likelihood(base_.findings[finding], state, knowledge::Who::owner)});
    now_.answered[finding] = true;
  }
  const auto& [finding, state] = call.said.back();
  complaint_ = finding;
  tell("complaint: " + base_.findings[finding].title + ": " + base_.findings[finding].states[state].words, 0);
}

void Player::observe(std::size_t finding, const World& world) {
  now_.answered[finding] = true;
  const bool told = dice_.uniform() >= options_.cannot_tell;
  const auto state = world.state_of(finding);
  if (told) put(history_.back().evidence, {finding, certain(states(finding), state)});
  if (with_story_) tell("  " + base_.findings[finding].title + ": " + (told ? base_.findings[finding].states[state].words : "cannot tell"), played.minutes);
}

// Nobody is asked for the direction of a push that is not there.
void Player::close_what_is_not_to_be_seen() {
  const auto hidden = planning::not_to_be_seen(base_, history_.back().evidence);
  for (std::size_t f = 0; f < hidden.size(); ++f) {
    if (hidden[f]) now_.answered[f] = true;
  }
}

void Player::begin_phase(diagnosis::Done done) {
  history_.push_back({{}, std::move(done)});
  now_.answered.assign(base_.findings.size(), false);
}

planning::Job Player::job() {
  close_what_is_not_to_be_seen();
  present_ = diagnosis::diagnose_after(boat_.boat.model, history_, diagnosis::after_options_of(base_));
  return planning::job_after(base_, boat_.boat, boat_.evaluation, history_, present_, now_);
}

bool Player::is_there(std::size_t cause) const { return std::find(played.truth.begin(), played.truth.end(), cause) != played.truth.end(); }

bool Player::holds_true_causes_only(const std::vector<std::size_t>& causes) const {
  return !causes.empty() && std::all_of(causes.begin(), causes.end(), [&](auto cause) { return is_there(cause); });
}

void Player::note_forecasts() {
  const auto& now = present_.now;
  for (std::size_t c = 0; c < now.belief.size(); ++c) {
    if (now.belief[c] >= worth_a_forecast) played.beliefs.push_back({std::min(now.belief[c], 1.0), is_there(c)});
  }
  if (now.explanations.empty()) return;
  played.led_by = now.explanations.front().causes;
  played.leader = {std::min(now.explanations.front().probability, 1.0), now.explanations.front().causes == played.truth};
  for (std::size_t e = 0; e < now.explanations.size() && !played.place; ++e) {
    if (holds_true_causes_only(now.explanations[e].causes)) played.place = e;
  }
}

// The causes there at the start, by what is on record in the end. One set may have been mended in several ways.
void Player::note_what_it_was() {
  present_ = diagnosis::diagnose_after(boat_.boat.model, history_, diagnosis::after_options_of(base_));
  std::map<std::vector<std::size_t>, double> sets;
  for (const auto& course : present_.courses) sets[course.causes] += course.probability;
  std::vector<std::pair<double, std::vector<std::size_t>>> ranked;
  for (const auto& [causes, probability] : sets) ranked.emplace_back(probability, causes);
  std::stable_sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  const auto right = std::find_if(ranked.begin(), ranked.end(), [&](const auto& set) { return holds_true_causes_only(set.second); });
  if (right != ranked.end()) played.named = static_cast<std::size_t>(right - ranked.begin());
}

Step Player::next() { return policy_ == Policy::ours ? next_of_ours() : next_of_others(); }

Step Player::next_of_ours() {
  const auto advice = planning::advise(job(), options_.plan);
  const auto& best = advice.proposals.front();
  if (best.act == planning::Act::check) return best.check;
  if (best.act == planning::Act::remedy) return best.remedy;
  return GiveUp{};
}

Step Player::next_of_others() {
  if (!options_.patient && played.minutes >= planning::giving_up(base_, now_.who)) return GiveUp{};
  const auto possible = planning::possible_steps(job());
  const auto& explanations = present_.now.explanations;
  const bool convinced = !explanations.empty() && explanations.front().probability >= options_.convinced;
  if (convinced || possible.checks.empty()) return remedy_of_the_leader(possible);
  if (policy_ == Policy::chart) return possible.checks.front().check;
  if (policy_ == Policy::information) {
    const auto rate = [](const auto& c) { return c.bits / std::max(1.0, c.minutes); };
    return std::max_element(possible.checks.begin(), possible.checks.end(), [&](const auto& a, const auto& b) { return rate(a) < rate(b); })->check;
  }
  if (const auto check = check_of_frequent_cause(possible)) return *check;
  return remedy_of_the_leader(possible);
}

// The quickest check that looks at something the most frequent cause, of those still possible, would show.
std::optional<Ref<Check>> Player::check_of_frequent_cause(const Possible& possible) const {
  const auto& causes = boat_.boat.model.causes;
  std::vector<std::size_t> order;
  for (std::size_t c = 0; c < causes.size(); ++c) {
    if (present_.now.belief[c] >= still_possible) order.push_back(c);
  }
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return causes[a].prior > causes[b].prior; });
  for (const auto cause : order) {
    const Possible::Telling* quickest = nullptr;
    for (const auto& check : possible.checks) {
      const auto& observes = base_[check.check].observes;
      const bool speaks = std::any_of(observes.begin(), observes.end(), [&](auto f) { return !now_.answered[f.index] && diagnosis::push_on(causes[cause], f.index) != nullptr; });
      if (speaks && (quickest == nullptr || check.minutes < quickest->minutes)) quickest = &check;
    }
    if (quickest != nullptr) return quickest->check;
  }
  return std::nullopt;
}

// The quickest remedy of the likeliest explanation that has one left.
Step Player::remedy_of_the_leader(const Possible& possible) const {
  for (const auto& explanation : present_.now.explanations) {
    auto fits = planning::remedies_for(base_, boat_.boat, boat_.evaluation, explanation);
    std::erase_if(fits, [&](auto r) { return std::find(possible.remedies.begin(), possible.remedies.end(), r) == possible.remedies.end(); });
    if (fits.empty()) continue;
    return *std::min_element(fits.begin(), fits.end(), [&](auto a, auto b) { return minutes_with_proof(a) < minutes_with_proof(b); });
  }
  return GiveUp{};
}

double Player::minutes_with_proof(Ref<Remedy> remedy) const {
  return planning::minutes_of(planning::remedy_option(base_, boat_.boat, remedy, now_), terrain_, now_.standing);
}

void Player::do_check(Ref<Check> ref, const World& world) {
  const auto& check = base_[ref];
  const auto doing = planning::doing_of(check.effort, now_);
  played.minutes += planning::minutes_of(doing, terrain_, now_.standing);
  now_.standing = planning::after(doing, now_.standing);
  ++played.checks;
  played.hazards += check.precautions.size();
  tell("check: " + check.title, played.minutes);
  for (const auto finding : check.observes) {
    if (boat_.boat.finding_applies[finding.index] && !now_.answered[finding.index]) observe(finding.index, world);
    close_what_is_not_to_be_seen();
  }
}

// True when the complaint is gone, and seen to be.
bool Player::do_remedy(Ref<Remedy> ref, World& world) {
  if (played.remedies == 0) note_forecasts();
  const auto& remedy = base_[ref];
  const auto option = planning::remedy_option(base_, boat_.boat, ref, now_);
  played.minutes += planning::minutes_of(option, terrain_, now_.standing);
  now_.standing = planning::after(option, now_.standing);
  ++played.remedies;
  played.hazards += remedy.precautions.size();
  now_.done[ref.index] = true;
  world.mend(option.mends, ref.index, dice_);
  begin_phase({option.mends, ref.index});
  tell("remedy: " + remedy.title, played.minutes);
  const auto state = world.state_of(complaint_);
  put(history_.back().evidence, {complaint_, certain(states(complaint_), state)});
  now_.answered[complaint_] = true;
  return state == 0;
}

void Player::work(World& world) {
  played.truth = world.causes();
  for (std::size_t steps = 0; steps < options_.most_steps; ++steps) {
    const auto step = next();
    if (std::holds_alternative<GiveUp>(step)) break;
    if (const auto* check = std::get_if<Ref<Check>>(&step)) do_check(*check, world);
    else if (do_remedy(std::get<Ref<Remedy>>(step), world)) played.proved = true;
    if (played.proved) return note_what_it_was();
  }
  note_what_it_was();
  if (played.remedies == 0) note_forecasts();
  played.minutes += planning::giving_up(base_, now_.who);
  tell("somebody else is called in", played.minutes);
}

}  // namespace

std::string_view to_string(Policy policy) { return policy_words[static_cast<std::size_t>(policy)]; }

std::optional<Policy> policy_of(std::string_view word) {
  const auto at = std::find(policy_words.begin(), policy_words.end(), word);
  if (at == policy_words.end()) return std::nullopt;
  return static_cast<Policy>(at - policy_words.begin());
}

// The same dice go on after the call is drawn, so every policy meets the same truth with the same complaint.
Played play(const knowledge::KnowledgeBase& base, const std::vector<TrialBoat>& boats, Policy policy, std::uint64_t seed, std::uint64_t number, const PlayOptions& options,
            bool with_story) {
  Dice dice(seed, number);
  auto call = draw_call(base, boats, dice, options.call);
  Player player(base, boats[call.boat], policy, options, dice, with_story);
  player.played.number = number;
  player.played.boat = call.boat;
  player.hear(call);
  player.work(call.world);
  return std::move(player.played);
}

}  // namespace leadline::trial
