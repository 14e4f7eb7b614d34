// How near plans come to the exact optimum with all their work allowed, and how long a plan of a large problem takes. Asserts nothing; the figures
// are in docs/planning.md. The bar for the first is asserted, with a tenth of the work, by tests/planning/optimum_test.cpp.
#include <algorithm>
#include <cstdio>
#include <ctime>
#include <map>

#include "tests/planning/optimum.h"
#include "tests/planning/random_problems.h"

namespace leadline::planning {
namespace {

double cpu_milliseconds() { return 1e3 * static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

void print_ratios(std::uint64_t problems, std::size_t most_work) {
  double sum = 0, worst = 0;
  std::map<int, int> by_percent;
  for (std::uint64_t seed = 1; seed <= problems; ++seed) {
    const auto problem = small_problem(seed, 300'000);
    const double followed = minutes_following(problem, [&](const RepairProblem& p) { return plan(p, {.most_work = most_work}).options.front(); });
    const double ratio = followed / least_minutes(problem);
    sum += ratio, worst = std::max(worst, ratio);
    ++by_percent[static_cast<int>(std::ceil((ratio - 1) * 100 - 1e-7))];
  }
  std::printf("%zu steps of work: ratio to the optimum, mean %.5f, worst %.4f;", most_work, sum / static_cast<double>(problems), worst);
  for (const auto& [percent, count] : by_percent) std::printf(" up to 1.%02d: %d", percent, count);
  std::printf("\n");
}

void print_times(std::uint64_t problems, std::size_t most_work) {
  std::vector<double> times;
  double expected = 0, without = 0;
  for (std::uint64_t seed = 1; seed <= problems; ++seed) {
    const auto problem = large_problem(seed);
    const double begun = cpu_milliseconds();
    const auto found = plan(problem, {.most_work = most_work});
    times.push_back(cpu_milliseconds() - begun);
    expected += found.options.front().expected, without += found.without_checks.minutes;
  }
  std::sort(times.begin(), times.end());
  const auto n = static_cast<double>(problems);
  std::printf("%zu steps of work: CPU ms median %.2f, 90th %.2f, 99th centile %.2f; minutes promised %.1f, without checks %.1f\n", most_work,
              times[times.size() / 2], times[times.size() * 9 / 10], times[times.size() * 99 / 100], expected / n, without / n);
}

}  // namespace
}  // namespace leadline::planning

int main() {
  const std::size_t usual = leadline::planning::PlanOptions{}.most_work;
  std::printf("300 small problems, the plan followed to the end\n");
  for (const std::size_t work : {std::size_t{0}, usual / 10, usual}) leadline::planning::print_ratios(300, work);
  std::printf("200 large problems: 120 hypotheses, 110 checks, 60 remedies\n");
  for (const std::size_t work : {usual / 10, usual, 10 * usual}) leadline::planning::print_times(200, work);
}
