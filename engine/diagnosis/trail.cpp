#include "engine/diagnosis/trail.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace leadline::diagnosis {

Trail::Trail(const Model& model, std::size_t finding, const AfterOptions& options)
    : leak_(model.findings[finding].leak_at_most), drawn_anew_(options.drawn_anew),
      new_fault_(leak_.size() > 1 ? options.new_fault / static_cast<double>(leak_.size() - 1) : 0) {
  for (const auto& cause : model.causes) pushes_.push_back(push_on(cause, finding));
}

void Trail::tell(const std::vector<double>* likelihood, bool idle) {
  looks_.push_back({likelihood, idle});
  if (likelihood == nullptr) return;
  last_ = looks_.size() - 1;
  seen_at_all_ = true;
}

double Trail::log_likelihood(const std::vector<std::size_t>& causes, const std::vector<std::size_t>& removed_in) const {
  key_.clear();
  for (std::size_t c = 0; c < causes.size(); ++c) {
    if (pushes_[causes[c]] == nullptr) continue;
    key_.push_back(causes[c]);
    key_.push_back(std::min(removed_in[c], last_ + 1));  // what is removed later cannot be told from what stays
  }
  if (key_.empty()) return untouched_ ? *untouched_ : *(untouched_ = log_seen({causes, removed_in}));  // the most frequent by far
  if (const auto known = known_.find(key_); known != known_.end()) return known->second;
  return known_.emplace(key_, log_seen({causes, removed_in})).first->second;
}

const std::vector<double>& Trail::joint_now(const std::vector<std::size_t>& causes, const std::vector<std::size_t>& removed_in) const {
  key_.clear();
  for (std::size_t c = 0; c < causes.size(); ++c) {
    if (pushes_[causes[c]] != nullptr) key_.insert(key_.end(), {causes[c], removed_in[c]});
  }
  if (const auto known = known_now_.find(key_); known != known_now_.end()) return known->second;
  return known_now_.emplace(key_, joint_at(looks_.size() - 1, {causes, removed_in})).first->second;
}

double Trail::log_seen(const Removals& course) const {
  const auto joint = joint_at(last_, course);
  return std::log(std::accumulate(joint.begin(), joint.end(), 0.0));
}

std::vector<double> Trail::joint_at(std::size_t phase, const Removals& course) const {
  Table table(states() * states(), 0.0);
  for (std::size_t b = 0; b < states(); ++b) table[b * states()] = 1;  // nothing is new yet
  see(0, table);
  for (std::size_t k = 1; k <= phase; ++k) {
    const bool may_be_anew = drawn_anew_ > 0 && !looks_[k].idle;
    const auto past = may_be_anew ? whatever_rest(table, chances_of_rest(k - 1, course)) : std::vector<double>{};
    remove(pushes_removed(k, course), table);
    if (may_be_anew) draw_anew(past, table);
    if (!looks_[k].idle && new_fault_ > 0) disturb(table);
    see(k, table);
  }
  const auto chances = chances_of_rest(phase, course);
  std::vector<double> joint(states(), 0.0);
  for (std::size_t b = 0; b < states(); ++b) {
    for (std::size_t m = 0; m < states(); ++m) joint[std::max(b, m)] += chances[b] * table[b * states() + m];
  }
  return joint;
}

void Trail::push(std::size_t cause, std::vector<double>& at_most) const {
  if (pushes_[cause] == nullptr) return;
  for (std::size_t s = 0; s < at_most.size(); ++s) at_most[s] *= pushes_[cause]->at_most[s];
}

std::vector<double> Trail::pushes_removed(std::size_t phase, const Removals& course) const {
  std::vector<double> at_most(states(), 1.0);
  for (std::size_t c = 0; c < course.causes.size(); ++c) {
    if (course.removed_in[c] == phase) push(course.causes[c], at_most);
  }
  return at_most;
}

std::vector<double> Trail::chances_of_rest(std::size_t phase, const Removals& course) const {
  auto chances = leak_;
  for (std::size_t c = 0; c < course.causes.size(); ++c) {
    if (course.removed_in[c] > phase) push(course.causes[c], chances);
  }
  for (std::size_t b = states(); b-- > 1;) chances[b] -= chances[b - 1];
  return chances;
}

void Trail::see(std::size_t phase, Table& table) const {
  if (looks_[phase].likelihood == nullptr) return;
  for (std::size_t b = 0; b < states(); ++b) {
    for (std::size_t m = 0; m < states(); ++m) table[b * states() + m] *= (*looks_[phase].likelihood)[std::max(b, m)];
  }
}

// From the phase before a remedy to that after it: B before was at least B after.
void Trail::remove(const std::vector<double>& at_most, Table& table) const {
  for (std::size_t m = 0; m < states(); ++m) {
    double stronger = 0;  // sum over b' > b of P(removed pushes = b') table[b']
    for (std::size_t b = states(); b-- > 0;) {
      const double was = table[b * states() + m];
      table[b * states() + m] = at_most[b] * was + stronger;
      stronger += (at_most[b] - (b > 0 ? at_most[b - 1] : 0)) * was;
    }
  }
}

// M after is at least M before.
void Trail::disturb(Table& table) const {
  for (std::size_t b = 0; b < states(); ++b) {
    double weaker = 0;
    for (std::size_t m = 0; m < states(); ++m) {
      const double was = table[b * states() + m], stays = 1 - new_fault_ * static_cast<double>(states() - 1 - m);
      table[b * states() + m] = stays * was + new_fault_ * weaker;
      weaker += was;
    }
  }
}

// P(what was seen up to a phase, and M there), whatever B was.
std::vector<double> Trail::whatever_rest(const Table& table, const std::vector<double>& chances) const {
  std::vector<double> by_new(states(), 0.0);
  for (std::size_t b = 0; b < states(); ++b) {
    for (std::size_t m = 0; m < states(); ++m) by_new[m] += chances[b] * table[b * states() + m];
  }
  return by_new;
}

void Trail::draw_anew(const std::vector<double>& past, Table& table) const {
  for (std::size_t b = 0; b < states(); ++b) {
    for (std::size_t m = 0; m < states(); ++m) table[b * states() + m] = (1 - drawn_anew_) * table[b * states() + m] + drawn_anew_ * past[m];
  }
}

}  // namespace leadline::diagnosis
