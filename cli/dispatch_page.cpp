#include "cli/dispatch_page.h"

#include <algorithm>

#include "cli/phrases.h"
#include "engine/planning/dispatch.h"

namespace leadline::cli {

namespace {

using knowledge::Who;
using planning::Dispatch;
using planning::Thing;
using planning::ThingKind;

constexpr double nine_in_ten = 0.9;
constexpr std::size_t most_named = 12, most_left_out = 3, most_warnings = 6;
constexpr double worth_naming = 0.005;

std::string whom(const Dispatch& dispatch) {
  if (dispatch.who == Who::owner) return "nobody need come for what is likely: the customer can put it right himself, told by telephone";
  // Of a specialist how much hangs on his being one; a technician is needed for all that the customer cannot do.
  const bool specialist = dispatch.who == Who::specialist;
  const auto one = specialist ? "a specialist (for " + percent(dispatch.for_the_role) + "; for the rest a technician will do)" : std::string("a technician");
  const auto crew = dispatch.second_person ? one + " and a second pair of hands (for " + percent(dispatch.for_the_second) + ")" : one + (specialist ? ", alone" : ", who can do it alone");
  return crew + (dispatch.ashore ? "; the boat must come out of the water (for " + percent(dispatch.for_the_lift) + ")" : "");
}

std::string thing_words(const knowledge::KnowledgeBase& base, const Thing& thing) {
  if (thing.kind == ThingKind::tool) return base.tools[thing.index].title;
  if (thing.kind == ThingKind::arrangement) return "arranged beforehand, for '" + base.remedies[thing.index].title + "': " + minutes_words(thing.minutes);
  return thing.words;
}

void add_things(Page& page, const knowledge::KnowledgeBase& base, const std::vector<Thing>& things, bool parts) {
  std::size_t named = 0, more = 0;
  for (const auto& thing : things) {
    if ((thing.kind == ThingKind::tool) == parts) continue;
    const bool worth_a_line = !parts || (named < most_named && thing.hangs_on_it >= worth_naming);  // nobody goes without his tools
    if (worth_a_line) ++named, page.item("-", thing_words(base, thing) + " (for " + percent(thing.hangs_on_it) + ")");
    else ++more;
  }
  if (more == 0) return;
  page.line("And " + std::to_string(more) + " more, each for less." + (more <= most_named ? "" : " With so many in question too little is known yet: ask on, or send somebody to measure "
            "first, with the usual bag and what is in the van."), 2);
}

bool any(const std::vector<Thing>& things, bool parts) {
  return std::any_of(things.begin(), things.end(), [&](const auto& t) { return (t.kind != ThingKind::tool) == parts; });
}

void add_tools(Page& page, const knowledge::KnowledgeBase& base, const Dispatch& dispatch) {
  if (any(dispatch.things, false)) page.heading("Tools beyond the usual bag:");
  add_things(page, base, dispatch.things, false);
  std::vector<std::string> usual;
  for (const auto tool : dispatch.usual_tools) usual.push_back(base[tool].title);
  if (!usual.empty()) page.line("Of the usual bag above all: " + listed(usual) + ".");
  if (any(dispatch.things, true)) page.heading("Parts, and what is arranged beforehand:");
  add_things(page, base, dispatch.things, true);
}

void add_share(Page& page, const callout::Assessment& assessment, const Dispatch& dispatch) {
  const bool reached = dispatch.share >= nine_in_ten;
  page.heading("How far that reaches:");
  page.line("It serves " + percent(dispatch.share) + " of what it may be" + ". Repairs that do not help reckoned in, " + percent(dispatch.mended) + " of such jobs are mended in one visit." +
                (reached ? "" : " Nine in ten are out of reach, or would ask for nearly everything there is."), 2);
  std::size_t named = 0;
  for (const auto e : dispatch.left_out) {
    const auto& explanation = assessment.diagnosis().explanations[e];
    if (named == most_left_out || explanation.probability < worth_naming) break;
    if (named++ == 0) page.line("Not served:", 2);
    page.item("-", assessment.title_of(explanation) + " (" + percent(explanation.probability) + ")", 4);
  }
}

void add_meanwhile(Page& page, const callout::Assessment& assessment, const Dispatch& dispatch) {
  page.heading("Until then, read aloud:");
  std::size_t said = 0;
  for (const auto* told : callout::at_once_now(assessment.base(), assessment.record())) page.item("!", told->words);
  for (const auto ref : dispatch.meanwhile) {
    if (said++ < most_warnings) page.item("!", assessment.base()[ref].meanwhile);
  }
  page.item("!", "If something smokes, smells burnt or gets hot: switch it off, keep away, and call for help.");
}

Page page_of(const callout::Assessment& assessment, const Dispatch& dispatch, std::size_t width) {
  Page page(width);
  page.line("Dispatch: " + whom(dispatch) + ".");
  add_tools(page, assessment.base(), dispatch);
  add_share(page, assessment, dispatch);
  add_meanwhile(page, assessment, dispatch);
  return page;
}

}  // namespace

Page dispatch_page(const Conversation& conversation, std::size_t width) {
  return page_of(conversation.assessment(), planning::dispatch_for(conversation.job(), nine_in_ten), width);
}

Page dispatch_page(const callout::Assessment& assessment, std::size_t width) {
  return page_of(assessment, planning::dispatch_for(assessment.job(assessment.circumstances()), nine_in_ten), width);
}

}  // namespace leadline::cli
