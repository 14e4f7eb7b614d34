#include "cli/step_page.h"

#include <algorithm>
#include <cmath>

#include "cli/circuit_words.h"
#include "cli/final_page.h"
#include "cli/phrases.h"
#include "cli/ranking_page.h"

namespace leadline::cli {

namespace {

using planning::Act;
using planning::Hindrance;

constexpr double saves_something = 0.5;   // minutes; less reads as nothing
constexpr std::size_t most_helpful = 4, most_in_order = 5;

bool first_of(const planning::Proposal& proposal, const planning::Advice& advice) {
  return !advice.proposals.empty() && advice.proposals.front().expected >= proposal.expected - saves_something;
}

// Why a remedy comes before every check.
std::string no_check_words(const planning::Proposal& remedy, const planning::Advice& advice) {
  const auto best = std::min_element(advice.proposals.begin(), advice.proposals.end(), [](const auto& a, const auto& b) { return a.expected < b.expected; });
  const double saved = remedy.expected - best->expected;
  return saved < saves_something ? "; no further check would save time." : "; no further check would save more than " + whole_minutes(saved) + ".";
}

}  // namespace

Page figures_page(const planning::Proposal& proposal, const planning::Advice& advice, std::size_t width) {
  Page page(width);
  if (proposal.act != Act::give_up) {
    page.line(whole_minutes(proposal.minutes) + " from here: the way, making ready and " + (proposal.act == Act::check ? "the check itself." : "the proof included."), 2);
  }
  const auto average = "On average " + whole_minutes(proposal.expected) + " to a thruster proved to work";
  if (proposal.act == Act::check) {
    const bool saves = proposal.saved >= saves_something;
    page.line(average + (saves ? "; this check first saves " + whole_minutes(proposal.saved) + " against mending on suspicion." : "; this check saves no time."), 2);
  } else if (proposal.act == Act::remedy) {
    page.line(average + (first_of(proposal, advice) ? no_check_words(proposal, advice) : "."), 2);
  }
  if (!first_of(proposal, advice)) page.line("(The best there is takes " + whole_minutes(advice.proposals.front().expected) + ".)", 2);
  return page;
}

Page pointless_page(const callout::Assessment& assessment, const planning::Advice& advice, std::size_t width) {
  Page page(width);
  if (advice.one_for_all) page.line("All that is likely is mended by the same remedy: telling it apart further is pointless.");
  if (advice.not_told_apart) {
    const auto& explanations = assessment.diagnosis().explanations;
    const auto &one = explanations[advice.not_told_apart->first], &other = explanations[advice.not_told_apart->second];
    const auto remedies = [&](const auto& e) { return planning::remedies_for(assessment.base(), assessment.boat(), assessment.evaluation(), e); };
    page.line("Nothing that can be done here tells '" + assessment.title_of(one) + "' from '" + assessment.title_of(other) + "': " +
              (remedies(one) == remedies(other) ? "the same remedy mends both." : "the remedy that gains more for its minutes comes first."));
  }
  return page;
}

std::string step_words(const knowledge::KnowledgeBase& base, const planning::Proposal& proposal) {
  const auto figures = " (" + whole_minutes(proposal.minutes) + "; " + whole_minutes(proposal.expected) + " to the end)";
  if (proposal.act == Act::check) return base[proposal.check].title + figures;
  if (proposal.act == Act::remedy) return "Remedy: " + base[proposal.remedy].title + figures;
  return "Call somebody else in" + figures;
}

Page step_page(const callout::Assessment& assessment, const planning::Proposal& proposal, const planning::Advice& advice, const std::string& label, std::size_t width) {
  Page page(width);
  const auto& base = assessment.base();
  if (proposal.act == Act::give_up) return page.append(pointless_page(assessment, advice, width));
  if (proposal.act == Act::check) page.append(check_page(base, base[proposal.check], label, width));
  else page.append(remedy_page(base, base[proposal.remedy], assessment.record().role, width));
  page.append(figures_page(proposal, advice, width));
  if (proposal.act == Act::check) {
    page.append(expected_readings_page(assessment, base[proposal.check], width)).append(outcomes_page(assessment, proposal, width));
  }
  return page.append(pointless_page(assessment, advice, width));
}

std::string obstacle_words(const knowledge::KnowledgeBase& base, const planning::Obstacle& obstacle, knowledge::Who needed) {
  switch (obstacle.why) {
    case Hindrance::role: return "for a " + who_words(needed);
    case Hindrance::tool: return "no " + base.tools[obstacle.index].title + " in the bag";
    case Hindrance::afloat: return "not while the boat floats";
    case Hindrance::ashore: return "not while the boat stands ashore";
    case Hindrance::dark: return "needs daylight";
    case Hindrance::engine: return "needs the engine running";
    case Hindrance::alone: return "needs a second person";
    case Hindrance::danger: return "not after what was reported: " + base.precautions[obstacle.index].title;
    case Hindrance::precondition: return "in the way: " + base.findings[obstacle.index].title;
    case Hindrance::none: break;
  }
  return "";
}

Page would_help_page(const callout::Assessment& assessment, const planning::Job& job, const planning::Advice& advice, std::size_t width) {
  Page page(width);
  auto helpful = planning::what_would_help(job, advice.proposals.front().expected);
  // What the boat itself forbids (no push, so nothing is read under full push; a smell of fire, so nobody pushes) nobody can bring along.
  std::erase_if(helpful, [](const auto& h) { return h.obstacle.why == Hindrance::precondition || h.obstacle.why == Hindrance::danger; });
  if (helpful.empty()) return page;
  page.line("What would have saved time, but cannot be done here:");
  for (std::size_t i = 0; i < std::min(most_helpful, helpful.size()); ++i) {
    const auto& check = assessment.base()[helpful[i].proposal.check];
    page.item("-", check.title + " (" + obstacle_words(assessment.base(), helpful[i].obstacle, check.who) + "; saves " + whole_minutes(helpful[i].proposal.saved) + ")");
  }
  return page;
}

Page order_page(const callout::Assessment& assessment, const planning::Advice& advice, std::size_t width) {
  Page page(width);
  if (advice.order.empty()) return page;
  page.line("Without a further check, these in this order (on average " + whole_minutes(advice.mending_only) + " to the end):");
  for (std::size_t i = 0; i < std::min(most_in_order, advice.order.size()); ++i) {
    const auto& remedy = assessment.base()[advice.order[i]];
    page.item(std::to_string(i + 1) + ".", remedy.title + " (leadline show " + remedy.id + ")");
  }
  page.line("Each with its precautions first: the page named in brackets has them.", 2);
  return page.line("If none of these helps: call somebody else in.", 2);
}

}  // namespace leadline::cli
