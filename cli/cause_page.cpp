#include "cli/cause_page.h"

#include <algorithm>
#include <cmath>

#include "cli/condition_words.h"
#include "cli/phrases.h"
#include "cli/sources_page.h"
#include "engine/knowledge/chance.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

using knowledge::Cause;
using knowledge::KnowledgeBase;
using knowledge::Ref;

constexpr std::size_t most_checks = 6;

double log_odds(double chance) {
  const double p = std::clamp(chance, 0.001, 0.999);
  return std::log(p / (1 - p));
}

std::string capital(std::string words) {
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - 'a' + 'A');
  return words;
}

std::string sign_words(const KnowledgeBase& base, const Yardstick& yardstick, const Sign& sign) {
  const auto& finding = base[sign.finding];
  const auto limits = limit_words(finding, yardstick.boat.band_limits[sign.finding.index], sign.state);
  const bool conditional = !yardstick.given && sign.rule != nullptr && sign.rule->when;
  return finding.title + ": " + finding.states[sign.state].words + (limits.empty() ? "" : " (" + limits + ")") +
         (conditional ? ", where " + condition_words(base, sign.rule->when->text) : "");
}

void add_signs(Page& page, const KnowledgeBase& base, const Yardstick& yardstick, Ref<Cause> cause) {
  page.heading("How it shows:");
  std::string group;
  for (const auto& sign : signs_of(base, yardstick, cause)) {
    if (const auto word = often_words(sign.chance); word != group) page.line(capital(word) + ":", 2), group = word;
    page.item("-", sign_words(base, yardstick, sign), 4);
  }
}

void add_precautions_first(Page& page, const KnowledgeBase& base, const std::vector<Ref<knowledge::Precaution>>& precautions) {
  if (precautions.empty()) return;
  std::vector<std::string> titles;
  for (const auto ref : precautions) titles.push_back(base[ref].title);
  std::string words;
  for (const auto& title : titles) words += (words.empty() ? "" : "; ") + title;
  page.item("!", "First: " + words + ".", 5);
}

void add_confirmations(Page& page, const KnowledgeBase& base, const Yardstick& yardstick, Ref<Cause> cause) {
  const auto telling = telling_checks(base, yardstick, cause);
  page.heading("How it is confirmed, the most telling check first:");
  if (telling.empty()) page.line("No check tells it from other faults: see what it is confused with.", 2);
  for (std::size_t i = 0; i < std::min(most_checks, telling.size()); ++i) {
    const auto& check = base[telling[i].check];
    page.item(std::to_string(i + 1) + ".", check.title + " (" + check.id + ")");
    add_precautions_first(page, base, check.precautions);
    page.line(capital(check.where) + ", " + minutes_words(check.effort.minutes) + ", " + who_may(check.who) + "; " + strength(telling[i].weight) + ".", 5);
  }
  if (telling.size() > most_checks) page.line("and " + count_words(telling.size() - most_checks, "other check that tells", "other checks that tell") + " less.", 2);
}

void add_remedies(Page& page, const KnowledgeBase& base, const Cause& cause) {
  page.heading(cause.mends.size() > 1 ? "How it is mended, by any of these:" : "How it is mended:");
  for (const auto& mend : cause.mends) {
    const auto& remedy = base[mend.remedy];
    page.item("-", remedy.title + " (" + remedy.id + ")");
    add_precautions_first(page, base, remedy.precautions);
    page.line(minutes_words(remedy.effort.minutes) + (remedy.fetch > 0 ? " and " + minutes_words(remedy.fetch) + " to fetch what it takes" : "") + ", " + who_may(remedy.who) +
                  "; " + often_words(mend.chance) + " the end of it.", 5);
  }
  page.line("Precautions in full and the steps: leadline show, with the name in brackets.", 2);
}

