#include "cli/sheet.h"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "cli/circuit_words.h"
#include "cli/dispatch_page.h"
#include "cli/phrases.h"
#include "cli/ranking_page.h"
#include "cli/sheet_parts.h"
#include "cli/sheet_places.h"

namespace leadline::cli {

namespace {

using callout::Assessment;
using knowledge::KnowledgeBase;

constexpr std::size_t most_reasons = 10;
constexpr double worth_a_word = 0.05, worth_a_bar = 0.01;  // of explanations after the first
constexpr double weight_that_shows = 0.05;  // decibans
constexpr std::size_t one_line = 100'000;   // a width nothing reaches

std::vector<Sheet::Precaution> precautions_of(const KnowledgeBase& base, const std::vector<knowledge::Ref<knowledge::Precaution>>& refs) {
  std::vector<Sheet::Precaution> rows;
  for (const auto ref : refs) rows.push_back({base[ref].id, base[ref].title, base[ref].what_to_do});
  return rows;
}

std::string fact_value(const KnowledgeBase& base, const std::string& element, const std::string& name, const std::string& value) {
  const auto at = knowledge::find_fact(base, element, name);
  if (!at) return value;
  const auto& fact = base.facts[*at];
  for (const auto& choice : fact.choices) {
    if (choice.id == value && fact.type == knowledge::FactType::choice) return choice.words;
  }
  return value + (fact.unit.empty() ? "" : " " + fact.unit);
}

// "helm 2" of "helm": the program's own name of a second device of one name.
bool is_copy_of(const std::string& name, const std::string& assumed) {
  if (!name.starts_with(assumed)) return false;
  const auto rest = name.substr(assumed.size());
  return rest.empty() || (rest.size() > 1 && rest[0] == ' ' && std::all_of(rest.begin() + 1, rest.end(), [](char c) { return c >= '0' && c <= '9'; }));
}

// A record does not list assumed texts: a name that is the assumed one was not stated, nor the feed's place on a string that was not.
bool stated(const KnowledgeBase& base, const installation::Installation& boat, const std::string& element, const std::string& name, const std::string& value) {
  const auto path = element + "/@" + name;
  const auto at = knowledge::find_fact(base, path);
  if (at && base.facts[*at].type == knowledge::FactType::text && is_copy_of(value, base.facts[*at].assume)) return false;
  if (path == "network/@feed" && is_assumed(boat, "segment")) return false;
  return !is_assumed(boat, element) && !is_assumed(boat, path, value);
}

// In the order of the record.
std::vector<Sheet::Fact> facts_of(const KnowledgeBase& base, const installation::Installation& boat) {
  std::vector<Sheet::Fact> facts;
  for (const auto node : boat.root().children()) {
    for (const auto attribute : node.attributes()) {
      const std::string element = node.name(), name = attribute.name(), value = attribute.value();
      facts.push_back({element, name, fact_value(base, element, name, value), stated(base, boat, element, name, value)});
    }
  }
  return facts;
}

std::vector<std::string> lines_of(const Page& page) {
  std::vector<std::string> lines;
  std::istringstream text(page.text());
  for (std::string line; std::getline(text, line);) {
    const auto start = line.find_first_not_of(" -");
    if (start != std::string::npos) lines.push_back(line.substr(start));
  }
  return lines;
}

std::vector<Sheet::Explanation> explanations_of(const Assessment& assessment) {
  const auto& all = assessment.diagnosis().explanations;
  std::vector<Sheet::Explanation> rows;
  for (std::size_t e = 0; e < std::min(shown_explanations, all.size()) && (e == 0 || all[e].probability >= worth_a_bar); ++e) rows.push_back(sheet_explanation(assessment, all[e]));
  return rows;
}

// The leading explanation while nothing was mended yet: what the job was about.
void add_explanation(Sheet& sheet, const Assessment& assessment) {
  sheet.explanations = explanations_of(assessment);
  if (assessment.evidence().empty() || sheet.explanations.empty()) return;
  for (const auto cause : assessment.diagnosis().explanations.front().causes) {
    const auto& ref = assessment.boat().cause_refs[cause];
    sheet.what.push_back(ref ? assessment.base()[*ref].what : "The answers fit none of the listed causes well. Look for what this list does not know, and go through the answers again.");
  }
  for (const auto& reason : assessment.reasons(0)) {
    if (std::abs(reason.weight_db) < weight_that_shows || sheet.reasons.size() == most_reasons) continue;
    const auto number = answer_number(assessment.record(), reason.finding);
    const auto& finding = assessment.base().findings[reason.finding];
    sheet.reasons.push_back({finding.id, number == 0 ? finding.title : finding_words(sheet.findings[number - 1]), reason.weight_db});
  }
  if (const auto sizes = lines_of(sizes_page(assessment, 0, one_line)); !sizes.empty()) sheet.sizes.assign(sizes.begin() + 1, sizes.end());
}

Sheet::Remedy remedy_row(const KnowledgeBase& base, knowledge::Ref<knowledge::Remedy> ref) {
  const auto& remedy = base[ref];
  Sheet::Remedy row{remedy.id, remedy.title, remedy.parts, precautions_of(base, remedy.precautions), remedy.effort.minutes, {}, {}, ""};
  for (const auto& proof : remedy.proofs) {
    row.proofs.push_back({base[proof.check].title, proof.words});
    row.minutes += base[proof.check].effort.minutes;
  }
  return row;
}

void add_remedies(Sheet& sheet, const Assessment& assessment) {
  const auto& record = assessment.record();
  for (std::size_t r = 0; r < record.remedies.size(); ++r) {
    auto row = remedy_row(assessment.base(), record.remedies[r].remedy);
    const auto upto = r + 1 < record.remedies.size() ? record.remedies[r + 1].after : record.answers.size();
    for (std::size_t a = record.remedies[r].after; a < upto; ++a) row.seen.push_back(a + 1);
    sheet.done.push_back(std::move(row));
  }
  const auto& explanations = assessment.diagnosis().explanations;
  if (!record.remedies.empty() || explanations.empty() || assessment.evidence().empty()) return;
  for (const auto ref : planning::remedies_for(assessment.base(), assessment.boat(), assessment.evaluation(), explanations.front())) {
    sheet.named.push_back(remedy_row(assessment.base(), ref));
    if (assessment.barred(ref)) sheet.named.back().barred = barred_words(record.role);
  }
}

// What the remedies have probably taken away.
void add_was(Sheet& sheet, const Assessment& assessment) {
  if (!sheet.remedied) return;
  for (std::size_t c = 0; c < assessment.had_been().size(); ++c) {
    if (assessment.had_been()[c] - assessment.diagnosis().belief[c] >= worth_a_word) sheet.was.push_back(sheet_explanation(assessment, {{c}, assessment.had_been()[c]}));
  }
  std::stable_sort(sheet.was.begin(), sheet.was.end(), [](const auto& a, const auto& b) { return a.probability > b.probability; });
}

void add_precautions(Sheet& sheet, const std::vector<Sheet::Precaution>& more) {
  for (const auto& precaution : more) {
    const bool known = std::any_of(sheet.precautions.begin(), sheet.precautions.end(), [&](const auto& p) { return p.id == precaution.id; });
    if (!known) sheet.precautions.push_back(precaution);
  }
}

using Checks = std::vector<knowledge::Ref<knowledge::Check>>;

// A recorded call-out does not say which checks were done: the quickest behind each finding, each once.
Checks likely_checks(const Assessment& assessment) {
  Checks checks;
  for (const auto& answer : assessment.record().answers) {
    const auto check = told(answer) ? check_behind(assessment, answer.finding.index) : std::nullopt;
    if (check && std::find(checks.begin(), checks.end(), *check) == checks.end()) checks.push_back(*check);
  }
  return checks;
}

// What the checks and remedies take by the book, and what they call for.
void add_work(Sheet& sheet, const Assessment& assessment, const Checks& checks) {
  for (const auto check : checks) {
    sheet.checks_minutes += assessment.base()[check].effort.minutes;
    add_precautions(sheet, precautions_of(assessment.base(), assessment.base()[check].precautions));
  }
  for (const auto& remedy : sheet.done) sheet.remedies_minutes += remedy.minutes, add_precautions(sheet, remedy.precautions);
  for (const auto& remedy : sheet.named) add_precautions(sheet, remedy.precautions);
  if (sheet.proved) return;
  const auto advice = planning::advise(assessment.job(assessment.circumstances()));
  sheet.minutes_left = advice.proposals.front().expected;
}

}  // namespace

const char* const sheet_advice = "Leadline advises; local codes and licensed practice come first.";
const char* const at_once_heading = "AT ONCE, while this stands";
const char* const sheet_observed = "Whoever signs for the work says that they were observed.";

std::string judged_words(Judged judged) { return judged == Judged::normal ? "normal" : judged == Judged::abnormal ? "abnormal" : "cannot tell"; }

Sheet sheet_of(const SheetMatter& matter) {
  const Assessment assessment(matter.base, matter.record);
  Sheet sheet;
  sheet.title = matter.record.title, sheet.boat = matter.record.installation.name(), sheet.role = who_words(matter.record.role);
  sheet.by_phone = matter.record.bounds.by_phone.has_value();
  sheet.program = matter.program, sheet.book_digest = matter.book_digest, sheet.record_digest = matter.record_digest;
  sheet.times = matter.times, sheet.notes = matter.notes;
  for (const auto* told : callout::at_once_now(matter.base, matter.record)) sheet.at_once.push_back(told->words);
  sheet.facts = facts_of(matter.base, matter.record.installation);
  sheet.findings = sheet_findings(assessment);
  sheet.remedied = !matter.record.remedies.empty();
  sheet.proved = callout::proved(matter.base, matter.record);
  add_course(sheet, assessment, add_explanation);
  sheet.now = explanations_of(assessment);
  add_was(sheet, assessment);
  add_remedies(sheet, assessment);
  if (sheet.by_phone && !sheet.proved && !sheet.findings.empty()) sheet.dispatch = lines_of(dispatch_page(assessment, one_line));
  sheet.places = sheet_places(assessment, sheet);
  for (const auto& words : matter.losses) sheet.doubts.push_back({"lost", words});
  const auto doubts = sheet_doubts(assessment, matter.try_assumptions);
  sheet.doubts.insert(sheet.doubts.end(), doubts.begin(), doubts.end());
  add_work(sheet, assessment, matter.checks ? *matter.checks : likely_checks(assessment));
  return sheet;
}

std::string boat_words(const Sheet& sheet) {
  return (sheet.boat.empty() ? std::string("Boat without a name") : "Boat: " + sheet.boat) + ". Checks done by: " + sheet.role + (sheet.by_phone ? ", guided by telephone." : ".");
}

std::string finding_words(const Sheet::Finding& finding) { return finding.title + ": " + finding.read; }

std::string explanation_title(const Sheet& sheet) {
  if (sheet.findings.empty()) return "Nothing was told: what is most common on such a boat";
  return sheet.remedied ? "What it might be before the first remedy, most likely first" : "What it may be, most likely first";
}

std::string proved_words(const Sheet& sheet) {
  if (sheet.proved) return "Proved: after the remedy all that the call was about was seen normal again. What comes and goes may only be away.";
  return sheet.remedied ? "Not proved: after the last remedy not all that the call was about was seen normal again."
                        : "Not proved: no remedy was recorded. A ranking is no proof: make the proof before and after the remedy.";
}

std::vector<std::string> minutes_lines(const Sheet& sheet) {
  std::vector<std::string> lines;
  if (sheet.times) lines.push_back("Begun " + sheet.times->begun + ", last entry " + sheet.times->ended + (sheet.times->state.empty() ? "." : "; " + sheet.times->state + "."));
  if (sheet.times) lines.push_back("At work: " + minutes_words(sheet.times->minutes) + ".");
  lines.push_back("Checks recorded, by the book: " + minutes_words(sheet.checks_minutes) + ", without the way there and what must be bared.");
  if (sheet.remedied) lines.push_back("Remedies recorded, with their proofs, by the book: " + minutes_words(sheet.remedies_minutes) + ", likewise.");
  if (sheet.minutes_left) lines.push_back("From here to a thruster proved to work, on average: " + minutes_words(std::round(*sheet.minutes_left)) + ".");
  return lines;
}

std::vector<std::string> summary_lines(const Sheet& sheet) {
  std::vector<std::string> lines;
  const auto named = [](const Sheet::Explanation& explanation) { return explanation.title + " (" + percent(explanation.probability) + ")"; };
  std::string was;
  for (const auto& one : sheet.was) was += (was.empty() ? "" : "; ") + named(one);
  std::vector<std::string> done;
  for (const auto& remedy : sheet.done) done.push_back(remedy.title);
  if (!was.empty()) lines.push_back("What it was, as far as it can be told: " + was + ".");
  else if (!sheet.explanations.empty() && !sheet.findings.empty()) lines.push_back((sheet.remedied ? "Most likely before the first remedy: " : "Most likely: ") + named(sheet.explanations.front()) + ".");
  lines.push_back(done.empty() ? "Done: no remedy yet." : "Done: " + listed(done) + ".");
  lines.push_back(proved_words(sheet));
  return lines;
}

// Nobody but the person who was there knows whether the precautions were kept to.
std::vector<std::string> signature_lines(const Sheet& sheet) {
  return {(sheet.role == "owner" ? "Checks done, precautions observed" : "Work done, precautions observed"), "Customer", "Date"};
}

std::string note_words(const SheetNote& note) { return (note.at.empty() ? "" : note.at + ": ") + note.words; }

std::vector<std::string> version_lines(const Sheet& sheet) {
  return {"Leadline " + sheet.program, "Knowledge base: SHA-256 " + sheet.book_digest, "Record: SHA-256 " + sheet.record_digest};
}

std::vector<std::string> parts_of(const Sheet& sheet) {
  std::vector<std::string> parts;
  for (const auto& remedy : sheet.remedied ? sheet.done : sheet.named) {
    for (const auto& part : remedy.parts) {
      if (std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(part);
    }
  }
  return parts;
}

std::vector<std::string> fact_lines(const Sheet& sheet, bool stated) {
  std::vector<std::string> lines;
  const Sheet::Fact* before = nullptr;
  for (const auto& fact : sheet.facts) {
    if (fact.stated != stated) continue;
    auto name = fact.name;
    std::replace(name.begin(), name.end(), '-', ' ');
    // A repeated element begins anew where one of its facts comes again.
    const bool goes_on = before != nullptr && before->element == fact.element &&
                         lines.back().find(" " + name + " ") == std::string::npos;
    if (!goes_on) lines.push_back(fact.element + ": " + name + " " + fact.value);
    else lines.back() += ", " + name + " " + fact.value;
    before = &fact;
  }
  return lines;
}

}  // namespace leadline::cli
