#include "engine/diagnosis/explanation_list.h"

#include <algorithm>
#include <limits>

namespace leadline::diagnosis {

Diagnosis prepared(const Model& model) {
  Diagnosis result;
  result.belief.assign(model.causes.size(), 0.0);
  result.log_evidence = -std::numeric_limits<double>::infinity();
  result.unlisted_mass = 1;
  return result;
}

std::vector<std::size_t> candidates_for(const std::vector<double>& belief, double least) {
  std::vector<std::size_t> candidates;
  for (std::size_t i = 0; i < belief.size(); ++i) {
    if (belief[i] >= least) candidates.push_back(i);
  }
  std::stable_sort(candidates.begin(), candidates.end(), [&](auto a, auto b) { return belief[a] > belief[b]; });
  return candidates;
}

void add_explanations(Diagnosis& result, const Search& search, double total, const std::vector<std::size_t>& always) {
  for (const auto& found : search.sets) {
    auto causes = found.causes;
    causes.insert(causes.end(), always.begin(), always.end());
    std::sort(causes.begin(), causes.end());
    result.explanations.push_back({std::move(causes), found.weight / total});
  }
}

void order_explanations(Diagnosis& result, std::size_t most) {
  auto& explanations = result.explanations;
  std::sort(explanations.begin(), explanations.end(), [](const Explanation& a, const Explanation& b) {
    if (a.probability != b.probability) return a.probability > b.probability;
    if (a.causes.size() != b.causes.size()) return a.causes.size() < b.causes.size();
    return a.causes < b.causes;
  });
  if (explanations.size() > most) explanations.resize(most);
  double mass = 0;
  for (auto at = explanations.rbegin(); at != explanations.rend(); ++at) mass += at->probability;  // small ones first
  result.unlisted_mass = std::max(0.0, 1 - mass);
}

}  // namespace leadline::diagnosis
