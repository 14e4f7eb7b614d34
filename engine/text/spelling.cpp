#include "engine/text/spelling.h"

#include <algorithm>
#include <vector>

namespace leadline::text {

int edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::vector<int>> cost(a.size() + 1, std::vector<int>(b.size() + 1, 0));
  for (std::size_t i = 0; i <= a.size(); ++i) cost[i][0] = static_cast<int>(i);
  for (std::size_t j = 0; j <= b.size(); ++j) cost[0][j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int replace = cost[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      cost[i][j] = std::min({cost[i - 1][j] + 1, cost[i][j - 1] + 1, replace});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) cost[i][j] = std::min(cost[i][j], cost[i - 2][j - 2] + 1);
    }
  }
  return cost[a.size()][b.size()];
}

std::optional<std::string> closest(std::string_view word, std::span<const std::string> candidates) {
  constexpr std::size_t longest_word = 64;  // nobody mistypes a word of this length; keeps the table small for hostile files
  if (word.size() > longest_word) return std::nullopt;
  std::optional<std::string> best;
  int best_distance = std::min(3, static_cast<int>(word.size()) / 2) + 1;
  for (const auto& candidate : candidates) {
    if (candidate.size() > longest_word) continue;
    const int distance = edit_distance(word, candidate);
    if (distance < best_distance) {
      best_distance = distance;
      best = candidate;
    }
  }
  return best;
}

std::string suggestion(std::string_view word, std::span<const std::string> candidates, std::size_t list_up_to) {
  if (const auto near = closest(word, candidates)) return "did you mean '" + *near + "'?";
  if (candidates.empty() || candidates.size() > list_up_to) return "";
  std::string known = "known: ";
  for (const auto& candidate : candidates) known += (&candidate == candidates.data() ? "" : ", ") + candidate;
  return known;
}

}  // namespace leadline::text
