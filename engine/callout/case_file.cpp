#include "engine/callout/case_file.h"

#include <sstream>

#include "engine/markup/element.h"
#include "engine/text/spelling.h"

namespace leadline::callout {

namespace {

using diagnosis::Answer;
using knowledge::KnowledgeBase;
using markup::Element;

std::optional<knowledge::Ref<knowledge::Finding>> read_finding(const KnowledgeBase& base, const Element& element) {
  const auto id = element.required("finding");
  const auto finding = knowledge::find_id(base.findings, id);
  if (!finding && !id.empty()) element.report(element.place("finding"), "no finding '" + id + "'", text::suggestion(id, knowledge::ids_of(base.findings), 0));
  return finding;
}

std::optional<diagnosis::Observed> read_state(const knowledge::Finding& finding, const Element& element) {
  const auto id = element.optional("state");
  const auto state = knowledge::find_state(finding, id);
  if (state) return diagnosis::Observed{diagnosis::Seen{*state}};
  element.report(element.place("state"), "'" + finding.id + "' has no state '" + id + "'", text::suggestion(id, knowledge::ids_of(finding.states)));
  return std::nullopt;
}

std::optional<diagnosis::Observed> read_reading(const knowledge::Finding& finding, const Element& element, double bank_volts) {
  if (!finding.is_reading()) {
    element.report(element.place("reading"), "'" + finding.id + "' is seen, not measured", "write state=\"…\"");
    return std::nullopt;
  }
  const auto reading = diagnosis::parse_reading(element.optional("reading"), *finding.unit);
  const auto range = reading ? diagnosis::range_left(*reading, *finding.unit, bank_volts) : "";
  if (!range.empty()) {
    element.report(element.place("reading"), "'" + element.optional("reading") + "' cannot be right", range + " on this boat");
    return std::nullopt;
  }
  if (reading) return diagnosis::Observed{*reading};
  element.report(element.place("reading"), "'" + element.optional("reading") + "' is no reading", diagnosis::expected_form(finding));
  return std::nullopt;
}

std::optional<diagnosis::Observed> read_observed(const knowledge::Finding& finding, const Element& element, double bank_volts) {
  const int given = static_cast<int>(element.has("state")) + static_cast<int>(element.has("reading")) + static_cast<int>(element.has("said"));
  if (given != 1) {
    element.report(element.place(), "an answer needs exactly one of 'state', 'reading' and 'said'");
    return std::nullopt;
  }
  if (element.has("state")) return read_state(finding, element);
  if (element.has("reading")) return read_reading(finding, element, bank_volts);
  const auto said = element.one_of("said", {"cannot-tell", "not-fitted"});
  if (said == "not-fitted") return diagnosis::Observed{diagnosis::NotFitted{}};
  return diagnosis::Observed{diagnosis::CannotTell{}};
}

void read_answer(const KnowledgeBase& base, const Element& element, Record& record) {
  element.allow_only({"finding", "state", "reading", "said", "by"}, {});
  const auto finding = read_finding(base, element);
  if (!finding) return;
  const auto observed = read_observed(base[*finding], element, installation::attribute_at(record.installation.root(), "bank/@volts").as_double());
  // A complaint is told by the owner but asked by the person on the job, who repeats it until it is plain: as sharp as his own word.
  auto by = record.role;
  if (element.has("by")) by = element.one_of("by", {"owner", "technician"}) == "owner" ? knowledge::Who::owner : knowledge::Who::technician;
  if (observed) record.answers.push_back({*finding, *observed, by});
}

void read_remedy(const KnowledgeBase& base, const Element& element, Record& record) {
  element.allow_only({"ref"}, {});
  const auto id = element.required("ref");
  const auto remedy = knowledge::find_id(base.remedies, id);
  if (remedy) record.remedies.push_back({*remedy, record.answers.size()});
  else if (!id.empty()) element.report(element.place("ref"), "no remedy '" + id + "'", text::suggestion(id, knowledge::ids_of(base.remedies), 0));
}

void read_found(const KnowledgeBase& base, const Element& root, Record& record) {
  std::istringstream ids(root.optional("found"));
  for (std::string id; ids >> id;) {
    const auto cause = knowledge::find_id(base.causes, id);
    if (cause) record.found.push_back(*cause);
    else root.report(root.place("found"), "no cause '" + id + "'", text::suggestion(id, knowledge::ids_of(base.causes), 0));
  }
}

void read_head(const KnowledgeBase& base, const Element& root, Record& record) {
  root.allow_only({"role", "instrument", "found"}, {"title", "installation", "complaint", "answer", "remedy"});
  if (root.has("role")) {
    const auto role = root.one_of("role", {"owner", "technician", "helpdesk"});
    if (role == "owner" || role == "helpdesk") record.role = knowledge::Who::owner;
    if (role == "helpdesk") record.bounds.by_phone = base.by_phone;
  }
  if (root.has("instrument")) {
    const auto which = diagnosis::instrument_class_of(root.one_of("instrument", {"pocket", "good", "poor"}));
    record.instrument = which.value_or(diagnosis::InstrumentClass::pocket);
  }
  record.title = root.child_text("title", true);
}

void write_answer(const KnowledgeBase& base, const Record& record, const Answer& answer, pugi::xml_node parent) {
  const auto& finding = base[answer.finding];
  auto node = parent.append_child("answer");
  node.append_attribute("finding").set_value(finding.id.c_str());
  if (const auto* seen = std::get_if<diagnosis::Seen>(&answer.observed)) node.append_attribute("state").set_value(finding.states[seen->state].id.c_str());
  else if (const auto* reading = std::get_if<diagnosis::Reading>(&answer.observed)) node.append_attribute("reading").set_value(reading->written.c_str());
  else node.append_attribute("said").set_value(std::holds_alternative<diagnosis::NotFitted>(answer.observed) ? "not-fitted" : "cannot-tell");
  if (answer.by != record.role) node.append_attribute("by").set_value(std::string(knowledge::to_string(answer.by)).c_str());
}

}  // namespace

text::Loaded<Record> read_case(const KnowledgeBase& base, const text::Source& file) {
  auto parsed = markup::parse(file);
  if (!parsed.value) return {std::nullopt, std::move(parsed.problems)};
  text::Problems problems;
  const Element root(*parsed.value, parsed.value->root(), problems);
  if (root.name() != "callout") {
    root.report(root.place(), "the root element is '" + root.name() + "'", "expected <callout>");
    return {std::nullopt, std::move(problems)};
  }
  const auto installations = root.children("installation");
  if (installations.size() != 1) root.report(root.place(), "a call-out needs exactly one <installation>");
  Record record{"", installations.empty() ? installation::make_installation(base, {}) : installation::read_installation(base, installations[0]),
                knowledge::Who::technician, diagnosis::InstrumentClass::pocket, {}};
  read_head(base, root, record);
  read_found(base, root, record);
  for (const auto node : root.node().children()) {
    const std::string name = node.name();
    if (name == "complaint" || name == "answer") read_answer(base, Element(*parsed.value, node, problems), record);
    if (name == "remedy") read_remedy(base, Element(*parsed.value, node, problems), record);
  }
  text::sort_by_place(problems);
  if (text::has_error(problems)) return {std::nullopt, std::move(problems)};
  return {std::move(record), std::move(problems)};
}

std::string to_xml(const KnowledgeBase& base, const Record& record) {
  pugi::xml_document document;
  auto root = document.append_child("callout");
  root.append_attribute("role").set_value(role_words(record).c_str());
  root.append_attribute("instrument").set_value(std::string(diagnosis::to_string(record.instrument)).c_str());
  std::string found;
  for (const auto cause : record.found) found += (found.empty() ? "" : " ") + base[cause].id;
  if (!found.empty()) root.append_attribute("found").set_value(found.c_str());
  root.append_child("title").text().set(record.title.empty() ? "call-out" : record.title.c_str());
  pugi::xml_document installation;
  installation.load_string(installation::to_xml(record.installation).c_str());
  root.append_copy(installation.document_element());
  auto remedy = record.remedies.begin();
  for (std::size_t i = 0; i <= record.answers.size(); ++i) {
    for (; remedy != record.remedies.end() && remedy->after == i; ++remedy) root.append_child("remedy").append_attribute("ref").set_value(base[remedy->remedy].id.c_str());
    if (i < record.answers.size()) write_answer(base, record, record.answers[i], root);
  }
  std::ostringstream out;
  document.print(out, "  ", pugi::format_indent, pugi::encoding_utf8);
  return out.str();
}

}  // namespace leadline::callout
