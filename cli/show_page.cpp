#include "cli/show_page.h"

#include <algorithm>
#include <deque>

#include "cli/cause_page.h"
#include "cli/condition_words.h"
#include "cli/final_page.h"
#include "cli/phrases.h"
#include "cli/ranking_page.h"
#include "cli/sources_page.h"

namespace leadline::cli {

namespace {

using knowledge::KnowledgeBase;

void add_head(Page& page, const std::string& kind, const std::string& id, const std::string& title, const text::Place& place) {
  page.line(title);
  page.line(kind + " " + id + ", " + place_words(place), 2);
}

void add_condition(Page& page, const KnowledgeBase& base, const std::optional<knowledge::Expression>& applies) {
  if (applies) page.line("Only where " + condition_words(base, applies->text) + ".", 2);
}

template <class T>
bool refers_to(const std::vector<T>& refs, std::size_t index) {
  return std::any_of(refs.begin(), refs.end(), [&](const auto& r) { return r.index == index; });
}

constexpr std::string_view usual_figures = "Figures: a boat as most are. With --installation FILE: yours. The rule behind each: --sources.";

void add_states(Page& page, const knowledge::Finding& finding, const std::vector<double>& limits, bool given) {
  page.heading(finding.is_reading() ? "Readings, lowest first:" : "What may be seen, the normal state first:");
  for (std::size_t i = 0; i < finding.states.size(); ++i) {
    const auto index = finding.is_reading() ? finding.bands[i] : i;
    const auto words = limit_words(finding, limits, index);
    page.item("-", finding.states[index].words + (words.empty() ? "" : ": " + words) + (finding.is_reading() && index == 0 ? ", the normal one" : ""));
  }
  if (finding.is_reading() && !given) page.line(usual_figures, 2);
}

// A cause that shows the finding in one state.
struct Shower {
  std::size_t cause = 0;
  double chance = 0;
  bool depends = false;  // on how the boat is built; the page of the cause says on what
};

// Of several rules for one state the strongest counts.
void add_shower(std::vector<Shower>& showers, std::size_t cause, const Sign& sign, bool given, bool elsewhere) {
  const bool depends = elsewhere || (!given && sign.rule != nullptr && sign.rule->when);
  const bool again = !showers.empty() && showers.back().cause == cause;
  if (!again) showers.push_back({cause, sign.chance, depends});
}

// The boats on which the causes of a reading are measured: the usual one, and others for causes that cannot be in it.
class Boats {
 public:
  Boats(const KnowledgeBase& base, const knowledge::Finding& finding, const Yardstick& usual) : base_(base), finding_(finding), usual_(usual) {}
  const Yardstick& boat_for(std::size_t cause) {
    if (usual_.given || !computed_elsewhere(cause)) return usual_;
    for (const auto& other : others_) {
      if (fits(other, cause)) return other;
    }
    if (others_.size() == most_others) return usual_;
    others_.push_back(yardstick_for(base_, std::nullopt, {knowledge::Ref<knowledge::Cause>{cause}}));
    return others_.back();
  }
  bool is_usual(const Yardstick& boat) const { return &boat == &usual_; }

 private:
  static constexpr std::size_t most_others = 6;  // half a second each
  bool fits(const Yardstick& boat, std::size_t cause) const { return boat.evaluation.holds(base_.causes[cause].applies) && boat.evaluation.holds(finding_.applies); }
  bool computed_elsewhere(std::size_t cause) const {
    const auto& effects = base_.causes[cause].effects;
    return finding_.measure && !fits(usual_, cause) && std::any_of(effects.begin(), effects.end(), [&](const auto& e) { return e.circuit == finding_.measure->circuit; });
  }

