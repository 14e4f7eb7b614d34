#pragma once
// The two bounds on the number of tests that a search without error needs.
#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <queue>
#include <vector>

namespace leadline::planning {

// Bits of the distribution; the weights need not add up to 1.
inline double entropy_bits(const std::vector<double>& weight) {
  const double total = std::accumulate(weight.begin(), weight.end(), 0.0);
  double bits = 0;
  for (const double w : weight) bits -= w > 0 ? w / total * std::log2(w / total) : 0;
  return bits;
}

// The least mean number of questions with so many answers when every way to part the hypotheses may be asked (Huffman 1952).
inline double huffman_length(const std::vector<double>& weight, std::size_t answers) {
  std::priority_queue<double, std::vector<double>, std::greater<>> open(std::greater<>{}, weight);
  while ((open.size() - 1) % (answers - 1) != 0) open.push(0);
  double sum = 0;
  while (open.size() > 1) {
    double joined = 0;
    for (std::size_t i = 0; i < answers; ++i) joined += open.top(), open.pop();
    open.push(joined);
    sum += joined;
  }
  return sum / open.top();
}

}  // namespace leadline::planning
