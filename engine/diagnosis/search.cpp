#include "engine/diagnosis/search.h"

#include <algorithm>
#include <cmath>

namespace leadline::diagnosis {

namespace {

using Table = std::vector<double>;

// A side's likelihood never rises when a cause is added if it falls from state to state; then its value now bounds all that follows.
bool falls(const std::vector<double>& likelihood) {
  return std::is_sorted(likelihood.rbegin(), likelihood.rend());
}

constexpr std::size_t most_steps = 2'000'000;  // of the search: keeps an answer within a second whatever the evidence

class Searcher {
 public:
  Searcher(const Model& model, const Evidence& evidence, const Reach& reach, const std::vector<std::size_t>& candidates, double least, std::size_t most_causes)
      : model_(model), evidence_(evidence), reach_(reach), candidates_(candidates), least_(least), most_causes_(most_causes),
        odds_(odds_of(reach.log_odds, model.something_is_wrong)), after_(candidates.size() + 1) {
    after_.back() = reach.finish;
    for (std::size_t k = candidates.size(); k-- > 0;) {
      after_[k] = after_[k + 1];
      push_backward(reach, reach.pushes[candidates[k]], after_[k]);
      for (std::size_t at = 0; at < reach.states; ++at) after_[k][at] = after_[k + 1][at] + odds_.later[candidates[k]] * after_[k][at];
    }
  }

  Search run() {
    if (!model_.something_is_wrong) keep({}, dot(reach_.start, reach_.finish) * sides_now({}));
    if (std::isfinite(odds_.shift)) extend({}, reach_.start, 0);
    return std::move(found_);
  }

 private:
  void keep(const std::vector<std::size_t>& set, double weight) {
    if (weight >= least_) found_.sets.push_back({set, weight});
    else found_.passed_over += weight;
  }

  // All sets that add candidates from `from` on to `set`, whose table is `table`.
  void extend(const std::vector<std::size_t>& set, const Table& table, std::size_t from) {
    for (std::size_t k = from; k < candidates_.size(); ++k) {
      const auto cause = candidates_[k];
      const double odds = set.empty() && model_.something_is_wrong ? odds_.first[cause] : odds_.later[cause];
      if (!(odds > 0)) continue;
      Table with = table;
      for (auto& weight : with) weight *= odds;
      push_forward(reach_, reach_.pushes[cause], with);
      auto larger = set;
      larger.push_back(cause);
      const double bound = dot(with, after_[k + 1]) * sides_bound(larger);
      if (bound < least_ || ++steps_ > most_steps) {
        found_.passed_over += bound;
        continue;
      }
      keep(larger, dot(with, reach_.finish) * sides_now(larger));
      if (larger.size() < most_causes_) extend(larger, with, k + 1);
    }
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
  const std::vector<std::size_t>& candidates_;
  double least_;
  std::size_t most_causes_;
  Odds odds_;
  std::vector<Table> after_;   // after_[k]: all sets of the candidates from k on
  Search found_;
  std::size_t steps_ = 0;
};

}  // namespace

Search heavy_sets(const Model& model, const Evidence& evidence, const Reach& reach, const std::vector<std::size_t>& candidates, double least,
                  std::size_t most_causes) {
  return Searcher(model, evidence, reach, candidates, least, most_causes).run();
}

}  // namespace leadline::diagnosis
