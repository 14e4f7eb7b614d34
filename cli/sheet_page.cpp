// The sheet as plain text. Tested by tests/cli/sheet_golden_test.cpp.
#include "cli/phrases.h"
#include "cli/sheet_render.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

void add_head(Page& page, const Sheet& sheet) {
  page.line("CALL-OUT SHEET: " + sheet.title);
  page.line(boat_words(sheet));
  page.line(sheet_advice);
  if (!sheet.at_once.empty()) page.heading(at_once_heading);
  for (const auto& words : sheet.at_once) page.item("!", words);
  page.heading("COMPLAINT");
  bool any = false;
  for (const auto& finding : sheet.findings) {
    if (finding.complaint) page.item("-", finding_words(finding)), any = true;
  }
  if (!any) page.line("None was told.", 2);
  page.heading("IN SHORT");
  for (const auto& line : summary_lines(sheet)) page.item("-", line);
}

void add_boat(Page& page, const Sheet& sheet) {
  page.heading("BOAT, as stated");
  const auto stated = fact_lines(sheet, true), assumed = fact_lines(sheet, false);
  for (const auto& line : stated) page.item("-", line);
  if (stated.empty()) page.line("Nothing was stated.", 2);
  if (assumed.empty()) return;
  page.heading("BOAT, assumed because nobody stated it");
  for (const auto& line : assumed) page.item("-", line);
}

void add_precautions(Page& page, const std::vector<Sheet::Precaution>& precautions, std::size_t indent) {
  for (const auto& precaution : precautions) page.item("!", precaution.title + ": " + precaution.what_to_do, indent);
}

void add_findings(Page& page, const Sheet& sheet) {
  page.heading("FINDINGS, in order, with what a sound boat like this shows");
  if (sheet.findings.empty()) page.line("None.", 2);
  std::size_t done = 0, note = 0;
  const auto notes_upto = [&](std::size_t answers) {
    for (; note < sheet.notes.size() && sheet.notes[note].after <= answers; ++note) page.item("Note:", note_words(sheet.notes[note]));
  };
  notes_upto(0);
  for (const auto& finding : sheet.findings) {
    for (; done < finding.after_remedies; ++done) page.line("Then done: " + sheet.done[done].title, 2);
    page.item(std::to_string(finding.number) + ".", finding.title);
    page.line("read: " + finding.read + (finding.by == sheet.role ? "" : " (by the " + finding.by + ")"), 5);
    page.line("healthy: " + finding.healthy, 5);
    page.line("judged: " + judged_words(finding.judged) + (finding.remark.empty() ? "" : " (" + finding.remark + ")"), 5);
    notes_upto(finding.number);
  }
  for (; done < sheet.done.size(); ++done) page.line("Then done: " + sheet.done[done].title, 2);
  notes_upto(sheet.findings.size());
}

std::string right(const std::string& words, std::size_t width) {
  const auto size = text::character_count(words);
  return std::string(size < width ? width - size : 0, ' ') + words;
}

// Rows of figures must keep their blanks, which a page folds: as blanks that do not break.
std::string kept(const std::string& row) {
  std::string out;
  for (const char c : row) out += c == ' ' ? std::string("\u00A0") : std::string(1, c);
  return out;
}

void add_course(Page& page, const Sheet& sheet) {
  page.heading("COURSE OF BELIEF, after each finding");
  std::string head = right("after", 8);
  for (std::size_t e = 0; e < sheet.course.titles.size(); ++e) {
    const std::string letter(1, static_cast<char>('A' + e));
    page.item(letter, sheet.course.titles[e]);
    head += right(letter, 6);
  }
  page.line(kept(head));
  for (const auto& moment : sheet.course.moments) {
    std::string row = right(moment.label.empty() ? "start" : moment.label, 8);
    for (const auto belief : moment.beliefs) row += right(percent(belief), 6);
    page.line(kept(row));
  }
}

void add_ranking(Page& page, const std::vector<Sheet::Explanation>& explanations) {
  for (std::size_t e = 0; e < explanations.size(); ++e) {
    page.item(std::to_string(e + 1) + "." + padded_percent(explanations[e].probability) + " " + bar(explanations[e].probability), explanations[e].title);
  }
}

std::string weight_words(const Sheet& sheet, double weight) { return sheet.role == "owner" ? strength(weight) : decibans(weight); }

