#include "cli/expect_page.h"

#include <algorithm>
#include <cmath>

#include "cli/circuit_drawing.h"
#include "cli/phrases.h"
#include "engine/diagnosis/model.h"

namespace leadline::cli {

namespace {

using circuit::Expectation;
using circuit::Expected;
using circuit::Tie;
using knowledge::KnowledgeBase;

constexpr auto cannot_be_told = "cannot be told: no current flows";

struct Measured {
  std::size_t finding;
  Tie tie;
};

// The measurements taken under one condition of one circuit, in the order of the knowledge base.
std::vector<Measured> measured_under(const KnowledgeBase& base, const Expectation& expectation, std::size_t circuit, std::size_t condition) {
  std::vector<Measured> found;
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    const auto tie = expectation.tie_of(j);
    if (!tie || tie->circuit != circuit) continue;
    const auto& bench = *expectation.bench(circuit);
    if (bench.condition_of(bench.measures()[tie->measure]) == condition) found.push_back({j, *tie});
  }
  return found;
}

// What varies about next to nothing would be called "-60 mV to 0.7 V": nobody reads less than nothing there.
std::string range_words(const Expected& expected, knowledge::Unit unit) {
  if (!expected.told()) return cannot_be_told;
  const bool about_nothing = expected.low < 0 && expected.middle >= -expected.high;
  const auto low = reading_words(about_nothing ? 0 : expected.low, unit), high = reading_words(expected.high, unit);
  return low == high ? low : low + " to " + high;
}

// Most frequent first; of causes with one title-less difference the book's order decides.
std::vector<std::size_t> by_frequency(const KnowledgeBase& base, std::vector<std::size_t> causes) {
  std::stable_sort(causes.begin(), causes.end(), [&](auto a, auto b) { return base.causes[a].per_thousand > base.causes[b].per_thousand; });
  return causes;
}

void add_measurement(Page& page, const KnowledgeBase& base, const Expectation& expectation, const Measured& measured, std::size_t most) {
  const auto& finding = base.findings[measured.finding];
  page.line(finding.title, 2);
  page.item("healthy:", expected_words(circuit::expected(expectation, measured.tie, {}), *finding.unit), 4);
  const auto causes = by_frequency(base, circuit::causes_shown_by(base, expectation, measured.tie));
  for (std::size_t c = 0; c < std::min(most, causes.size()); ++c) {
    page.item("-", base.causes[causes[c]].title + ": " + range_words(circuit::expected(expectation, measured.tie, {causes[c]}), *finding.unit), 6);
  }
  if (causes.size() > most) page.line("- and " + count_words(causes.size() - most, "other cause", "other causes") + " (--all)", 6);
}

void add_conditions(Page& page, const KnowledgeBase& base, const Expectation& expectation, std::size_t most) {
  for (std::size_t k = 0; k < expectation.circuits(); ++k) {
    if (expectation.bench(k) == nullptr) continue;
    const auto& book = base.circuits[k];
    for (std::size_t c = 0; c < book.conditions.size(); ++c) {
      const auto measured = measured_under(base, expectation, k, c);
      if (measured.empty()) continue;
      page.heading("With " + book.conditions[c].title + ":");
      for (const auto& one : measured) add_measurement(page, base, expectation, one, most);
    }
  }
}

void add_troubles(Page& page, const Expectation& expectation) {
  for (const auto& trouble : expectation.troubles()) {
    page.heading("Not computed: " + trouble.what + (trouble.hint.empty() ? "" : "; " + trouble.hint) + ".");
  }
}

// The condition under which most flows: the one worth drawing.
std::size_t telling_condition(const circuit::Bench& bench, std::size_t conditions) {
  std::size_t best = 0;
  double most = -1;
  for (std::size_t c = 0; c < conditions; ++c) {
    double sum = 0;
    for (const auto& reading : bench.part_readings(c, circuit::numbers_of(bench.healthy()))) sum += std::abs(reading.amp);
    if (sum > most) most = sum, best = c;
  }
  return best;
}

void add_drawings(Page& page, const KnowledgeBase& base, const Expectation& expectation) {
  for (std::size_t k = 0; k < expectation.circuits(); ++k) {
    const auto* bench = expectation.bench(k);
    if (bench == nullptr) continue;
    const auto condition = telling_condition(*bench, base.circuits[k].conditions.size());
    page.heading(base.circuits[k].title + ", with " + base.circuits[k].conditions[condition].title + ":");
    page.append(circuit_drawing(*bench, condition, page.width()));
  }
}

std::string fact_words(const KnowledgeBase& base, const std::string& path) {
  const auto at = knowledge::find_fact(base, path);
  return at && !base.facts[*at].ask.empty() ? base.facts[*at].ask : path;
}

std::string with_unit_of(const KnowledgeBase& base, const std::string& path, const std::string& value) {
  const auto at = knowledge::find_fact(base, path);
  if (!at) return value;
  for (const auto& choice : base.facts[*at].choices) {
    if (choice.id == value && base.facts[*at].type == knowledge::FactType::choice) return choice.words;
  }
  return value + (base.facts[*at].unit.empty() ? "" : " " + base.facts[*at].unit);
}

void add_assumptions(Page& page, const KnowledgeBase& base, const installation::Installation& installation) {
  const auto weights = circuit::assumptions_that_matter(base, installation);
  if (weights.empty()) return;
  page.heading("Assumed, for nobody stated it, and how much it matters:");
  for (const auto& weight : weights) {
    const auto& finding = base.findings[weight.finding];
    page.item("-", fact_words(base, weight.path) + " Taken: " + with_unit_of(base, weight.path, weight.assumed) + ". Were it " +
                       with_unit_of(base, weight.path, weight.instead) + ": " + finding.title + " " + reading_words(weight.then.middle, *finding.unit) + " in place of " +
                       reading_words(weight.now.middle, *finding.unit) + ".");
  }
}

// What the book writes of a band under the cause, here.
std::string written_words(const knowledge::Cause& cause, std::size_t finding, std::size_t state, const installation::Evaluation& evaluation) {
  double chance = 0;
  for (const auto& rule : cause.rules) {
    if (rule.finding.index == finding && rule.state == state && evaluation.holds(rule.when)) chance = std::max(chance, rule.chance);
  }
  return chance > 0 ? percent(chance) : "-";
}

void add_bands(Page& page, const knowledge::Finding& finding, std::size_t index, const std::vector<double>& computed, const knowledge::Cause& cause,
               const installation::Evaluation& evaluation) {
  for (std::size_t s = 1; s < finding.states.size(); ++s) {
    const auto written = written_words(cause, index, s, evaluation);
    if (computed[s] < 0.005 && written == "-") continue;
    page.item("band", finding.states[s].words + ": computed " + percent(computed[s]) + ", written " + written, 6);
  }
}

}  // namespace

