#include "engine/diagnosis/search.h"

#include <algorithm>
#include <queue>

namespace leadline::diagnosis {

namespace {

// A side's likelihood never rises when a cause is added if it falls from state to state; then its value now bounds all that follows.
bool falls(const std::vector<double>& likelihood) {
  return std::is_sorted(likelihood.rbegin(), likelihood.rend());
}

bool lighter(const FoundSet& a, const FoundSet& b) { return a.weight > b.weight; }  // a heap with the lightest on top

// A set, and how good it and all sets that add later candidates to it can be.
struct Branch {
  std::vector<std::size_t> set;
  std::size_t next = 0;     // the first candidate that may still be added
  double bound = 0;         // no set of the branch weighs more
  double mass = 0;          // upper bound on the weight of all of them; kept only when there are sides
  friend bool operator<(const Branch& a, const Branch& b) { return a.bound != b.bound ? a.bound < b.bound : a.set > b.set; }
};

class Searcher {
 public:
  Searcher(const Model& model, const Evidence& evidence, const Reach& reach, const Odds& odds, const std::vector<std::size_t>& candidates,
           const SearchOptions& options, const Table& start, const Ahead& ahead)
      : model_(model), evidence_(evidence), reach_(reach), odds_(odds), candidates_(candidates), options_(options), start_(start), ahead_(ahead),
        least_(options.least) {}

  Search run() {
    if (options_.empty_counts) keep({}, dot(start_, reach_.finish) * sides_now({}));
    expand({{}, 0, 0, 0});
    while (!queue_.empty() && queue_.top().bound >= least_ && work_ < options_.most_work) {
      const Branch branch = queue_.top();
      queue_.pop();
      expand(branch);
    }
    for (; !queue_.empty(); queue_.pop()) found_.passed_over += queue_.top().mass;
    return std::move(found_);
  }

 private:
  std::span<const double> row(const std::vector<double>& rows, std::size_t k) const { return {rows.data() + k * reach_.states, reach_.states}; }

  void keep(const std::vector<std::size_t>& set, double weight) {
    if (weight < least_ || !(weight > 0)) {
      found_.passed_over += weight;
      return;
    }
    found_.sets.push_back({set, weight});
    std::push_heap(found_.sets.begin(), found_.sets.end(), lighter);
    if (found_.sets.size() <= options_.most_sets) return;
    std::pop_heap(found_.sets.begin(), found_.sets.end(), lighter);
    found_.passed_over += found_.sets.back().weight;
    found_.sets.pop_back();
    least_ = std::max(least_, found_.sets.front().weight);
  }

  // The first cause of a set is scaled apart, see Odds.
  double odds_of(std::size_t cause, bool first) const { return first && !options_.empty_counts ? odds_.first[cause] : odds_.later[cause]; }

  // table <- table with one more cause.
  void add(Table& table, std::size_t cause, bool first) {
    const double odds = odds_of(cause, first);
    for (auto& weight : table) weight *= odds;
    push_forward(reach_, cause, table);
    work_ += table.size() * (1 + reach_.pushes_of(cause).size());
  }

  // Keeps the sets that add one candidate to the branch, and queues those that may lead further. Adding is linear in the table, so what a candidate
  // makes of it is a dot product with its row. Tables are made anew: keeping one for each branch in the queue would cost more memory than time.
  void expand(const Branch& branch) {
    Table table = start_;
    for (std::size_t c = 0; c < branch.set.size(); ++c) add(table, branch.set[c], c == 0);
    for (std::size_t k = branch.next; k < candidates_.size(); ++k) consider(branch, k, table);
  }

  void consider(const Branch& branch, std::size_t k, const Table& table) {
    Branch larger{branch.set, k + 1, 0, 0};
    larger.set.push_back(candidates_[k]);
    const double side = sides_bound(larger.set), odds = odds_of(candidates_[k], branch.set.empty());
    const double plain = odds * dot(table, row(ahead_.alone, k));
    keep(larger.set, plain * sides_now(larger.set));
    larger.bound = odds * dot(table, row(ahead_.at_best, k)) * side;
    if (!ahead_.in_all.empty()) larger.mass = std::max(0.0, odds * dot(table, row(ahead_.in_all, k)) - plain) * side;
    work_ += 2 * table.size();
    if (larger.bound >= least_ && larger.bound > 0 && larger.set.size() < options_.most_causes) queue_.push(std::move(larger));
    else found_.passed_over += larger.mass;
  }

  double sides_now(const std::vector<std::size_t>& set) const {
    double product = 1;
    for (const auto o : reach_.sides) product *= likelihood_under(model_, evidence_[o], set);
    return product;
  }

  double sides_bound(const std::vector<std::size_t>& set) const {
    double product = 1;
    for (const auto o : reach_.sides) {
      const auto& likelihood = evidence_[o].likelihood;
      product *= falls(likelihood) ? likelihood_under(model_, evidence_[o], set) : *std::max_element(likelihood.begin(), likelihood.end());
    }
    return product;
  }

  const Model& model_;
  const Evidence& evidence_;
  const Reach& reach_;
  const Odds& odds_;
  const std::vector<std::size_t>& candidates_;
  SearchOptions options_;
  const Table& start_;
  const Ahead& ahead_;
  double least_;               // rises when the list is full
  Search found_;
  std::priority_queue<Branch> queue_;
  std::size_t work_ = 0;
};

}  // namespace

Ahead ahead_of(const Reach& reach, const std::vector<std::size_t>& candidates, const Odds& odds) {
  const auto n = reach.states;
  Ahead ahead{std::vector<double>(candidates.size() * n), std::vector<double>(candidates.size() * n), {}};
  if (!reach.sides.empty()) ahead.in_all.resize(candidates.size() * n);
  Table best(reach.finish), all(reach.finish);
  const auto add_before = [&](std::size_t k, const Table& after, std::vector<double>& rows) {
    const std::span now(rows.data() + k * n, n);
    std::copy(after.begin(), after.end(), now.begin());
    push_backward(reach, candidates[k], now);
    return now;
  };
  for (std::size_t k = candidates.size(); k-- > 0;) {
    const double later = odds.later[candidates[k]];
    add_before(k, reach.finish, ahead.alone);
    const auto at_best = add_before(k, best, ahead.at_best);
    for (std::size_t at = 0; at < n; ++at) best[at] = std::max(best[at], later * at_best[at]);
    if (ahead.in_all.empty()) continue;
    const auto in_all = add_before(k, all, ahead.in_all);
    for (std::size_t at = 0; at < n; ++at) all[at] += later * in_all[at];
  }
  return ahead;
}

Search heaviest_sets(const Model& model, const Evidence& evidence, const Reach& reach, const Odds& odds, const std::vector<std::size_t>& candidates,
                     const SearchOptions& options) {
  return heaviest_sets_from(model, evidence, reach, odds, candidates, options, reach.start, ahead_of(reach, candidates, odds));
}

Search heaviest_sets_from(const Model& model, const Evidence& evidence, const Reach& reach, const Odds& odds, const std::vector<std::size_t>& candidates,
                          const SearchOptions& options, const Table& start, const Ahead& ahead) {
  return Searcher(model, evidence, reach, odds, candidates, options, start, ahead).run();
}

}  // namespace leadline::diagnosis
