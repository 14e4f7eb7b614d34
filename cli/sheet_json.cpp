// Beside rank_json.cpp and its like one of the few files that include the JSON library. The shape: docs/sheet-json.md, docs/schema/sheet-1.json.
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/phrases.h"
#include "cli/sheet_render.h"

namespace leadline::cli {

namespace {

using nlohmann::ordered_json;

constexpr int schema = 1;
constexpr int digits = 9;

// Nine significant digits: the same bytes from every compiler. What is infinite or no number is null.
ordered_json number(double value) {
  if (!std::isfinite(value)) return nullptr;
  char buffer[64];
  const auto written = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::general, digits);
  double rounded = 0;
  std::from_chars(buffer, written.ptr, rounded);
  return rounded == 0 ? 0.0 : rounded;
}
ordered_json number(const std::optional<double>& value) { return value ? number(*value) : ordered_json(nullptr); }

// Phrases hold number and unit together by a blank that does not break: here a plain one.
std::string plain(const std::string& words) {
  static constexpr std::string_view unbroken = "\u00A0";
  auto out = words;
  for (auto at = out.find(unbroken); at != std::string::npos; at = out.find(unbroken, at)) out.replace(at, unbroken.size(), " ");
  return out;
}

template <class Rows, class Render>
ordered_json list_of(const Rows& rows, const Render& render) {
  auto list = ordered_json::array();
  for (const auto& row : rows) list.push_back(render(row));
  return list;
}

std::string judged_id(Judged judged) { return judged == Judged::cannot_tell ? "cannot-tell" : judged_words(judged); }

ordered_json fact_json(const Sheet::Fact& fact) {
  return {{"element", fact.element}, {"name", fact.name}, {"value", plain(fact.value)}, {"stated", fact.stated}};
}

ordered_json finding_json(const Sheet::Finding& finding) {
  ordered_json json{{"number", finding.number},     {"finding", finding.id},        {"title", finding.title},
                    {"complaint", finding.complaint}, {"after_remedies", finding.after_remedies}, {"by", finding.by},
                    {"read", plain(finding.read)},  {"healthy", plain(finding.healthy)}, {"judged", judged_id(finding.judged)},
                    {"remark", finding.remark}};
  if (!finding.unit.empty()) {
    json["figures"] = {{"unit", finding.unit}, {"value", number(finding.value)}, {"low", number(finding.low)}, {"middle", number(finding.middle)}, {"high", number(finding.high)}};
  }
  return json;
}

ordered_json explanation_json(const Sheet::Explanation& explanation) {
  const auto causes = list_of(explanation.causes, [](const auto& id) { return id.empty() ? ordered_json(nullptr) : ordered_json(id); });
  return {{"probability", number(explanation.probability)}, {"title", explanation.title}, {"causes", causes}};
}

ordered_json reason_json(const Sheet::Reason& reason) {
  ordered_json json{{"finding", reason.finding}, {"words", plain(reason.words)}, {"weight_db", number(reason.weight_db)}};
  if (std::isinf(reason.weight_db)) json["settles"] = reason.weight_db > 0 ? "for" : "against";
  return json;
}

ordered_json course_json(const Sheet::Course& course) {
  const auto moments = list_of(course.moments, [](const auto& moment) {
    return ordered_json{{"after", moment.label}, {"words", plain(moment.words)}, {"beliefs", list_of(moment.beliefs, [](double belief) { return number(belief); })}};
  });
  return {{"explanations", course.titles}, {"moments", moments}};
}

ordered_json precaution_json(const Sheet::Precaution& precaution) {
  return {{"id", precaution.id}, {"title", precaution.title}, {"what_to_do", precaution.what_to_do}};
}

// Precautions stand before anything else of a remedy, here too.
ordered_json remedy_json(const Sheet::Remedy& remedy) {
  const auto proofs = list_of(remedy.proofs, [](const auto& proof) { return ordered_json{{"check", proof.check}, {"words", proof.words}}; });
  return {{"remedy", remedy.id}, {"precautions", list_of(remedy.precautions, precaution_json)}, {"title", remedy.title}, {"barred", remedy.barred}, {"parts", remedy.parts},
          {"minutes", number(remedy.minutes)}, {"proofs", proofs}, {"seen_after", remedy.seen}};
}

ordered_json place_json(const Sheet::Place& place) {
  return {{"circuit", place.circuit}, {"id", place.id}, {"title", place.title}, {"about", plain(place.about)}, {"findings", place.readings}, {"suspect", plain(place.suspect)}};
}

ordered_json minutes_json(const Sheet& sheet) {
  ordered_json json{{"checks", number(sheet.checks_minutes)}, {"remedies", number(sheet.remedies_minutes)}, {"left", number(sheet.minutes_left)}};
  json["taken"] = sheet.times ? ordered_json{{"begun", sheet.times->begun}, {"ended", sheet.times->ended}, {"minutes", number(sheet.times->minutes)}, {"state", sheet.times->state}} : ordered_json(nullptr);
  return json;
}

}  // namespace

std::string sheet_json(const Sheet& sheet) {
  const ordered_json document{
      {"schema", schema},
      {"title", sheet.title},
      {"boat", sheet.boat},
      {"role", sheet.by_phone ? "helpdesk" : sheet.role},
      {"made_from", {{"program", sheet.program}, {"book_sha256", sheet.book_digest}, {"record_sha256", sheet.record_digest}}},
      {"at_once", sheet.at_once},
      {"facts", list_of(sheet.facts, fact_json)},
      {"precautions", list_of(sheet.precautions, precaution_json)},
      {"findings", list_of(sheet.findings, finding_json)},
      {"notes", list_of(sheet.notes, [](const auto& note) { return ordered_json{{"after", note.after}, {"words", note.words}, {"at", note.at}}; })},
      {"course", course_json(sheet.course)},
      {"remedied", sheet.remedied},
      {"explanations", list_of(sheet.explanations, explanation_json)},
      {"what", sheet.what},
      {"reasons", list_of(sheet.reasons, reason_json)},
      {"sizes", list_of(sheet.sizes, plain)},
      {"remedies_done", list_of(sheet.done, remedy_json)},
      {"remedies_named", list_of(sheet.named, remedy_json)},
      {"proved", sheet.proved},
      {"was", list_of(sheet.was, explanation_json)},
      {"now", list_of(sheet.now, explanation_json)},
      {"doubts", list_of(sheet.doubts, [](const auto& doubt) { return ordered_json{{"kind", doubt.kind}, {"words", plain(doubt.words)}}; })},
      {"dispatch", list_of(sheet.dispatch, plain)},
      {"places", list_of(sheet.places, place_json)},
      {"parts", parts_of(sheet)},
      {"minutes", minutes_json(sheet)}};
  return document.dump(2, ' ', true, ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace leadline::cli
