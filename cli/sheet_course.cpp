// How belief went, answer by answer. Tested by tests/cli/sheet_test.cpp.
#include <algorithm>
#include <map>

#include "cli/phrases.h"
#include "cli/sheet_parts.h"

namespace leadline::cli {

namespace {

using callout::Assessment;
using callout::Record;
using Causes = std::vector<std::size_t>;  // of the model

constexpr std::size_t most_lines = 5;

struct Look {
  std::string label, words;
  std::map<Causes, double> beliefs;
};

Look look(const Assessment& assessment, std::string label, std::string words) {
  Look taken{std::move(label), std::move(words), {}};
  for (const auto& explanation : assessment.diagnosis().explanations) taken.beliefs[explanation.causes] = explanation.probability;
  return taken;
}

// Those that ever stood highest, the leaders of the end and of the time before the first remedy among them; the end's order comes first.
std::vector<Causes> lines_to_draw(const std::vector<Look>& looks, const std::vector<Causes>& always) {
  std::map<Causes, double> peak;
  for (const auto& taken : looks) {
    for (const auto& [causes, belief] : taken.beliefs) peak[causes] = std::max(peak[causes], belief);
  }
  for (const auto& causes : always) peak[causes] = 2;
  std::vector<std::pair<double, Causes>> order;
  for (const auto& [causes, belief] : peak) order.emplace_back(-belief, causes);
  std::stable_sort(order.begin(), order.end());
  std::vector<Causes> lines;
  for (std::size_t i = 0; i < std::min(most_lines, order.size()); ++i) lines.push_back(order[i].second);
  const auto& end = looks.back().beliefs;
  const auto at_end = [&](const Causes& causes) { return end.contains(causes) ? end.at(causes) : 0.0; };
  std::stable_sort(lines.begin(), lines.end(), [&](const auto& a, const auto& b) { return at_end(a) > at_end(b); });
  return lines;
}

}  // namespace

Sheet::Explanation sheet_explanation(const Assessment& assessment, const diagnosis::Explanation& explanation) {
  Sheet::Explanation row{{}, assessment.title_of(explanation), explanation.probability};
  for (const auto cause : explanation.causes) {
    const auto& ref = assessment.boat().cause_refs[cause];
    row.causes.push_back(ref ? assessment.base()[*ref].id : "");
  }
  return row;
}

void add_course(Sheet& sheet, const Assessment& whole, AtTheRemedy then) {
  const auto& record = whole.record();
  Record so_far{record.title, record.installation, record.role, record.instrument, {}, {}, record.bounds, {}};
  Assessment assessment(whole, so_far);
  std::vector<Look> looks{look(assessment, "", "before anything was told")};
  std::vector<Causes> always;
  const auto at_the_remedy = [&] {
    then(sheet, assessment);
    if (!assessment.diagnosis().explanations.empty()) always.push_back(assessment.diagnosis().explanations.front().causes);
  };
  const auto remedies_upto = [&](std::size_t answers) {
    while (so_far.remedies.size() < record.remedies.size() && record.remedies[so_far.remedies.size()].after <= answers) {
      if (so_far.remedies.empty()) at_the_remedy();
      so_far.remedies.push_back(record.remedies[so_far.remedies.size()]);
      assessment.update();
      looks.push_back(look(assessment, "remedy " + std::to_string(so_far.remedies.size()), whole.base()[so_far.remedies.back().remedy].title));
    }
  };
  remedies_upto(0);
  for (std::size_t i = 0; i < record.answers.size(); ++i) {
    so_far.answers.push_back(record.answers[i]);
    assessment.update();
    looks.push_back(look(assessment, std::to_string(i + 1), finding_words(sheet.findings[i])));
    remedies_upto(i + 1);
  }
  if (record.remedies.empty()) at_the_remedy();
  if (!assessment.diagnosis().explanations.empty()) always.push_back(assessment.diagnosis().explanations.front().causes);
  const auto lines = lines_to_draw(looks, always);
  for (const auto& causes : lines) sheet.course.titles.push_back(assessment.title_of({causes, 0}));
  for (auto& taken : looks) {
    Sheet::Moment moment{std::move(taken.label), std::move(taken.words), {}};
    for (const auto& causes : lines) moment.beliefs.push_back(taken.beliefs.contains(causes) ? taken.beliefs.at(causes) : 0.0);
    sheet.course.moments.push_back(std::move(moment));
  }
}

}  // namespace leadline::cli