void add_explanation(Page& page, const Sheet& sheet) {
  page.heading("EXPLANATION").line(explanation_title(sheet) + ":", 2);
  add_ranking(page, sheet.explanations);
  if (!sheet.explanations.empty() && !sheet.what.empty()) page.heading("About " + sheet.explanations.front().title + ":");
  for (const auto& words : sheet.what) page.line(words, 2);
  if (!sheet.reasons.empty()) page.heading("For (+) and against (-) " + sheet.explanations.front().title + ":");
  for (const auto& reason : sheet.reasons) page.item(reason.weight_db > 0 ? "+" : "-", reason.words + " (" + weight_words(sheet, reason.weight_db) + ")");
  if (!sheet.reasons.empty() && sheet.role != "owner") page.line("(+10 dB: this answer makes it ten times as likely against all else; -10 dB: a tenth)", 2);
  if (!sheet.sizes.empty()) page.heading("How big it is, from the readings (in brackets: nine chances of ten lie there):");
  for (const auto& size : sheet.sizes) page.item("-", size);
}

void add_remedy(Page& page, const Sheet& sheet, const Sheet::Remedy& remedy, std::size_t number) {
  page.item(std::to_string(number) + ".", remedy.title);
  if (!remedy.barred.empty()) page.line(remedy.barred, 5);
  add_precautions(page, remedy.precautions, 5);
  for (const auto& proof : remedy.proofs) page.line("Proof: " + proof.check + ": " + proof.words, 5);
  if (!remedy.parts.empty()) page.line("Parts: " + listed(remedy.parts), 5);
  page.line(minutes_words(remedy.minutes) + " with its proof, by the book", 5);
  if (!sheet.remedied) return;
  if (remedy.seen.empty()) page.line("Seen after it: nothing was recorded.", 5);
  for (const auto seen : remedy.seen) {
    const auto& finding = sheet.findings[seen - 1];
    page.line("Seen after it: " + finding_words(finding) + " (" + judged_words(finding.judged) + ")", 5);
  }
}

void add_remedies(Page& page, const Sheet& sheet) {
  page.heading(sheet.remedied ? "REMEDIES DONE" : "REMEDIES of the first explanation, not done");
  const auto& remedies = sheet.remedied ? sheet.done : sheet.named;
  for (std::size_t r = 0; r < remedies.size(); ++r) add_remedy(page, sheet, remedies[r], r + 1);
  if (remedies.empty()) page.line("None.", 2);
  page.blank().line(proved_words(sheet));
  if (sheet.remedied) page.heading("What may be wrong now, most likely first:"), add_ranking(page, sheet.now);
}

void add_doubts(Page& page, const Sheet& sheet) {
  page.heading("REMAINING DOUBTS");
  for (const auto& doubt : sheet.doubts) page.item("-", doubt.words);
}

void add_end(Page& page, const Sheet& sheet) {
  if (!sheet.dispatch.empty()) page.heading("DISPATCH");
  for (const auto& line : sheet.dispatch) page.line(line, 2);
  page.heading("PARTS");
  const auto parts = parts_of(sheet);
  for (const auto& part : parts) page.item("-", part);
  if (parts.empty()) page.line("None named.", 2);
  page.heading("MINUTES");
  for (const auto& line : minutes_lines(sheet)) page.item("-", line);
  page.heading("MADE FROM");
  for (const auto& line : version_lines(sheet)) page.item("-", line);
  page.heading("SIGNED");
  for (const auto& who : signature_lines(sheet)) page.blank().line(who + ":", 2).line(std::string(30, '_'), 2);
}

}  // namespace

Page sheet_page(const Sheet& sheet, std::size_t width) {
  Page page(width);
  add_head(page, sheet);
  add_boat(page, sheet);
  page.heading("PRECAUTIONS of the checks and remedies of this job: they come first");
  add_precautions(page, sheet.precautions, 2);
  page.line(sheet.precautions.empty() ? "No check or remedy with precautions of its own was recorded." : sheet_observed, 2);
  add_findings(page, sheet);
  add_course(page, sheet);
  add_explanation(page, sheet);
  add_remedies(page, sheet);
  add_doubts(page, sheet);
  add_end(page, sheet);
  return page;
}

}  // namespace leadline::cli