  const KnowledgeBase& base_;
  const knowledge::Finding& finding_;
  const Yardstick& usual_;
  std::deque<Yardstick> others_;
};

// By state, in each the cause first that shows it most often.
void add_causes(Page& page, const KnowledgeBase& base, std::size_t index, const Yardstick& yardstick) {
  const auto& finding = base.findings[index];
  std::vector<std::vector<Shower>> showers(finding.states.size());
  Boats boats(base, finding, yardstick);
  for (std::size_t c = 0; c < base.causes.size(); ++c) {
    const auto& boat = boats.boat_for(c);
    for (const auto& sign : signs_of(base, boat, {c})) {
      if (sign.finding.index == index) add_shower(showers[sign.state], c, sign, yardstick.given, !boats.is_usual(boat));
    }
  }
  page.heading("Causes that show it:");
  for (std::size_t s = 1; s < showers.size(); ++s) {
    if (showers[s].empty()) continue;
    std::stable_sort(showers[s].begin(), showers[s].end(), [](const auto& a, const auto& b) { return a.chance > b.chance; });
    page.line(finding.states[s].words, 2);
    for (const auto& shower : showers[s]) {
      const auto& cause = base.causes[shower.cause];
      page.item("-", often_words(shower.chance) + (shower.depends ? ", on some boats" : "") + ": " + cause.title + " (" + cause.id + ")", 4);
    }
  }
}

std::string listed_or(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words) text += (text.empty() ? "" : "; or ") + word;
  return text;
}

std::string needs_words(const KnowledgeBase& base, const knowledge::Needs& needs) {
  const auto& finding = base[needs.finding];
  std::vector<std::string> states;
  for (const auto s : needs.states) states.push_back(finding.states[s].words);
  return "only while " + finding.title + " is: " + listed_or(states) + " (" + finding.id + ")";
}

// Ways, covers and conditions with their minutes; whom and what it asks for.
void add_effort(Page& page, const KnowledgeBase& base, const knowledge::Effort& effort) {
  page.heading("What it takes beside the doing:");
  for (const auto ref : effort.places) {
    const auto& place = base[ref];
    page.item("-", place.title + ": " + minutes_words(place.reach) + " to get there" + (place.covers > 0 ? ", " + minutes_words(place.covers) + " to bare and close it" : ""));
  }
  if (effort.condition) page.item("-", base[*effort.condition].title + ": " + minutes_words(base[*effort.condition].minutes) + " to set");
  if (effort.hands > 1) page.item("-", std::to_string(effort.hands) + " persons");
  if (effort.water != knowledge::Water::any) page.item("-", effort.water == knowledge::Water::afloat ? "the boat afloat" : "the boat out of the water");
  if (effort.daylight) page.item("-", "daylight");
  if (effort.engine) page.item("-", "an engine that may run");
  for (const auto ref : effort.tools) {
    if (!base[ref].usual) page.item("-", base[ref].title + ", which is not in every bag");
  }
}

std::string states_words(const knowledge::Finding& finding, const std::vector<std::size_t>& states) {
  std::string words;
  for (std::size_t s = 0; s < states.size(); ++s) words += (s == 0 ? "'" : s + 1 < states.size() ? ", '" : " or '") + finding.states[states[s]].words + "'";
  return words;
}

// What a sound boat shows: "as expected: 24.7 V to 26 V".
std::string sound_words(const knowledge::Finding& finding, const std::vector<double>& limits) {
  const auto figures = limit_words(finding, limits, 0);
  return finding.states.front().words + (figures.empty() ? "" : ": " + figures);
}

}  // namespace

Page finding_page(const KnowledgeBase& base, std::size_t index, const Yardstick& yardstick, std::size_t width) {
  const auto& finding = base.findings[index];
  Page page(width);
  add_head(page, "Finding", finding.id, finding.title, finding.place);
  add_condition(page, base, finding.applies);
  page.heading("Question:").line(finding.ask, 2);
  if (!finding.lay.empty()) page.line("To a layman: " + finding.lay, 2);
  for (const auto& told : finding.at_once) page.line("Said at once to " + states_words(finding, told.states) + ": " + told.words, 2);
  for (const auto& needs : finding.needs) {
    const auto& other = base[needs.finding];
    page.line("Not asked unless '" + other.title + "' may be " + states_words(other, needs.states) + ".", 2);
  }
  add_states(page, finding, yardstick.boat.band_limits[index], yardstick.given);
  if (!finding.words.empty()) page.heading("Also said: " + listed(finding.words));
  page.heading("How to find out:");
  for (const auto& check : base.checks) {
    if (refers_to(check.observes, index)) page.item("-", check.title + " (" + check.id + ", " + minutes_words(check.effort.minutes) + ", " + who_words(check.who) + ")");
  }
  add_causes(page, base, index, yardstick);
  add_origins(page, base, finding.sources, knowledge::numbers_of(base, finding));
  return page;
}

Page full_check_page(const KnowledgeBase& base, const knowledge::Check& check, const Yardstick& yardstick, std::size_t width) {
  Page page(width);
  page.append(check_page(base, check, "", width));
  page.line("Check " + check.id + ", " + place_words(check.place), 2);
  add_condition(page, base, check.applies);
  add_effort(page, base, check.effort);
  for (const auto& needs : check.needs) page.item("-", needs_words(base, needs));
  page.heading("What it looks at, and what is sound:");
  for (const auto ref : check.observes) {
    page.item("-", base[ref].ask + " (" + base[ref].id + ")");
    page.line("sound: " + sound_words(base[ref], yardstick.boat.band_limits[ref.index]), 4);
  }
  const bool figures = std::any_of(check.observes.begin(), check.observes.end(), [&](auto ref) { return base[ref].is_reading(); });
  if (figures && !yardstick.given) page.line(usual_figures, 2);
  add_origins(page, base, check.sources, knowledge::numbers_of(base, check));
  return page;
}

