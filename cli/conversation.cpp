#include "cli/conversation.h"

#include <algorithm>

#include "cli/phrases.h"
#include "cli/step_words.h"
#include "engine/diagnosis/mending.h"
#include "engine/installation/restated.h"

namespace leadline::cli {

namespace {

constexpr std::size_t most_others = 5, most_wanted = 12;
constexpr double worth_asking = 0.08;   // belief that a fact must move to be asked for; measured: docs/planning.md § facts

bool same_step(const planning::Proposal& a, const planning::Proposal& b) {
  return a.act == b.act && (a.act == planning::Act::give_up || (a.act == planning::Act::check ? a.check == b.check : a.remedy == b.remedy));
}

// For what was reported in the middle of it.
bool barred(const knowledge::KnowledgeBase& base, const planning::Proposal& proposal, const planning::Circumstances& now) {
  const auto is_danger = [](const planning::Obstacle& obstacle) { return obstacle.why == planning::Hindrance::danger; };
  if (proposal.act == planning::Act::check) return is_danger(planning::obstacle_to(base, base[proposal.check], now));
  return proposal.act == planning::Act::remedy && is_danger(planning::obstacle_to(base, base[proposal.remedy], now));
}

}  // namespace

Conversation::Conversation(const knowledge::KnowledgeBase& base, Setup setup)
    : base_(base), given_(std::move(setup.installation)), finder_(base),
      record_{given_ && !given_->name().empty() ? given_->name() : "call-out", given_ ? *given_ : installation::make_installation(base, {}), setup.role, setup.instrument, {}, {}, std::move(setup.bounds)},
      assessment_(std::make_unique<callout::Assessment>(base, record_)) {
  for (std::size_t f = 0; f < base.facts.size(); ++f) {
    if (base.facts[f].intake == knowledge::Intake::first && !given_) intake_.push_back(f);
  }
  now_.put_off.resize(base.checks.size());
  now_.dropped.resize(base.checks.size());
  now_.remedies_put_off.resize(base.remedies.size());
  now_.remedies_dropped.resize(base.remedies.size());
  refresh();
}

void Conversation::refresh() {
  const bool otherwise = record_.answers != now_.answers || record_.remedies != now_.remedies || !record_.answers.empty();
  record_.answers = now_.answers;
  record_.remedies = now_.remedies;
  // A fact is stated once or taken back, never altered: the count tells whether the record has changed.
  if (now_.stated.size() != stated_built_) build_boat();
  else if (otherwise) assessment_->update();
  advice_ = {};
  search_.reset();
  question_ = next_question();
}

void Conversation::build_boat() {
  record_.installation = given_ ? *given_ : installation::make_installation(base_, {});
  for (const auto& [path, value] : now_.stated) {
    const auto fact = knowledge::find_fact(base_, path);
    const auto boat = fact ? installation::with_fact(base_, record_.installation, base_.facts[*fact], value) : std::nullopt;
    if (boat) record_.installation = *boat;   // always: take_fact lets nothing else be stated
  }
  assessment_ = std::make_unique<callout::Assessment>(base_, record_);
  stated_built_ = now_.stated.size();
}

bool Conversation::settled(std::size_t fact) const { return std::find(now_.settled.begin(), now_.settled.end(), fact) != now_.settled.end(); }

std::optional<std::size_t> Conversation::open_intake() const {
  for (const auto fact : intake_) {
    if (!settled(fact)) return fact;
  }
  return std::nullopt;
}

// Between one step and the next, never in the middle of a check. Of a layman only what there are plain words for.
std::optional<std::size_t> Conversation::fact_at_stake() {
  const bool between = !now_.in_hand || (now_.in_hand->act == planning::Act::check && !open_finding(*now_.in_hand));
  if (!between || !now_.remedies.empty()) return std::nullopt;
  // Whoever has just been told to leave the boat is not asked which battery feeds the panels.
  if (record_.role == knowledge::Who::owner && !callout::at_once_now(base_, record_).empty()) return std::nullopt;
  // Of those asked for already as well: going back takes that away, not the answers these are worked out of.
  if (!stakes_ || stakes_->answers != now_.answers || stakes_->stated != now_.stated.size()) {
    auto facts = callout::facts_to_ask(*assessment_);
    for (std::size_t f = 0; f < facts.size(); ++f) facts[f] = facts[f] && (record_.role != knowledge::Who::owner || !base_.facts[f].lay.empty());
    stakes_ = Stakes{now_.answers, now_.stated.size(), at_stake_.among(*assessment_, facts)};
  }
  for (const auto& stake : stakes_->found) {
    if (stake.moved >= worth_asking && !settled(stake.fact)) return stake.fact;
  }
  return std::nullopt;
}

const callout::Stake* Conversation::at_stake() const {
  if (question_.asks != Asks::fact || !stakes_) return nullptr;
  const auto found = std::find_if(stakes_->found.begin(), stakes_->found.end(), [&](const auto& stake) { return stake.fact == question_.index; });
  return found == stakes_->found.end() ? nullptr : &*found;
}

knowledge::Fact Conversation::fact_in_question() const {
  auto fact = base_.facts[question_.index];
  fact.choices = installation::possible_choices(record_.installation, fact);
  return fact;
}

std::string Conversation::assumed_for(const knowledge::Fact& fact) const { return installation::assumed_for(record_.installation, fact).value_or(fact.assume); }

std::optional<std::size_t> Conversation::open_finding(const planning::Proposal& proposal) const {
  if (proposal.act != planning::Act::check) return std::nullopt;
  const auto closed = assessment_->closed();
  for (const auto finding : base_[proposal.check].observes) {
    if (assessment_->boat().finding_applies[finding.index] && !closed[finding.index]) return finding.index;
  }
  return std::nullopt;
}

std::optional<std::size_t> Conversation::open_symptom() const {
  for (const auto& told : callout::complaint_of(base_, record_)) {
    if (!callout::answered_now(record_, told.finding.index)) return told.finding.index;
  }
  return std::nullopt;
}

planning::Job Conversation::job() const {
  auto circumstances = assessment_->circumstances(now_.put_off);
  circumstances.left_out = now_.dropped;
  circumstances.remedies_put_off = now_.remedies_put_off;
  circumstances.standing = now_.standing;
  for (std::size_t r = 0; r < now_.remedies_dropped.size(); ++r) {
    if (now_.remedies_dropped[r]) circumstances.done[r] = true;
  }
  return assessment_->job(std::move(circumstances));
}

// What is in hand stays there until it is done; its figures are those of now.
void Conversation::take_in_hand(const planning::Circumstances& circumstances) {
  const auto& proposals = advice_.proposals;
  if (now_.in_hand && now_.in_hand->act == planning::Act::check && !open_finding(*now_.in_hand)) now_.in_hand.reset();
  if (now_.in_hand && barred(base_, *now_.in_hand, circumstances)) now_.in_hand.reset();
  if (now_.in_hand) {
    const auto same = std::find_if(proposals.begin(), proposals.end(), [&](const auto& p) { return same_step(p, *now_.in_hand); });
    if (same != proposals.end()) now_.in_hand = *same;
    return;
  }
  for (const auto& proposal : proposals) {
    if (proposal.act == planning::Act::give_up && now_.going_on) continue;
    now_.in_hand = proposal;
    return;
  }
}

// Of the causes this remedy mends, the one that is believed most.
std::optional<planning::LineSearch> Conversation::search_for_the_place(const planning::Job& job) const {
  const auto& belief = assessment_->diagnosis().belief;
  std::optional<std::size_t> likeliest;
  for (const auto& [cause, chance] : diagnosis::mends_of(base_, assessment_->boat(), now_.in_hand->remedy)) {
    if (!likeliest || belief[cause] > belief[*likeliest]) likeliest = cause;
  }
  if (!likeliest) return std::nullopt;
  return planning::line_search(job, *likeliest, now_.parted);
}

// A caller who knows nothing is not asked through the whole book.
bool Conversation::in_the_dark() const {
  constexpr std::ptrdiff_t enough = 8, enough_in_vain = 4;   // answers in a row that tell nothing; when no further check saves time
  const auto told = [](const diagnosis::Answer& answer) { return !std::holds_alternative<diagnosis::CannotTell>(answer.observed); };
  const auto row = std::find_if(now_.answers.rbegin(), now_.answers.rend(), told) - now_.answers.rbegin();
  const auto first = std::find_if(advice_.proposals.begin(), advice_.proposals.end(), [](const auto& p) { return p.act != planning::Act::give_up; });
  const bool in_vain = first != advice_.proposals.end() && first->act == planning::Act::check && first->saved <= 0;
  const bool in_a_check = now_.in_hand && now_.in_hand->act == planning::Act::check && open_finding(*now_.in_hand);
  return record_.role == knowledge::Who::owner && !now_.going_on && !now_.choosing && !in_a_check && (row >= enough || (row >= enough_in_vain && in_vain));
}

Question Conversation::next_step() {
  const auto now = job();
  advice_ = planning::advise(now);
  if (in_the_dark()) now_.in_hand.reset();
  else take_in_hand(now.now);
  if (now_.choosing) return {Asks::other_step, 0};
  if (!now_.in_hand) return {Asks::call_in, 0};
  if (now_.in_hand->act == planning::Act::remedy) {
    search_ = search_for_the_place(now);
    if (search_ && !search_->cuts.empty() && !now_.search_ended) return {Asks::part, 0};
    return {Asks::remedy, now_.in_hand->remedy.index};
  }
  if (const auto open = open_finding(*now_.in_hand)) return {Asks::finding, *open};
  return {Asks::call_in, 0};
}

Question Conversation::next_question() {
  if (now_.ending != Ending::not_yet) return {};
  if (const auto fact = open_intake()) return {Asks::fact, *fact};
  if (now_.again) return {Asks::finding, now_.answers[*now_.again].finding.index};
  if (!now_.to_settle && !now_.ask_again.empty()) {
    now_.to_settle = now_.ask_again.front();
    now_.guess.reset();
    now_.ask_again.erase(now_.ask_again.begin());
  }
  if (now_.to_settle) return {Asks::finding, now_.to_settle->index};
  if (!now_.offered.empty()) return {Asks::match, 0};
  if (!now_.complaint_told) return {Asks::complaint, 0};
  if (now_.proving) {
    if (const auto open = open_symptom()) return {Asks::finding, *open};
    now_.proving = false;
  }
  if (callout::proved(base_, record_)) {
    now_.ending = Ending::proved;
    return {};
  }
  if (const auto fact = fact_at_stake()) {
    now_.in_hand.reset();   // a check that is done
    return {Asks::fact, *fact};
  }
  return next_step();
}

// The commonest first: by how often a cause of this boat, drawn by its prior, shows something other than the normal state.
std::vector<knowledge::Ref<knowledge::Finding>> Conversation::complaints() const {
  const auto& boat = assessment_->boat();
  std::vector<double> shown(base_.findings.size());
  for (const auto& cause : boat.model.causes) {
    for (const auto& push : cause.pushes) shown[push.finding] += cause.prior * (1 - push.at_most.front());
  }
  std::vector<knowledge::Ref<knowledge::Finding>> found;
  for (std::size_t f = 0; f < base_.findings.size(); ++f) {
    if (base_.findings[f].complaint && boat.finding_applies[f]) found.push_back({f});
  }
  std::stable_sort(found.begin(), found.end(), [&](auto a, auto b) { return shown[a.index] > shown[b.index]; });
  return found;
}

// Beside the one in hand: all whose title, or the title or words of what they show, hold every wanted word.
std::vector<planning::Proposal> Conversation::steps_beside(std::string_view wanted) const {
  const auto words = words_wanted(wanted);
  const auto holds_all = [&](const planning::Proposal& proposal) {
    return is_about(base_, proposal.act, proposal.act == planning::Act::check ? proposal.check.index : proposal.remedy.index, words);
  };
  std::vector<planning::Proposal> others;
  for (const auto& proposal : advice_.proposals) {
    const bool taken = now_.in_hand && same_step(proposal, *now_.in_hand);
    if (!taken && proposal.act != planning::Act::give_up && holds_all(proposal)) others.push_back(proposal);
  }
  return others;
}

std::vector<planning::Proposal> Conversation::other_steps() const {
  const bool all = now_.choosing && now_.wanted == all_word;
  auto others = steps_beside(now_.choosing && !all ? now_.wanted : "");
  if (!all) others.resize(std::min(others.size(), now_.wanted.empty() ? most_others : most_wanted));
  return others;
}

std::size_t Conversation::all_other_steps() const { return steps_beside("").size(); }

Reply Conversation::commit(Progress next, std::string words) {
  history_.push_back(std::move(now_));
  now_ = std::move(next);
  refresh();
  return Noted{std::move(words)};
}

Reply Conversation::commit_answer(Progress next, const diagnosis::Answer& answer) {
  const auto* told = callout::at_once_for(base_, answer);
  Noted noted{"Noted: " + answer_words(base_, answer) + ".", told != nullptr ? told->words : ""};
  commit(std::move(next), "");
  return noted;
}

bool Conversation::back() {
  if (history_.empty()) return false;
  now_ = std::move(history_.back());
  history_.pop_back();
  refresh();
  return true;
}

void Conversation::take_over(const callout::Job& job) {
  for (const auto& path : job.taken_over.settled) {
    if (const auto fact = knowledge::find_fact(base_, path)) now_.settled.push_back(*fact);
  }
  for (const auto& fact : job.taken_over.kept.facts) now_.stated.push_back({fact.path, fact.value});
  now_.answers = job.record.answers;
  now_.remedies = job.record.remedies;
  now_.told = job.taken_over.told;
  now_.complaint_told = job.taken_over.kept.complaint_told;
  for (const auto& id : job.taken_over.ask_again) {
    if (const auto finding = knowledge::find_id(base_.findings, id)) now_.ask_again.push_back(*finding);
  }
  for (const auto& reminder : job.taken_over.kept.waits) {
    now_.waiting.push_back(reminder);
    if (const auto check = knowledge::find_id(base_.checks, reminder.check)) now_.put_off[check->index] = true;
  }
  refresh();
}

void Conversation::end(Ending ending) {
  auto next = now_;
  next.ending = ending;
  commit(std::move(next), "");
}

Reply Conversation::later(std::optional<callout::Time> now, std::optional<double> minutes) {
  const bool of_a_check = of_a_step() && question_.asks == Asks::finding;
  if (minutes && !of_a_check) return Refused{"Only a check can be put off for minutes.", "an answer, or 'later'"};
  auto next = now_;
  if (question_.asks == Asks::finding && (now_.again || now_.to_settle)) {
    if (now_.again) next.again.reset();
    else next.to_settle.reset();
    return commit(std::move(next), now_.again ? "The answer stays as it was." : "Left open.");
  }
  if (question_.asks == Asks::finding && now_.proving) {
    next.proving = false;
    return commit(std::move(next), "Left open: without it the repair is not proved.");
  }
  if (question_.asks == Asks::part) {
    next.search_ended = true;
    return commit(std::move(next), "We part the run no further.");
  }
  if (question_.asks == Asks::call_in) return Refused{"There is nothing to put off.", other_steps().empty() ? "1 to end here (or Enter)" : "1 to end here (or Enter), 2 to go on"};
  if (question_.asks != Asks::finding && question_.asks != Asks::remedy) return answer("");
  const bool check = question_.asks == Asks::finding;
  const auto at = check ? now_.in_hand->check.index : now_.in_hand->remedy.index;
  const auto& condition = check ? base_.checks[at].effort.condition : base_.remedies[at].effort.condition;
  if (!minutes && condition && base_[*condition].wait > 0) minutes = base_[*condition].wait;
  if (check && now && minutes) return wait_for(base_.checks[at], *minutes, *now);
  auto& put_off = check ? next.put_off : next.remedies_put_off;
  const bool second_time = put_off[at];
  if (second_time) (check ? next.dropped : next.remedies_dropped)[at] = true;
  put_off[at] = true;
  const auto& title = check ? base_.checks[at].title : base_.remedies[at].title;
  return lay_aside(std::move(next), (second_time ? "Left out: " : "Put off: ") + title + ".");
}

Reply Conversation::lay_aside(Progress next, std::string words) {
  next.in_hand.reset();
  next.parted.clear();
  next.search_ended = false;
  return commit(std::move(next), std::move(words));
}

// As often as one likes: what was used meanwhile must rest anew.
Reply Conversation::wait_for(const knowledge::Check& check, double minutes, callout::Time now) {
  auto next = now_;
  next.put_off[now_.in_hand->check.index] = true;
  std::erase_if(next.waiting, [&](const auto& r) { return r.check == check.id; });
  next.waiting.push_back({check.id, check.title, now, minutes});
  const auto number = std::to_string(next.waiting.size());
  return lay_aside(std::move(next), "Put off: " + check.title + ". Ripe in " + minutes_words(minutes) + "; 'reminders' lists it, 'reminders " + number + "' takes it up.");
}

bool Conversation::of_a_step() const {
  const bool of_a_check = question_.asks == Asks::finding && !now_.again && !now_.to_settle && !now_.proving;
  return of_a_check || question_.asks == Asks::remedy || question_.asks == Asks::part;
}

Reply Conversation::leave_out() {
  const bool check = now_.in_hand->act == planning::Act::check;
  const auto at = check ? now_.in_hand->check.index : now_.in_hand->remedy.index;
  auto next = now_;
  (check ? next.put_off : next.remedies_put_off)[at] = true;
  (check ? next.dropped : next.remedies_dropped)[at] = true;
  if (check) std::erase_if(next.waiting, [&](const auto& r) { return r.check == base_.checks[at].id; });
  return lay_aside(std::move(next), "Left out, for it is not safe: " + (check ? base_.checks[at].title : base_.remedies[at].title) + ".");
}

Reply Conversation::take_up(std::size_t number) {
  const auto& waiting = now_.waiting;
  if (waiting.empty()) return Refused{"Nothing waits to be taken up.", "an answer to this question"};
  if (number < 1 || number > waiting.size()) return Refused{"There is no reminder of that number.", "'reminders' and a number from 1 to " + std::to_string(waiting.size())};
  if (advice_.proposals.empty()) return Refused{"First the question that stands.", "an answer to it, or 'later'"};
  const auto check = knowledge::find_id(base_.checks, waiting[number - 1].check);
  const auto found = std::find_if(advice_.proposals.begin(), advice_.proposals.end(), [&](const auto& p) { return p.act == planning::Act::check && check && p.check == *check; });
  if (found == advice_.proposals.end()) return Refused{"'" + waiting[number - 1].title + "' would tell nothing as things stand now.", "an answer to this question"};
  auto next = now_;
  next.choosing = false;
  next.parted.clear();
  next.search_ended = false;
  next.put_off[check->index] = false;
  next.in_hand = *found;
  return commit(std::move(next), "Taken up: " + waiting[number - 1].title + ".");
}

bool Conversation::between_steps() const { return of_a_step() || question_.asks == Asks::call_in; }

Reply Conversation::also(std::string_view words) {
  if (!now_.complaint_told) return Refused{"The symptoms are being told just now.", "an answer to this question, then the words of the next symptom"};
  if (!between_steps()) return Refused{"First the question that stands.", "an answer to it, or 'later'"};
  if (words.empty()) return Refused{"What else was seen or told?", "'also' and a few words, for instance 'also smells burnt'"};
  return search(words);
}

Reply Conversation::other() {
  if (question_.asks == Asks::other_step) return Noted{""};
  if (!between_steps()) return Refused{"There is nothing to choose yet.", "'other' works once a check or a remedy is proposed"};
  if (other_steps().empty()) return Refused{"There is nothing else to do.", "an answer to this one, 'later' or 'stop'"};
  auto next = now_;
  next.choosing = true;
  next.wanted.clear();
  return commit(std::move(next), "");
}

Reply Conversation::again(std::size_t number) {
  if (question_.asks == Asks::fact && !now_.complaint_told) return Refused{"There are no answers to give anew yet.", "an answer to this question; 'back' undoes the one before"};
  if (now_.answers.empty()) return Refused{"There are no answers yet.", "an answer to this question"};
  if (number < 1 || number > now_.answers.size()) {
    return Refused{"There is no answer of that number.", "'again' and a number from 1 to " + std::to_string(now_.answers.size()) + " ('list' shows them)"};
  }
  auto next = now_;
  next.again = number - 1;
  return commit(std::move(next), "");
}

}  // namespace leadline::cli
