// Findings: symptoms with states in words, readings with bands.
#include <algorithm>
#include <sstream>

#include "engine/knowledge/chance.h"
#include "engine/knowledge/read_context.h"

namespace leadline::knowledge {

namespace {

using markup::Element;

constexpr double default_leak = 0.005;

double read_leak(const Element& element) {
  if (!element.has("leak")) return default_leak;
  const auto written = element.optional("leak");
  const auto leak = chance_of(written);
  if (leak && *leak <= 0.5) return *leak;
  element.report(element.place("leak"), "'" + written + "' is not a leak", "a chance above 0 and at most 0.5");
  return default_leak;
}

State read_state(ReadContext& context, const Element& element, bool band, bool measured) {
  if (band) element.allow_text({"id", "below", "leak"});
  else element.allow_text({"id", "leak"});
  State state;
  state.id = element.required("id");
  state.words = element.text();
  state.leak = read_leak(element);
  state.place = element.place();
  if (band) state.below = read_expression(context, element, "below", Wanted::number, {"", measured});
  return state;
}

void check_state_ids(const Element& element, const std::vector<Element>& children, const std::vector<State>& states) {
  for (std::size_t i = 0; i < states.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (states[i].id == states[j].id) children[i].report(children[i].place("id"), "the state '" + states[i].id + "' is given twice");
    }
  }
  if (states.size() < 2) element.report(element.place(), "a finding needs at least two states", "the normal one first");
}

void check_limits(const std::vector<Element>& bands) {
  for (std::size_t i = 0; i < bands.size(); ++i) {
    const bool last = i + 1 == bands.size();
    if (!last && !bands[i].has("below")) bands[i].report(bands[i].place(), "this band has no upper limit", "add below=\"…\"; only the last band has none");
    if (last && bands[i].has("below")) bands[i].report(bands[i].place("below"), "the last band has an upper limit", "remove 'below', or add a band above");
  }
}

// Puts the bands, read in ascending order, into the order of dominance.
void order_by_dominance(Finding& finding, const Element& element) {
  const auto written = element.required("dominance");
  if (written.empty()) return;
  std::istringstream words(written);
  const auto ascending = finding.states;
  std::vector<State> ordered;
  for (std::string word; words >> word;) {
    const auto known = find_state(finding, word);
    if (!known) {
      element.report(element.place("dominance"), "'" + word + "' is no band of this finding", text::suggestion(word, ids_of(ascending)));
      return;
    }
    ordered.push_back(ascending[*known]);
  }
  const auto ids = ids_of(ordered);
  const bool once = std::all_of(ids.begin(), ids.end(), [&](const auto& id) { return std::count(ids.begin(), ids.end(), id) == 1; });
  if (ordered.size() != ascending.size() || !once) {
    element.report(element.place("dominance"), "'dominance' must name every band once", "the normal one first, the strongest last");
    return;
  }
  finding.states = ordered;
  for (const auto& band : ascending) finding.bands.push_back(*find_state(finding, band.id));
}

std::vector<std::string> split_at_commas(const std::string& text) {
  std::vector<std::string> parts;
  std::istringstream rest(text);
  for (std::string part; std::getline(rest, part, ',');) {
    auto folded = markup::fold_blanks(part);
    if (!folded.empty()) parts.push_back(std::move(folded));
  }
  return parts;
}

void read_states(ReadContext& context, Finding& finding, const Element& element) {
  const auto symptoms = element.children("state");
  const auto bands = element.children("band");
  if (!symptoms.empty() && !bands.empty()) element.report(bands[0].place(), "a finding has states or bands, not both");
  const bool reading = !bands.empty();
  const auto& children = reading ? bands : symptoms;
  const bool measured = !element.children("measure").empty();
  for (const auto& child : children) finding.states.push_back(read_state(context, child, reading, measured));
  check_state_ids(element, children, finding.states);
  if (reading) {
    check_limits(bands);
    order_by_dominance(finding, element);
    const auto written = element.required("unit");
    finding.unit = unit_of(written);
    if (!finding.unit && !written.empty()) element.report(element.place("unit"), "'" + written + "' is no unit", text::suggestion(written, unit_names()));
  } else if (element.has("unit") || element.has("dominance")) {
    element.report(element.place(), "a symptom has neither 'unit' nor 'dominance'", "write <band> for a reading");
  }
  if (!finding.states.empty()) finding.states[0].leak = 0;
}

void check_leaks(const Finding& finding, const Element& element) {
  double sum = 0;
  for (const auto& state : finding.states) sum += state.leak;
  if (sum >= 0.9) element.report(element.place(), "the leaks of this finding leave too little for its normal state", "their sum must stay below 0.9");
}

void read_at_once(const ReadContext& context, Finding& finding, const Element& element) {
  for (const auto& child : element.children("at-once")) {
    child.allow_text({"state", "bars", "bars-all"});
    if (finding.is_reading()) child.report(child.place(), "a reading is taken by somebody who knows what to do", "put it into a precaution of the check");
    auto states = read_states_named(finding, child);
    if (!states.empty() && states.front() == 0) child.report(child.place("state"), "the normal state of '" + finding.id + "' calls for nothing at once", "name the others");
    finding.at_once.push_back({std::move(states), child.text(), read_named(context.base.precautions, child, "bars", "precaution"),
                               read_named(context.base.precautions, child, "bars-all", "precaution")});
  }
}

void read_finding(ReadContext& context, Finding& finding, const Pending& pending) {
  const auto& element = pending.element;
  element.allow_only({"id", "unit", "dominance", "complaint", "applies"}, {"title", "ask", "lay", "words", "state", "band", "at-once", "measure", "needs", "source"});
  finding.subsystem = pending.subsystem;
  finding.title = element.child_text("title", true);
  finding.ask = element.child_text("ask", true);
  const auto complaint = element.has("complaint") ? element.one_of("complaint", {"yes", "no", "sign"}) : "no";
  finding.calls = complaint == "yes";
  finding.complaint = finding.calls || complaint == "sign";
  finding.lay = element.child_text("lay", finding.complaint);
  finding.words = split_at_commas(element.child_text("words", false));
  finding.applies = read_expression(context, element, "applies", Wanted::condition);
  read_states(context, finding, element);
  read_at_once(context, finding, element);
  check_leaks(finding, element);
  for (const auto& child : element.children("measure")) {
    if (!finding.unit) child.report(child.place(), "only a reading is tied to a circuit", "write <band> for a reading");
    if (finding.measure) child.report(child.place(), "a second <measure>", "keep one");
    finding.measure = read_measure(context, child);
  }
  finding.sources = read_sources(context, element);
}

}  // namespace

void read_findings(ReadContext& context) {
  auto& findings = context.base.findings;
  const auto& pending = context.pending["finding"];
  for (std::size_t i = 0; i < findings.size(); ++i) read_finding(context, findings[i], pending[i]);
  // Another finding's states are known only now.
  for (std::size_t i = 0; i < findings.size(); ++i) findings[i].needs = read_needs(context, pending[i].element, {{i}});
}

}  // namespace leadline::knowledge