std::string expected_words(const Expected& expected, knowledge::Unit unit) {
  if (!expected.told()) return cannot_be_told;
  const bool nothing = expected.middle < 0 && expected.high > 0;
  return reading_words(nothing ? 0 : expected.middle, unit) + " (" + range_words(expected, unit) + ")";
}

Page expect_page(const KnowledgeBase& base, const installation::Installation& installation, std::size_t most, std::size_t width) {
  const Expectation expectation(base, installation::Evaluation(base, installation));
  Page page(width);
  page.line("What should be read in " + (installation.name().empty() ? std::string("this boat") : installation.name()) +
            ". In brackets: nine readings of ten lie there. Under a cause: the range over all sizes of the fault.");
  page.line("Precautions come before every measurement: 'leadline show' on the check names them.");
  add_troubles(page, expectation);
  add_conditions(page, base, expectation, most);
  add_drawings(page, base, expectation);
  add_assumptions(page, base, installation);
  page.blank().line("Leadline advises; local codes and licensed practice come first.");
  return page;
}

Page expect_cause_page(const KnowledgeBase& base, const installation::Installation& installation, knowledge::Ref<knowledge::Cause> cause, std::size_t width) {
  const installation::Evaluation evaluation(base, installation);
  const auto boat = diagnosis::build_model(base, evaluation);
  const auto& expectation = *boat.expectation;
  Page page(width);
  page.line("What should be read in " + (installation.name().empty() ? std::string("this boat") : installation.name()) + ", healthy and with: " + base[cause].title);
  add_troubles(page, expectation);
  bool any = false;
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    const auto tie = expectation.tie_of(j);
    if (!tie || !boat.finding_applies[j] || !expectation.governs(cause.index, tie->circuit)) continue;
    const auto healthy = circuit::expected(expectation, *tie, {}), under = circuit::expected(expectation, *tie, {cause.index});
    const auto chances = diagnosis::computed_chances(base.findings[j], expectation, *tie, cause.index, boat.band_limits[j]);
    const bool written = std::any_of(base[cause].rules.begin(), base[cause].rules.end(), [&](const auto& rule) { return rule.finding.index == j; });
    const bool changed = circuit::tells_apart(healthy, under) || std::any_of(chances.begin(), chances.end(), [](double p) { return p > 0.1; });
    if (!changed && !written) continue;
    any = true;
    page.blank().line(base.findings[j].title, 2);
    page.item("healthy:   ", expected_words(healthy, *base.findings[j].unit), 4);
    page.item("with cause:", expected_words(under, *base.findings[j].unit), 4);
    add_bands(page, base.findings[j], j, chances, base[cause], evaluation);
  }
  if (!any) page.heading("No measurement that a circuit describes would show it in this boat: it is electrically invisible here, or does not exist here.");
  page.blank().line("Leadline advises; local codes and licensed practice come first.");
  return page;
}

}  // namespace leadline::cli
