#include "cli/why_not_page.h"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "cli/condition_words.h"
#include "cli/phrases.h"
#include "cli/ranking_page.h"
#include "engine/text/spelling.h"

namespace leadline::cli {

namespace {

constexpr std::size_t most_named = 8;
constexpr double weight_that_shows = 0.5;   // decibans; less moves nobody

// Causes whose title and id hold all the words; the one of exactly that id or title alone.
std::vector<std::size_t> causes_named(const knowledge::KnowledgeBase& base, const std::string& words) {
  const auto wanted = normalised(words);
  std::vector<std::size_t> found;
  for (std::size_t c = 0; c < base.causes.size(); ++c) {
    const auto title = normalised(base.causes[c].title);
    if (base.causes[c].id == wanted || title == wanted) return {c};
    const auto all = title + " " + base.causes[c].id;
    std::istringstream parts(wanted);
    bool holds = true;
    for (std::string part; parts >> part;) holds = holds && all.find(part) != std::string::npos;
    if (holds) found.push_back(c);
  }
  return found;
}

Page not_one_page(const knowledge::KnowledgeBase& base, const std::string& words, const std::vector<std::size_t>& named, std::size_t width) {
  Page page(width);
  if (named.empty()) {
    const auto hint = text::suggestion(normalised(words), knowledge::ids_of(base.causes), 0);
    return page.line("No cause of the book has '" + words + "' in its name" + (hint.empty() ? "." : "; " + hint) + " 'leadline list cause' names them all.");
  }
  page.line("Which of these? 'why not' and more of its words, or its id:");
  for (std::size_t i = 0; i < std::min(most_named, named.size()); ++i) page.item("-", base.causes[named[i]].title + " (" + base.causes[named[i]].id + ")");
  if (named.size() > most_named) page.line("and " + count_words(named.size() - most_named, "more", "more") + ".", 2);
  return page;
}

std::string call_outs(double prior) { return prior < 0.001 ? "fewer than 1" : "about " + std::to_string(std::lround(prior * 1000)); }

void add_answers(Page& page, const callout::Assessment& assessment, const std::vector<diagnosis::Reason>& reasons, bool against) {
  const bool layman = assessment.record().role == knowledge::Who::owner;
  std::size_t shown = 0;
  for (const auto& reason : reasons) {
    const double weight = against ? -reason.weight_db : reason.weight_db;
    if (weight < weight_that_shows || shown == shown_explanations) continue;
    if (shown++ == 0) page.line(against ? "Against it:" : "For it:");
    page.item("-", said_about(assessment, reason.finding) + " (" + (layman ? strength(reason.weight_db) : decibans(reason.weight_db)) + ")");
  }
  if (shown == 0 && against) page.line("No answer speaks against it; it is only rarer.");
}

}  // namespace

Page why_not_page(const Conversation& conversation, const std::string& words, std::size_t width) {
  const auto& base = conversation.base();
  const auto& assessment = conversation.assessment();
  Page page(width);
  if (words.empty()) return page.line("Why not what? 'why not' and words of a cause, for instance 'why not blown fuse'.");
  const auto named = causes_named(base, words);
  if (named.size() != 1) return not_one_page(base, words, named, width);
  const auto& cause = base.causes[named.front()];
  const auto& refs = assessment.boat().cause_refs;
  const auto in_model = std::find_if(refs.begin(), refs.end(), [&](const auto& ref) { return ref && ref->index == named.front(); });
  if (in_model == refs.end()) {
    return page.line("'" + cause.title + "' cannot be on this boat" + (cause.applies ? ": it takes that " + condition_words(base, cause.applies->text) + "." : "."));
  }
  const auto at = static_cast<std::size_t>(in_model - refs.begin());
  const auto& diagnosis = assessment.diagnosis();
  page.line("'" + cause.title + "', alone or beside something else: " + percent(std::min(diagnosis.belief[at], 1.0)) + ".");
  const auto& causes = assessment.boat().model.causes;
  if (diagnosis.explanations.empty()) return page;
  const auto& leader = diagnosis.explanations.front();
  if (leader.causes == std::vector{at}) return page.line("It leads.").append(reasons_page(assessment, 0, shown_explanations, false, width)).append(legend_page(assessment, width));
  page.line("Before any answer it is the fault in " + call_outs(causes[at].prior) + " of 1000 call-outs to such a boat" +
            (leader.causes.size() == 1 ? ", '" + assessment.title_of(leader) + "', which leads, in " + call_outs(causes[leader.causes.front()].prior) : "") + ".");
  const auto reasons = assessment.reasons_between({at}, leader.causes);
  page.line("Held against '" + assessment.title_of(leader) + "':");
  add_answers(page, assessment, reasons, true);
  add_answers(page, assessment, reasons, false);
  if (assessment.record().role != knowledge::Who::owner && !reasons.empty()) page.line("(-10 dB: this answer makes it a tenth as likely beside the other)", 2);
  return page;
}

}  // namespace leadline::cli