Page full_remedy_page(const KnowledgeBase& base, std::size_t index, std::size_t width) {
  const auto& remedy = base.remedies[index];
  Page page(width);
  page.append(remedy_page(base, remedy, knowledge::Who::specialist, width));
  page.line("Remedy " + remedy.id + ", " + place_words(remedy.place), 2);
  add_condition(page, base, remedy.applies);
  add_effort(page, base, remedy.effort);
  if (remedy.fetch > 0) page.item("-", minutes_words(remedy.fetch) + " to fetch parts, or whom and what it asks for");
  page.heading("It removes:");
  for (const auto& cause : base.causes) {
    const bool mends = std::any_of(cause.mends.begin(), cause.mends.end(), [&](const auto& mend) { return mend.remedy.index == index; });
    if (mends) page.item("-", cause.title + " (" + cause.id + ")");
  }
  add_origins(page, base, remedy.sources, knowledge::numbers_of(base, remedy));
  return page;
}

Page precaution_page(const KnowledgeBase& base, std::size_t index, std::size_t width) {
  const auto& precaution = base.precautions[index];
  Page page(width);
  add_head(page, "Precaution", precaution.id, precaution.title, precaution.place);
  page.heading("What to do:").line(precaution.what_to_do, 2);
  page.heading("Stands before:");
  for (const auto& check : base.checks) {
    if (refers_to(check.precautions, index)) page.item("-", "check: " + check.title + " (" + check.id + ")");
  }
  for (const auto& remedy : base.remedies) {
    if (refers_to(remedy.precautions, index)) page.item("-", "remedy: " + remedy.title + " (" + remedy.id + ")");
  }
  return page;
}

Page source_page(const KnowledgeBase& base, knowledge::Ref<knowledge::Source> ref, std::size_t width) {
  const auto& source = base[ref];
  Page page(width);
  add_head(page, "Source", source.id, source.title, source.place);
  page.line("Kind: " + source.kind, 2);
  add_leaning(page, base, ref);
  return page;
}

Page pages_of(const KnowledgeBase& base, const std::string& id, const std::optional<std::string>& kind, const std::optional<installation::Installation>& boat,
              std::size_t width) {
  Page page(width);
  const auto add = [&](const std::string& of_kind, const auto& found, const auto& render) {
    if (!found || (kind && *kind != of_kind)) return;
    page.blank().append(render(*found));
  };
  add("cause", find_id(base.causes, id), [&](auto r) { return cause_page(base, r, yardstick_for(base, boat, {r}), width); });
  add("finding", find_id(base.findings, id), [&](auto r) { return finding_page(base, r.index, yardstick_for(base, boat), width); });
  add("check", find_id(base.checks, id), [&](auto r) { return full_check_page(base, base[r], yardstick_for(base, boat), width); });
  add("remedy", find_id(base.remedies, id), [&](auto r) { return full_remedy_page(base, r.index, width); });
  add("precaution", find_id(base.precautions, id), [&](auto r) { return precaution_page(base, r.index, width); });
  add("source", find_id(base.sources, id), [&](auto r) { return source_page(base, r, width); });
  return page;
}

Page sources_of(const KnowledgeBase& base, const std::string& id, const std::optional<std::string>& kind, std::size_t width) {
  Page page(width);
  for (const auto& item : knowledge::all_numbers(base)) {
    if (item.id == id && (!kind || *kind == item.kind)) page.blank().append(sources_page(base, item, width));
  }
  return page;
}

std::vector<std::string> known_ids(const KnowledgeBase& base, const std::optional<std::string>& kind) {
  std::vector<std::string> ids;
  const auto add = [&](const std::string& of_kind, const std::vector<std::string>& more) {
    if (!kind || *kind == of_kind) ids.insert(ids.end(), more.begin(), more.end());
  };
  add("cause", ids_of(base.causes));
  add("finding", ids_of(base.findings));
  add("check", ids_of(base.checks));
  add("remedy", ids_of(base.remedies));
  add("precaution", ids_of(base.precautions));
  add("source", ids_of(base.sources));
  return ids;
}

}  // namespace leadline::cli
