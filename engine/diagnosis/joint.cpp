#include "engine/diagnosis/joint.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leadline::diagnosis {

namespace {

constexpr double impossible = -std::numeric_limits<double>::infinity();

// A set of implicated causes: the circuits judge it as a whole, all other causes are summed over.
struct Core {
  std::vector<std::size_t> causes;
  double log_density = 0;
  double reached = 0;      // of all sets of the other causes with it: the plain findings' likelihood, without the core's odds
  double log_weight = impossible;
};

class Together {
 public:
  Together(const Model& model, const Evidence& plain, const TiedReadings& tied, const Reach& reach, const ExplainOptions& options)
      : model_(model), plain_(plain), tied_(tied), options_(options), odds_(odds_of(reach.odds, model.something_is_wrong)), others_(reach) {
    for (const auto cause : tied.implicated()) {
      others_.odds[cause] = {0, 0};
    }
    others_odds_ = odds_;
    for (const auto cause : tied.implicated()) others_odds_.first[cause] = others_odds_.later[cause] = 0;
    before_ = reached_by_all(others_, others_odds_);
  }

  Diagnosis run(bool with_list) {
    Diagnosis result = prepared(model_);
    weigh_without_core(result.belief);
    weigh_cores();
    scale_ = empty_.log_weight;
    for (const auto& core : cores_) scale_ = std::max(scale_, core.log_weight);
    if (scale_ == impossible) return result;
    const double total = beliefs(result);
    result.log_evidence = log_evidence_of(model_, others_, odds_, total) + scale_;
    if (with_list) list(result, total);
    return result;
  }

 private:
  double weight(const Core& core) const { return std::exp(core.log_weight - scale_); }

  // Sets without any implicated cause. Leaves their shares of themselves in `belief`.
  void weigh_without_core(std::vector<double>& belief) {
    empty_.log_density = tied_.log_density({});
    const double total = total_and_beliefs(others_, others_odds_, !model_.something_is_wrong, belief);
    empty_.log_weight = total > 0 ? empty_.log_density + std::log(total) : impossible;
  }

  void weigh_cores() {
    for (const auto cause : tied_.implicated()) add_core({cause});
    auto heaviest = cores_;
    std::stable_sort(heaviest.begin(), heaviest.end(), [](const Core& a, const Core& b) { return a.log_weight > b.log_weight; });
    const auto in_pairs = std::min(heaviest.size(), options_.most_in_pairs);
    for (std::size_t a = 0; a < in_pairs; ++a) {
      // The heaviest of all goes with every other: what is seen beside it may speak for a cause that alone explains the readings badly.
      const auto partners = a == 0 ? heaviest.size() : in_pairs;
      for (std::size_t b = a + 1; b < partners; ++b) {
        const auto x = heaviest[a].causes[0], y = heaviest[b].causes[0];
        add_core({std::min(x, y), std::max(x, y)});
      }
    }
  }

  double odds_of_core(const Core& core) const {
    double odds = model_.something_is_wrong ? odds_.first[core.causes[0]] : odds_.later[core.causes[0]];
    for (std::size_t c = 1; c < core.causes.size(); ++c) odds *= odds_.later[core.causes[c]];
    return odds;
  }

  void add_core(std::vector<std::size_t> causes) {
    Core core{std::move(causes)};
    const double odds = odds_of_core(core);
    if (!(odds > 0)) return;
    Table table(before_);
    for (const auto cause : core.causes) push_forward(others_, cause, table);
    core.reached = dot(table, others_.finish);
    if (!(core.reached > 0)) return;
    core.log_density = tied_.log_density(core.causes);
    core.log_weight = core.log_density + std::log(odds) + std::log(core.reached);
    cores_.push_back(std::move(core));
  }

  // The other causes' beliefs need one pass more: from what all cores together make of the end of the table.
  double beliefs(Diagnosis& result) {
    const double alone = weight(empty_);
    double with_cores = 0;
    Reach ended(others_);
    std::fill(ended.finish.begin(), ended.finish.end(), 0.0);
    std::vector<double> core_belief(model_.causes.size(), 0.0);
    for (const auto& core : cores_) {
      const double now = weight(core);
      if (!(now > 0)) continue;
      with_cores += now;
      for (const auto cause : core.causes) core_belief[cause] += now;
      Table end(others_.finish);
      for (const auto cause : core.causes) push_backward(others_, cause, end);
      for (std::size_t at = 0; at < end.size(); ++at) ended.finish[at] += now / core.reached * end[at];
    }
    auto as_later = others_odds_;
    std::fill(as_later.first.begin(), as_later.first.end(), 0.0);
    std::vector<double> beside_cores;
    total_and_beliefs(ended, as_later, true, beside_cores);
    const double total = alone + with_cores;
    for (std::size_t i = 0; i < result.belief.size(); ++i) {
      result.belief[i] = (result.belief[i] * alone + beside_cores[i] * with_cores + core_belief[i]) / total;
    }
    return total;
  }

  void list(Diagnosis& result, double total) {
    std::vector<double> belief(result.belief);
    for (const auto cause : tied_.implicated()) belief[cause] = 0;
    const auto candidates = candidates_for(belief, options_.least_probability);
    const auto ahead = ahead_of(others_, candidates, others_odds_);
    SearchOptions search{total * options_.least_probability, options_.most_explanations, any_size, options_.most_search_work, !model_.something_is_wrong};
    add_listed(result, empty_, std::exp(empty_.log_density - scale_), total, candidates, ahead, search);
    search.empty_counts = true;
    for (const auto& core : cores_) {
      if (weight(core) >= search.least) add_listed(result, core, weight(core) / core.reached, total, candidates, ahead, search);
    }
    order_explanations(result, options_.most_explanations);
  }

  void add_listed(Diagnosis& result, const Core& core, double factor, double total, const std::vector<std::size_t>& candidates, const Ahead& ahead,
                  const SearchOptions& search) const {
    Table start(others_.start);
    for (auto& at : start) at *= factor;
    for (const auto cause : core.causes) push_forward(others_, cause, start);
    add_explanations(result, heaviest_sets_from(model_, plain_, others_, others_odds_, candidates, search, start, ahead), total, core.causes);
  }

  const Model& model_;
  const Evidence& plain_;
  const TiedReadings& tied_;
  const ExplainOptions& options_;
  Odds odds_, others_odds_;
  Reach others_;             // all causes' pushes; the implicated ones without odds of their own
  Table before_;             // what all sets of the others make of the start
  Core empty_;
  std::vector<Core> cores_;
  double scale_ = 0;
};

}  // namespace

Diagnosis judged_together(const Model& model, const Evidence& plain, const TiedReadings& tied, const Reach& reach, const ExplainOptions& options, bool with_list) {
  return Together(model, plain, tied, reach, options).run(with_list);
}

}  // namespace leadline::diagnosis
