#include "engine/trial/practice.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>

#include "engine/diagnosis/mending.h"

namespace leadline::trial {

namespace {

using diagnosis::Reading;
using knowledge::KnowledgeBase;
using planning::Act;

constexpr std::size_t most_steps = 100;   // of the program

// A drawn boat without what it cannot have (no upper battery where there is one block), and as usual where the book knows what is usual on such a boat.
std::vector<TrialBoat> sensible_boat(const KnowledgeBase& base, std::uint64_t seed) {
  auto boat = installation::make_installation(base, {});
  std::vector<installation::Stated> kept;
  const auto facts = drawn_facts(base, 1, seed);
  for (const auto& stated : facts.front()) {
    const auto& fact = base.facts[*knowledge::find_fact(base, stated.path)];
    const installation::Evaluation evaluation(base, boat);
    const bool usual = std::any_of(fact.assume_where.begin(), fact.assume_where.end(), [&](const auto& assumed) { return evaluation.holds(assumed.where); });
    const auto choices = installation::possible_choices(boat, fact);
    if (usual) continue;
    if (!fact.choices.empty() && std::none_of(choices.begin(), choices.end(), [&](const auto& choice) { return choice.id == stated.value; })) continue;
    kept.push_back(stated);
    boat = installation::make_installation(base, kept);
  }
  std::vector<TrialBoat> one;
  one.emplace_back(base, std::move(kept));
  return one;
}

struct Span {
  std::optional<double> low, high;   // none: open there
};

Span span_of(const knowledge::Finding& finding, const std::vector<double>& limits, std::size_t state) {
  const auto band = static_cast<std::size_t>(std::find(finding.bands.begin(), finding.bands.end(), state) - finding.bands.begin());
  Span span;
  if (band > 0) span.low = limits[band - 1];
  if (band < limits.size()) span.high = limits[band];
  return span;
}

// By the band alone: within it, or not far beyond its one limit. A meter that has nothing to measure through is over range.
double within(const Span& span, knowledge::Unit unit, double u) {
  const bool ohms = unit == knowledge::Unit::ohm || unit == knowledge::Unit::megohm;
  if (span.low && span.high) return *span.low + (0.2 + 0.6 * u) * (*span.high - *span.low);
  if (span.high) return *span.high - (0.1 + 0.4 * u) * std::max(std::abs(*span.high), 0.1);
  if (ohms) return std::numeric_limits<double>::infinity();
  return span.low.value_or(0) + (0.05 + 0.2 * u) * std::max(std::abs(span.low.value_or(0)), 0.1);
}

Reading written(double value, int decimals, knowledge::Unit unit) {
  std::array<char, 400> digits{};   // with the zeros at the end: they are what the meter resolves
  const auto end = std::to_chars(digits.begin(), digits.end(), value, std::chars_format::fixed, decimals).ptr;
  return *diagnosis::parse_reading(std::string_view(digits.data(), static_cast<std::size_t>(end - digits.data())), unit);
}

// Three figures, as a pocket meter has them; more where the band is narrower than the third.
Reading as_shown(double value, const Span& span, knowledge::Unit unit) {
  constexpr int most_decimals = 6;
  if (std::isinf(value)) return *diagnosis::parse_reading("OL", unit);
  const double size = std::abs(value);
  int decimals = size == 0 ? 2 : std::clamp(2 - static_cast<int>(std::floor(std::log10(size))), 0, most_decimals);
  const auto holds = [&](const Reading& reading) { return (!span.low || reading.value >= *span.low) && (!span.high || reading.value < *span.high); };
  auto reading = written(value, decimals, unit);
  while (!holds(reading) && decimals < most_decimals) reading = written(value, ++decimals, unit);
  return reading;
}

}  // namespace

Choosable step_of(const planning::Proposal& proposal) { return {proposal.act, proposal.act == Act::check ? proposal.check.index : proposal.remedy.index}; }

Reading drawn_reading(const knowledge::Finding& finding, const std::vector<double>& limits, std::size_t state, double share) {
  const auto span = span_of(finding, limits, state);
  return as_shown(within(span, *finding.unit, share), span, *finding.unit);
}

Practice::Practice(const KnowledgeBase& base, std::uint64_t number)
    : base_(base), number_(number), boats_(sensible_boat(base, number)), dice_(number, number), call_(draw_call(base, boats_, dice_, {.of_a_cause = true})),
      record_{"practice call-out " + std::to_string(number), boats_.front().installation, knowledge::Who::technician, diagnosis::InstrumentClass::pocket, {}}, terrain_(planning::terrain_of(base)) {
  for (const auto& [finding, state] : call_.said) {
    const diagnosis::Answer answer{{finding}, diagnosis::Seen{state}, knowledge::Who::owner};
    record_.answers.push_back(answer);
  }
  assessment_ = std::make_unique<callout::Assessment>(base_, record_);
  if (const auto& link = assessment_->boat().model.circuits) circuits_.emplace(*link, dice_);
  for (std::size_t f = 0; f < base.findings.size(); ++f) within_.push_back(dice_.uniform());
}

std::vector<std::size_t> Practice::of_the_book(const std::vector<std::size_t>& causes) const {
  std::vector<std::size_t> found;
  for (const auto cause : causes) {
    const auto ref = boats_.front().boat.cause_refs[cause];
    found.push_back(ref ? ref->index : base_.causes.size());
  }
  return found;
}

std::vector<std::size_t> Practice::truth() const { return of_the_book(call_.world.causes()); }

std::vector<std::size_t> Practice::still_wrong() const { return of_the_book(call_.world.present()); }

planning::Circumstances Practice::circumstances() const {
  auto now = assessment_->circumstances();
  now.standing = standing_;
  return now;
}

planning::Job Practice::job() const { return assessment_->job(circumstances()); }

std::vector<double> Practice::believed() const {
  std::vector<double> beliefs;
  for (const auto cause : call_.world.causes()) beliefs.push_back(assessment_->had_been()[cause]);
  return beliefs;
}

std::vector<Choosable> Practice::choosable() const {
  const auto closed = assessment_->closed();
  const auto now = circumstances();
  std::vector<Choosable> steps;
  for (std::size_t c = 0; c < base_.checks.size(); ++c) {
    const auto& check = base_.checks[c];
    const bool open = std::any_of(check.observes.begin(), check.observes.end(), [&](auto f) { return assessment_->boat().finding_applies[f.index] && !closed[f.index]; });
    if (open && assessment_->evaluation().holds(check.applies)) steps.push_back({Act::check, c});
  }
  for (std::size_t r = 0; r < base_.remedies.size(); ++r) {
    const bool mends = !diagnosis::mends_of(base_, assessment_->boat(), {r}).empty();
    if (mends && !now.done[r] && assessment_->evaluation().holds(base_.remedies[r].applies)) steps.push_back({Act::remedy, r});
  }
  return steps;
}

planning::Obstacle Practice::obstacle_to(const Choosable& step) const {
  if (step.act == Act::check) return planning::obstacle_to(base_, base_.checks[step.index], circumstances());
  return planning::obstacle_to(base_, base_.remedies[step.index], circumstances());
}

double Practice::minutes_of(const Choosable& step) const {
  const auto now = circumstances();
  if (step.act == Act::check) return planning::minutes_of(planning::doing_of(base_.checks[step.index].effort, now), terrain_, standing_);
  return planning::minutes_of(planning::remedy_option(base_, assessment_->boat(), {step.index}, now), terrain_, standing_);
}

const planning::Advice& Practice::advice() {
  if (!advice_) advice_ = planning::advise(job());
  return *advice_;
}

// Never more than it took: whatever it told, all that was best before can still be done after it.
double Practice::lost_by(const Choosable& step, double minutes) {
  const auto& proposals = advice().proposals;
  const auto found = std::find_if(proposals.begin(), proposals.end(), [&](const auto& proposal) { return step_of(proposal) == step; });
  if (found == proposals.begin()) return 0;
  if (found == proposals.end()) return minutes;
  const auto best = std::min_element(proposals.begin(), proposals.end(), [](const auto& a, const auto& b) { return a.expected < b.expected; });
  return std::clamp(found->expected - best->expected, 0.0, minutes);
}

const Practised& Practice::take(const Choosable& step) {
  Practised done;
  done.step = step;
  done.minutes = minutes_of(step);
  done.best = advice().proposals.front();
  done.lost = lost_by(step, done.minutes);
  done.believed_before = believed();
  done.first_answer = record_.answers.size();
  minutes_ += done.minutes;
  done.total = minutes_;
  if (step.act == Act::check) do_check(base_.checks[step.index]);
  else do_remedy({step.index});
  advice_.reset();
  done.answers = record_.answers.size() - done.first_answer;
  done.believed_after = believed();
  done_.push_back(std::move(done));
  return done_.back();
}

diagnosis::Observed Practice::observed(std::size_t index) {
  const auto& finding = base_.findings[index];
  const auto state = call_.world.state_of(index);
  if (!finding.is_reading()) return diagnosis::Seen{state};
  const auto tie = circuits_ ? assessment_->boat().expectation->tie_of(index) : std::nullopt;
  if (!tie) return drawn_reading(finding, assessment_->boat().band_limits[index], state, within_[index]);
  const auto value = circuits_->reading(*tie, call_.world.present());
  return value ? diagnosis::Observed(as_shown(*value, {}, *finding.unit)) : diagnosis::CannotTell{};
}

void Practice::look(std::size_t finding) {
  const diagnosis::Answer answer{{finding}, observed(finding), record_.role};
  record_.answers.push_back(answer);
  assessment_->update();
}

void Practice::do_check(const knowledge::Check& check) {
  standing_ = planning::after(planning::doing_of(check.effort, circumstances()), standing_);
  for (const auto finding : check.observes) {
    if (assessment_->boat().finding_applies[finding.index] && !assessment_->closed()[finding.index]) look(finding.index);
  }
}

// The trouble itself is looked at again: that belongs to the remedy.
void Practice::do_remedy(knowledge::Ref<knowledge::Remedy> ref) {
  const auto option = planning::remedy_option(base_, assessment_->boat(), ref, circumstances());
  standing_ = planning::after(option, standing_);
  record_.remedies.push_back({ref, record_.answers.size()});
  auto mends = option.mends;
  for (auto& mend : mends) mend.second = 1;   // nobody learns by a good repair that failed by chance
  call_.world.mend(mends, ref.index, dice_);
  look(call_.said.back().finding);
  mended_ = call_.world.state_of(call_.said.back().finding) == 0;
}

std::unique_ptr<Practice> Practice::by_the_program() const {
  auto played = std::make_unique<Practice>(base_, number_);
  while (!played->mended() && played->done().size() < most_steps) {
    const auto best = played->advice().proposals.front();
    if (best.act == Act::give_up) break;
    played->take(step_of(best));
  }
  return played;
}

}  // namespace leadline::trial
