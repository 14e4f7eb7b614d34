// How far the engine's beliefs are from an independent sum in long double: the worst relative difference over networks and causes.
#include <cmath>
#include <cstdio>

#include "tests/bench/twins.h"

int main() {
  using namespace leadline;
  struct Row {
    std::size_t seen, abnormal;
    unsigned networks;
  };
  for (const auto [seen, abnormal, networks] : {Row{10, 4, 20}, Row{10, 8, 20}, Row{20, 8, 20}, Row{20, 10, 10}, Row{30, 12, 4}}) {
    double worst = 0, enumerated = 0;
    bool exact = true;
    for (unsigned seed = 1; seed <= networks; ++seed) {
      const auto network = bench::two_layers(seed, 100, 200, 5, seen, abnormal);
      const auto found = diagnosis::beliefs(network.model, network.evidence);
      const auto wanted = bench::beliefs_by_subsets(network);
      const auto capped = bench::beliefs_by_enumeration(network, 2);
      exact = exact && found.exact;
      for (std::size_t i = 0; i < wanted.size(); ++i) {
        worst = std::max(worst, std::abs(found.belief[i] / static_cast<double>(wanted[i]) - 1));
        enumerated = std::max(enumerated, std::abs(capped[i] - static_cast<double>(wanted[i])));
      }
    }
    std::printf("%2zu seen, %2zu abnormal, %2u networks: worst relative error %.1e%s; enumeration up to pairs is off by up to %.2g\n", seen, abnormal, networks, worst,
                exact ? "" : " (not exact)", enumerated);
  }
}