void add_proofs(Page& page, const KnowledgeBase& base, const Cause& cause) {
  page.heading("What proves it mended:");
  std::vector<std::string> said;
  for (const auto& mend : cause.mends) {
    for (const auto& proof : base[mend.remedy].proofs) {
      const auto words = base[proof.check].title + ": " + proof.words;
      if (std::find(said.begin(), said.end(), words) != said.end()) continue;
      page.item("-", words);
      said.push_back(words);
    }
  }
}

void add_confusions(Page& page, const KnowledgeBase& base, const Yardstick& yardstick, Ref<Cause> cause) {
  if (base[cause].confusions.empty()) return;
  page.heading("What it is confused with, and how to tell:");
  for (const auto& confusion : base[cause].confusions) {
    page.item("-", base[confusion.with].title + " (" + base[confusion.with].id + "): " + confusion.words + ".");
    const bool both_here = yardstick.given || yardstick.evaluation.holds(base[confusion.with].applies);
    const auto parting = both_here ? parting_check(base, yardstick, cause, confusion.with)
                                   : parting_check(base, yardstick_for(base, std::nullopt, {cause, confusion.with}), cause, confusion.with);
    page.line(parting ? "Best told apart by: " + base[parting->check].title + " (" + base[parting->check].id + ")." : "No check tells them apart.", 4);
  }
}

void add_frequency(Page& page, const KnowledgeBase& base, const Yardstick& yardstick, const Cause& cause) {
  page.heading("How often:");
  page.line("The fault in about " + text::format_number(cause.per_thousand, 2) + " of 1,000 call-outs on boats where it can be.", 2);
  for (const auto& adjustment : cause.adjustments) {
    const bool holds = yardstick.given && yardstick.evaluation.holds(adjustment.when);
    page.item("-", (adjustment.times == 0 ? std::string("never") : text::format_number(adjustment.times, 3) + " times that") + ", where " +
                       condition_words(base, adjustment.when.text) + (holds ? ": so it is in this boat" : ""));
  }
}

void add_head(Page& page, const KnowledgeBase& base, const Yardstick& yardstick, const Cause& cause) {
  page.line(cause.title);
  page.line("What is wrong: the " + cause.item + ". Cause " + cause.id + ", " + place_words(cause.place), 2);
  const bool here = yardstick.evaluation.holds(cause.applies);
  if (cause.applies && !(yardstick.given && here)) page.line("Only where " + condition_words(base, cause.applies->text) + ".", 2);
  if (yardstick.given && !here) page.line("So it cannot be in this boat.", 2);
}

}  // namespace

std::string often_words(double chance) {
  std::string best;
  double nearest = 0;
  for (const auto& word : knowledge::chance_words()) {
    const double distance = std::abs(log_odds(*knowledge::chance_of(word)) - log_odds(chance));
    if (best.empty() || distance < nearest) best = word, nearest = distance;
  }
  if (best == "always") return "practically always";  // 0.99: nothing aboard is more certain
  std::replace(best.begin(), best.end(), '-', ' ');
  return best;
}

Page cause_page(const KnowledgeBase& base, Ref<Cause> ref, const Yardstick& yardstick, std::size_t width) {
  const auto& cause = base[ref];
  Page page(width);
  add_head(page, base, yardstick, cause);
  page.heading("What it is:").line(cause.what, 2);
  page.heading("Why it happens:").line(cause.why, 2);
  add_signs(page, base, yardstick, ref);
  if (!yardstick.given) page.line(std::string("Figures in brackets: a boat as most are") + (cause.applies ? ", of those where this can be" : "") + ". With --installation FILE: yours.", 2);
  add_confirmations(page, base, yardstick, ref);
  add_remedies(page, base, cause);
  add_proofs(page, base, cause);
  add_confusions(page, base, yardstick, ref);
  add_frequency(page, base, yardstick, cause);
  add_origins(page, base, cause.sources, knowledge::numbers_of(base, cause));
  page.line("Every number with its source: leadline show " + cause.id + " --sources", 2);
  page.blank().line("Leadline advises; local codes and licensed practice come first.");
  return page;
}

}  // namespace leadline::cli
