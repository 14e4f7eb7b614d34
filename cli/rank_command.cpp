// leadline rank: a recorded call-out in, a ranking out. Tested by tests/cli/commands_test.cpp and the golden call-outs.
#include "cli/case_input.h"
#include "cli/circuit_words.h"
#include "cli/step_page.h"
#include "cli/files.h"
#include "cli/phrases.h"
#include "cli/question_page.h"
#include "cli/rank_json.h"
#include "cli/ranking_page.h"
#include "cli/session.h"

namespace leadline::cli {

namespace {

void add_next_step(Page& page, const callout::Assessment& assessment) {
  const auto advice = planning::advise(assessment.job(assessment.circumstances()));
  const auto& first = advice.proposals.front();
  if (first.act == planning::Act::give_up) page.heading("Nothing that may be done here is worth its minutes any more.");
  else page.blank().append(step_page(assessment, first, advice, "Next check: ", page.width()));
}

void add_remedies(Page& page, const callout::Assessment& assessment) {
  const auto& explanations = assessment.diagnosis().explanations;
  if (explanations.empty()) return;
  const auto remedies = planning::remedies_for(assessment.base(), assessment.boat(), assessment.evaluation(), explanations.front());
  if (!remedies.empty()) page.heading("Remedies of the first explanation:");
  for (const auto ref : remedies) {
    const auto& remedy = assessment.base()[ref];
    page.item("-", remedy.title + " (leadline show " + remedy.id + ")" + (assessment.barred(ref) ? ". " + barred_words(assessment.record().role) : ""));
  }
}

Page rank_page(const callout::Assessment& assessment, std::size_t most, std::size_t width) {
  Page page(width);
  page.line(assessment.record().title);
  if (const auto standing = at_once_standing_page(assessment, width); !standing.empty()) page.blank().append(standing);
  page.blank().append(answers_page(assessment, false, width));
  page.blank().append(ranking_page(assessment, most, width));
  if (!assessment.diagnosis().explanations.empty()) page.blank().append(reasons_page(assessment, 0, 10, true, width)).append(legend_page(assessment, width));
  if (!assessment.diagnosis().explanations.empty()) page.blank().append(sizes_page(assessment, 0, width));
  if (const auto disagreement = disagreement_page(assessment, width); !disagreement.empty()) page.blank().append(disagreement);
  add_next_step(page, assessment);
  add_remedies(page, assessment);
  page.blank().line("Leadline advises; local codes and licensed practice come first.");
  return page;
}

}  // namespace

ExitCode run_rank(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  const auto record = case_from(session, base, read_file_or(line.operands.front(), session.in));
  const callout::Assessment assessment(base, record);
  const std::size_t most = line.has("all") ? assessment.diagnosis().explanations.size() : shown_explanations;
  // JSON is ASCII in every locale: the same bytes everywhere.
  if (line.has("json")) session.out << rank_json(assessment, most);
  else session.print(rank_page(assessment, most, session.width));
  return disagree(assessment) ? done_with_findings : done;
}

}  // namespace leadline::cli
