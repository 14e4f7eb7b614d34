// The only file that includes the JSON library: it takes seconds to compile.
#include "cli/rank_json.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "cli/ranking_page.h"
#include "engine/planning/dispatch.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

using callout::Assessment;
using nlohmann::ordered_json;

constexpr int schema = 2;
constexpr int digits = 9;
constexpr std::size_t most_steps = 5;

ordered_json number(double value) {
  if (std::isnan(value)) throw std::logic_error("a result is not a number");
  if (std::isinf(value)) return value > 0 ? "inf" : "-inf";
  char buffer[64];
  const auto written = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::general, digits);
  double rounded = 0;
  std::from_chars(buffer, written.ptr, rounded);
  return rounded == 0 ? 0.0 : rounded;  // no "-0.0"
}

std::string place(const text::Place& where) { return text::to_string(where); }

ordered_json cause_json(const Assessment& assessment, std::size_t cause) {
  const auto& ref = assessment.boat().cause_refs[cause];
  if (!ref) return {{"id", nullptr}, {"title", "not listed in the knowledge base"}};
  const auto& known = assessment.base()[*ref];
  return {{"id", known.id}, {"title", known.title}};
}

ordered_json reasons_json(const Assessment& assessment, std::size_t explanation) {
  auto list = ordered_json::array();
  for (const auto& reason : assessment.reasons(explanation)) {
    const auto& finding = assessment.base().findings[reason.finding];
    auto rules = ordered_json::array();
    for (const auto& where : reason.because_of) rules.push_back(place(where));
    list.push_back({{"finding", finding.id}, {"state", finding.states[reason.state].id}, {"weight_db", number(reason.weight_db)}, {"rules", rules}});
  }
  return list;
}

ordered_json explanations_json(const Assessment& assessment, std::size_t most) {
  auto list = ordered_json::array();
  const auto& explanations = assessment.diagnosis().explanations;
  for (std::size_t e = 0; e < std::min(most, explanations.size()); ++e) {
    auto causes = ordered_json::array();
    for (const auto cause : explanations[e].causes) causes.push_back(cause_json(assessment, cause));
    list.push_back({{"probability", number(explanations[e].probability)}, {"causes", causes}, {"reasons", reasons_json(assessment, e)}});
  }
  return list;
}

ordered_json beliefs_json(const Assessment& assessment) {
  auto beliefs = ordered_json::array();
  for (std::size_t c = 0; c < assessment.boat().cause_refs.size(); ++c) {
    const auto& ref = assessment.boat().cause_refs[c];
    const auto id = ref ? ordered_json(assessment.base()[*ref].id) : ordered_json(nullptr);
    beliefs.push_back({{"cause", id}, {"probability", number(assessment.diagnosis().belief[c])}});
  }
  return beliefs;
}

ordered_json at_once_json(const Assessment& assessment) {
  auto list = ordered_json::array();
  for (const auto* told : callout::at_once_now(assessment.base(), assessment.record())) list.push_back(told->words);
  return list;
}

ordered_json answers_json(const Assessment& assessment) {
  auto list = ordered_json::array();
  for (const auto& answer : assessment.record().answers) {
    const auto& finding = assessment.base()[answer.finding];
    list.push_back({{"finding", finding.id}, {"answer", diagnosis::in_words(finding, answer.observed)}, {"by", std::string(knowledge::to_string(answer.by))}});
  }
  return list;
}

ordered_json conflict_json(const Assessment& assessment) {
  const auto& conflict = assessment.conflict();
  auto suspects = ordered_json::array();
  for (const auto finding : conflict.suspects) suspects.push_back(assessment.base().findings[finding].id);
  const auto repeat = assessment.cheapest_to_repeat();
  return {{"disagree", disagree(assessment)}, {"bits", number(conflict.bits)},   {"unexplained", conflict.unexplained}, {"suspects", suspects},
          {"together", conflict.together},    {"repeat", repeat ? ordered_json(assessment.base().findings[*repeat].id) : ordered_json(nullptr)}};
}

ordered_json step_json(const Assessment& assessment, const planning::Proposal& step) {
  const auto& base = assessment.base();
  const bool check = step.act == planning::Act::check;
  ordered_json json{{"act", check ? "check" : step.act == planning::Act::remedy ? "remedy" : "call-in"}};
  if (step.act != planning::Act::give_up) {
    const auto& precautions_of = check ? base[step.check].precautions : base[step.remedy].precautions;
    auto precautions = ordered_json::array();
    for (const auto ref : precautions_of) precautions.push_back(base[ref].id);
    json["id"] = check ? base[step.check].id : base[step.remedy].id;
    json["precautions"] = precautions;
    json["who"] = std::string(knowledge::to_string(check ? base[step.check].who : base[step.remedy].who));
  }
  json["minutes"] = number(step.minutes);
  json["expected_minutes"] = number(step.expected);
  json["saved_minutes"] = number(step.saved);
  if (check) json["bits"] = number(step.bits), json["tells_most"] = base[step.tells_most].id;
  return json;
}

ordered_json steps_json(const Assessment& assessment) {
  auto list = ordered_json::array();
  const auto advice = planning::advise(assessment.job(assessment.circumstances()));
  for (std::size_t p = 0; p < std::min(most_steps, advice.proposals.size()); ++p) list.push_back(step_json(assessment, advice.proposals[p]));
  return list;
}

const char* kind_word(planning::ThingKind kind) {
  switch (kind) {
    case planning::ThingKind::tool: return "tool";
    case planning::ThingKind::part: return "part";
    default: return "arrangement";
  }
}

ordered_json dispatch_json(const Assessment& assessment) {
  const auto& base = assessment.base();
  const auto dispatch = planning::dispatch_for(assessment.job(assessment.circumstances()));
  auto bring = ordered_json::array(), meanwhile = ordered_json::array();
  for (const auto& thing : dispatch.things) {
    const auto what = thing.kind == planning::ThingKind::tool ? base.tools[thing.index].id : thing.kind == planning::ThingKind::part ? thing.words : base.remedies[thing.index].id;
    bring.push_back({{"kind", kind_word(thing.kind)}, {"what", what}, {"for", number(thing.hangs_on_it)}});
  }
  for (const auto ref : dispatch.meanwhile) meanwhile.push_back(base[ref].id);
  return {{"who", std::string(knowledge::to_string(dispatch.who))}, {"second_person", dispatch.second_person}, {"ashore", dispatch.ashore}, {"bring", bring},
          {"share", number(dispatch.share)}, {"mended", number(dispatch.mended)}, {"meanwhile", meanwhile}};
}

}  // namespace

std::string rank_json(const Assessment& assessment, std::size_t most) {
  const auto& diagnosis = assessment.diagnosis();
  double shown = 0;
  for (std::size_t e = 0; e < std::min(most, diagnosis.explanations.size()); ++e) shown += diagnosis.explanations[e].probability;
  const ordered_json document{{"schema", schema},
                              {"title", assessment.record().title},
                              {"role", callout::role_words(assessment.record())},
                              {"at_once", at_once_json(assessment)},
                              {"answers", answers_json(assessment)},
                              {"explanations", explanations_json(assessment, most)},
                              {"not_shown", number(std::max(0.0, 1 - shown))},
                              {"left_out", number(diagnosis.unlisted_mass)},
                              {"exact", diagnosis.exact},
                              {"conflict", conflict_json(assessment)},
                              {"next_steps", steps_json(assessment)},
                              {"beliefs", beliefs_json(assessment)},
                              {"dispatch", dispatch_json(assessment)}};
  return document.dump(2, ' ', true, ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace leadline::cli
