#include "cli/conversation.h"

#include <algorithm>

#include "cli/phrases.h"

namespace leadline::cli {

namespace {

constexpr double settled = 0.95;       // a leader this likely: time to ask whether to go on
constexpr std::size_t most_others = 5;

bool answered(const std::vector<diagnosis::Answer>& answers, std::size_t finding) {
  return std::any_of(answers.begin(), answers.end(), [&](const auto& a) { return a.finding.index == finding; });
}

bool marked(const std::vector<bool>& marks, std::size_t at) { return at < marks.size() && marks[at]; }

}  // namespace

Conversation::Conversation(const knowledge::KnowledgeBase& base, Setup setup)
    : base_(base), given_(std::move(setup.installation)), finder_(base),
      record_{given_ && !given_->name().empty() ? given_->name() : "call-out", given_ ? *given_ : installation::make_installation(base, {}), setup.role, setup.instrument, {}},
      assessment_(std::make_unique<callout::Assessment>(base, record_)) {
  for (std::size_t f = 0; f < base.facts.size(); ++f) {
    if (base.facts[f].intake && !given_) intake_.push_back(f);
  }
  now_.put_off.resize(base.checks.size());
  now_.dropped.resize(base.checks.size());
  refresh();
}

void Conversation::refresh() {
  if (!given_ && now_.stated.size() != stated_built_) {
    // A fact is stated once or taken back, never altered: the count tells whether the record has changed.
    record_.installation = installation::make_installation(base_, now_.stated);
    assessment_ = std::make_unique<callout::Assessment>(base_, record_);
    stated_built_ = now_.stated.size();
  }
  if (record_.answers != now_.answers || !record_.answers.empty()) {
    record_.answers = now_.answers;
    assessment_->update();
  }
  proposals_.clear();
  question_ = next_question();
}

std::optional<std::size_t> Conversation::open_finding(const knowledge::Check& check) const {
  for (const auto finding : check.observes) {
    if (assessment_->boat().finding_applies[finding.index] && !answered(now_.answers, finding.index)) return finding.index;
  }
  return std::nullopt;
}

bool Conversation::takes_a_check() {
  proposals_ = planning::proposals(base_, assessment_->boat(), assessment_->evaluation(), assessment_->diagnosis(), assessment_->circumstances(now_.put_off));
  std::erase_if(proposals_, [&](const auto& p) { return marked(now_.dropped, p.check.index); });
  if (now_.check && !open_finding(base_[*now_.check])) now_.check.reset();
  if (!now_.check && !proposals_.empty()) now_.check = proposals_.front().check;
  return now_.check.has_value();
}

Question Conversation::next_question() {
  if (now_.ending != Ending::not_yet) return {};
  if (now_.facts_asked < intake_.size()) return {Asks::fact, intake_[now_.facts_asked]};
  if (now_.again) return {Asks::finding, now_.again->index};
  if (now_.to_settle) return {Asks::finding, now_.to_settle->index};
  if (!now_.offered.empty()) return {Asks::match, 0};
  if (!now_.complaint_told) return {Asks::complaint, 0};
  const auto& explanations = assessment_->diagnosis().explanations;
  const bool check_done = !now_.check || !open_finding(base_[*now_.check]);
  const bool has_check = takes_a_check();
  if (now_.choosing_check) return {Asks::other_check, 0};
  if (check_done && has_check && !now_.going_on && !explanations.empty() && explanations.front().probability >= settled) return {Asks::go_on, 0};
  if (has_check) return {Asks::finding, *open_finding(base_[*now_.check])};
  now_.ending = Ending::nothing_tells;
  return {};
}

std::vector<knowledge::Ref<knowledge::Finding>> Conversation::complaints() const {
  std::vector<knowledge::Ref<knowledge::Finding>> found;
  for (std::size_t f = 0; f < base_.findings.size(); ++f) {
    if (base_.findings[f].complaint && assessment_->boat().finding_applies[f]) found.push_back({f});
  }
  return found;
}

const planning::Proposal* Conversation::proposal() const {
  for (const auto& proposal : proposals_) {
    if (now_.check && proposal.check == *now_.check) return &proposal;
  }
  return nullptr;
}

std::vector<planning::Proposal> Conversation::other_checks() const {
  std::vector<planning::Proposal> others;
  for (const auto& proposal : proposals_) {
    if (others.size() < most_others && !(now_.check && proposal.check == *now_.check)) others.push_back(proposal);
  }
  return others;
}

Reply Conversation::commit(Progress next, std::string words) {
  history_.push_back(std::move(now_));
  now_ = std::move(next);
  refresh();
  return Noted{std::move(words)};
}

bool Conversation::back() {
  if (history_.empty()) return false;
  now_ = std::move(history_.back());
  history_.pop_back();
  refresh();
  return true;
}

void Conversation::end(Ending ending) {
  auto next = now_;
  next.ending = ending;
  commit(std::move(next), "");
}

Reply Conversation::later() {
  auto next = now_;
  if (question_.asks == Asks::finding && (now_.again || now_.to_settle)) {
    next.again.reset();
    next.to_settle.reset();
    return commit(std::move(next), now_.again ? "The answer stays as it was." : "Left open.");
  }
  if (question_.asks != Asks::finding && question_.asks != Asks::go_on) return answer("");
  if (question_.asks == Asks::go_on) return next.going_on = true, commit(std::move(next), "We go on.");
  const auto check = now_.check->index;
  const bool second_time = next.put_off[check];
  if (second_time) next.dropped[check] = true;
  next.put_off[check] = true;
  next.check.reset();
  return commit(std::move(next), second_time ? "Left out: " + base_.checks[check].title + "." : "Put off: " + base_.checks[check].title + ".");
}

Reply Conversation::other() {
  if (question_.asks == Asks::other_check) return Noted{""};
  if (question_.asks != Asks::finding || now_.again || now_.to_settle) return Refused{"There is no check to choose yet.", "'other' works once a check is proposed"};
  if (other_checks().empty()) return Refused{"No other check would tell anything.", "an answer to this one, 'later' or 'stop'"};
  auto next = now_;
  next.choosing_check = true;
  return commit(std::move(next), "");
}

Reply Conversation::again(std::size_t number) {
  if (now_.facts_asked < intake_.size()) return Refused{"There are no answers to give anew yet.", "an answer to this question; 'back' undoes the one before"};
  if (now_.answers.empty()) return Refused{"There are no answers yet.", "an answer to this question"};
  if (number < 1 || number > now_.answers.size()) {
    return Refused{"There is no answer of that number.", "'again' and a number from 1 to " + std::to_string(now_.answers.size()) + " ('list' shows them)"};
  }
  auto next = now_;
  next.again = now_.answers[number - 1].finding;
  return commit(std::move(next), "");
}

}  // namespace leadline::cli
