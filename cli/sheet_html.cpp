// The sheet as one HTML file. Tested by tests/cli/sheet_html_test.cpp, and in a browser by tests/outside/sheet.
#include <algorithm>

#include "cli/html.h"
#include "cli/phrases.h"
#include "cli/sheet_plots.h"
#include "cli/sheet_render.h"
#include "cli/sheet_style.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

using pugi::xml_node;

constexpr std::size_t longest_title = 60;

// "Call-out sheet: Bow thruster tires…": a tab shows no more.
std::string tab_title(const Sheet& sheet) {
  const auto characters = text::split_characters(sheet.title);
  std::string title = "Sheet: ";
  for (std::size_t i = 0; i < std::min(longest_title, characters.size()); ++i) title += characters[i];
  return title + (characters.size() > longest_title ? "…" : "");
}

xml_node add_section(xml_node parent, const char* heading) {
  auto section = add(parent, "section");
  add_words(section, "h2", heading);
  return section;
}

void add_list(xml_node parent, const std::vector<std::string>& lines, const char* otherwise, const char* kind = nullptr) {
  if (lines.empty()) {
    if (*otherwise != '\0') add_words(parent, "p", otherwise);
    return;
  }
  auto list = add(parent, "ul");
  if (kind != nullptr) list.append_attribute("class").set_value(kind);
  for (const auto& line : lines) add_words(list, "li", line);
}

void add_precautions(xml_node parent, const std::vector<Sheet::Precaution>& precautions) {
  if (precautions.empty()) return;
  auto list = add(parent, "ul", {{"class", "care"}});
  for (const auto& precaution : precautions) {
    auto item = add(list, "li");
    add_words(item, "strong", precaution.title);
    append_words(item, ": " + precaution.what_to_do);
  }
}

void add_head(xml_node head, const Sheet& sheet) {
  add(head, "meta", {{"charset", "utf-8"}});
  add(head, "meta", {{"http-equiv", "Content-Security-Policy"}, {"content", "default-src 'none'; style-src 'unsafe-inline'"}});
  add(head, "meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
  add_words(head, "title", tab_title(sheet));
  add(head, "style").append_child(pugi::node_pcdata).set_value(sheet_style);
}

void add_top(xml_node parent, const Sheet& sheet) {
  add_words(parent, "p", "Call-out sheet", {{"class", "kind"}});
  add_words(parent, "h1", sheet.title.empty() ? "Call-out" : sheet.title);
  add_words(parent, "p", boat_words(sheet));
  add_words(parent, "p", sheet_advice, {{"class", "advice"}});
}

void add_at_once(xml_node parent, const Sheet& sheet) {
  if (!sheet.at_once.empty()) add_list(add_section(parent, at_once_heading), sheet.at_once, "", "care");
}

void add_complaint(xml_node parent, const Sheet& sheet) {
  std::vector<std::string> lines;
  for (const auto& finding : sheet.findings) {
    if (finding.complaint) lines.push_back(finding_words(finding));
  }
  add_list(add_section(parent, "Complaint"), lines, "None was told.");
  add_list(add_section(parent, "In short"), summary_lines(sheet), "");
}

void add_boat(xml_node parent, const Sheet& sheet) {
  auto section = add_section(parent, "Boat");
  add_words(section, "h3", "As stated");
  add_list(section, fact_lines(sheet, true), "Nothing was stated.");
  add_words(section, "h3", "Assumed, because nobody stated it");
  add_list(section, fact_lines(sheet, false), "Nothing.");
}

xml_node add_table(xml_node parent, const std::string& caption, const std::vector<std::string>& columns) {
  auto table = add(parent, "table");
  add_words(table, "caption", caption);
  auto row = add(add(table, "thead"), "tr");
  for (const auto& column : columns) add_words(row, "th", column, {{"scope", "col"}});
  return add(table, "tbody");
}

void add_then(xml_node body, const std::string& words) { add_words(add(body, "tr", {{"class", "then"}}), "td", words, {{"colspan", "4"}}); }

void add_finding(xml_node body, const Sheet& sheet, const Sheet::Finding& finding) {
  auto row = add(body, "tr");
  auto head = add_words(row, "th", std::to_string(finding.number) + ". " + finding.title, {{"scope", "row"}});
  if (finding.by != sheet.role) append_words(head, " (by the " + finding.by + ")");
  add_words(row, "td", finding.read);
  add_words(row, "td", finding.healthy);
  const bool abnormal = finding.judged == Judged::abnormal;
  auto judged = add_words(row, "td", (abnormal ? "▲ " : "") + judged_words(finding.judged), {{"class", abnormal ? "judged abnormal" : "judged"}});
  if (!finding.remark.empty()) add_words(judged, "span", finding.remark, {{"class", "remark"}});
}

void add_findings(xml_node parent, const Sheet& sheet) {
  auto section = add_section(parent, "Findings");
  if (sheet.findings.empty() && sheet.notes.empty()) return (void)add_words(section, "p", "None.");
  auto body = add_table(section, "In the order in which they were told. Healthy: what a sound boat like this shows; in brackets nine readings of ten.",
                        {"Finding", "Read", "Healthy here", "Judged"});
  body.parent().append_attribute("class").set_value("findings");
  std::size_t done = 0, note = 0;
  const auto notes_upto = [&](std::size_t answers) {
    for (; note < sheet.notes.size() && sheet.notes[note].after <= answers; ++note) add_then(body, "Note: " + note_words(sheet.notes[note]));
  };
  notes_upto(0);
  for (const auto& finding : sheet.findings) {
    for (; done < finding.after_remedies; ++done) add_then(body, "Then done: " + sheet.done[done].title);
    add_finding(body, sheet, finding);
    notes_upto(finding.number);
  }
  for (; done < sheet.done.size(); ++done) add_then(body, "Then done: " + sheet.done[done].title);
  notes_upto(sheet.findings.size());
}

void add_course(xml_node parent, const Sheet& sheet) {
  auto section = add_section(parent, "Course of belief");
  auto figure = add(section, "figure");
  add_course_plot(figure, sheet.course);
  add_words(figure, "figcaption", "How sure each of the leading explanations was, from the start to the end of the job.");
  auto list = add(section, "ul");
  std::vector<std::string> columns{"After"};
  for (std::size_t e = 0; e < sheet.course.titles.size(); ++e) {
    columns.emplace_back(1, static_cast<char>('A' + e));
    add_words(list, "li", columns.back() + ": " + sheet.course.titles[e]);
  }
  auto body = add_table(section, "The same in figures.", columns);
  for (const auto& moment : sheet.course.moments) {
    auto row = add(body, "tr");
    add_words(row, "th", moment.label.empty() ? "start" : moment.label, {{"scope", "row"}});
    for (const auto belief : moment.beliefs) add_words(row, "td", percent(belief));
  }
}

void add_wiring(xml_node parent, const Sheet& sheet) {
  auto section = add_section(parent, "Wiring of this boat");
  add_words(section, "p", "A sketch, not to scale. Numbers are those of the findings. A dashed frame with a flag marks what the first explanation " +
                              std::string(sheet.remedied ? "suspected before the first remedy" : "suspects") + "; a question mark, what nobody stated.");
  auto both = add(section, "div", {{"class", "sketches"}});
  auto power = add(both, "figure");
  add_power_sketch(power, sheet);
  add_words(power, "figcaption", "Power path");
  auto network = add(both, "figure");
  add_network_sketch(network, sheet);
  add_words(network, "figcaption", "Control network");
  const bool shown = std::any_of(sheet.places.begin(), sheet.places.end(), [](const auto& place) { return !place.suspect.empty(); });
  if (!shown && !sheet.findings.empty() && !sheet.explanations.empty()) add_words(section, "p", "The first explanation has no place on this sketch: " + sheet.explanations.front().title + ".");
}

void add_ranking(xml_node parent, const std::vector<Sheet::Explanation>& explanations, const std::string& id, const std::string& title) {
  if (explanations.empty()) return;
  auto figure = add(parent, "figure");
  add_bars(figure, explanations, id, title);
  add_words(figure, "figcaption", title);
}

void add_explanation(xml_node parent, const Sheet& sheet) {
  auto section = add_section(parent, "Explanation");
  add_ranking(section, sheet.explanations, "ranking", explanation_title(sheet));
  if (!sheet.what.empty()) add_words(section, "h3", sheet.explanations.front().title);
  for (const auto& words : sheet.what) add_words(section, "p", words);
  std::vector<std::string> pro, contra;
  for (const auto& reason : sheet.reasons) {
    const auto weight = sheet.role == "owner" ? strength(reason.weight_db) : decibans(reason.weight_db);
    (reason.weight_db > 0 ? pro : contra).push_back(reason.words + " (" + weight + ")");
  }
  if (!pro.empty()) add_words(section, "h3", "For it"), add_list(section, pro, "");
  if (!contra.empty()) add_words(section, "h3", "Against it"), add_list(section, contra, "");
  if (!sheet.reasons.empty() && sheet.role != "owner") add_words(section, "p", "+10 dB: this answer makes it ten times as likely against all else; -10 dB: a tenth.");
  if (!sheet.sizes.empty()) add_words(section, "h3", "How big it is, from the readings"), add_list(section, sheet.sizes, "");
}

void add_remedy(xml_node section, const Sheet& sheet, const Sheet::Remedy& remedy, std::size_t number) {
  add_words(section, "h3", std::to_string(number) + ". " + remedy.title);
  if (!remedy.barred.empty()) add_words(add(section, "p"), "strong", remedy.barred);
  add_precautions(section, remedy.precautions);
  std::vector<std::string> lines;
  for (const auto& proof : remedy.proofs) lines.push_back("Proof: " + proof.check + ": " + proof.words);
  if (!remedy.parts.empty()) lines.push_back("Parts: " + listed(remedy.parts));
  lines.push_back(minutes_words(remedy.minutes) + " with its proof, by the book");
  for (const auto seen : remedy.seen) {
    const auto& finding = sheet.findings[seen - 1];
    lines.push_back("Seen after it: " + finding_words(finding) + " (" + judged_words(finding.judged) + ")");
  }
  if (sheet.remedied && remedy.seen.empty()) lines.push_back("Seen after it: nothing was recorded.");
  add_list(section, lines, "");
}

void add_remedies(xml_node parent, const Sheet& sheet) {
  auto section = add_section(parent, sheet.remedied ? "Remedies done, and their proof" : "Remedies of the first explanation, not done");
  const auto& remedies = sheet.remedied ? sheet.done : sheet.named;
  for (std::size_t r = 0; r < remedies.size(); ++r) add_remedy(section, sheet, remedies[r], r + 1);
  if (remedies.empty()) add_words(section, "p", "None.");
  add_words(add(section, "p"), "strong", proved_words(sheet));
  if (sheet.remedied) add_ranking(section, sheet.now, "ranking-now", "What may be wrong now, most likely first");
}

void add_doubts(xml_node parent, const Sheet& sheet) {
  std::vector<std::string> lines;
  for (const auto& doubt : sheet.doubts) lines.push_back(doubt.words);
  add_list(add_section(parent, "Remaining doubts"), lines, "None.");
}

void add_signatures(xml_node parent, const Sheet& sheet) {
  auto section = add_section(parent, "Signed");
  section.append_attribute("class").set_value("sign");
  auto lines = add(section, "div", {{"class", "lines"}});
  for (const auto& who : signature_lines(sheet)) add_words(lines, "p", who);
}

}  // namespace

std::string sheet_html(const Sheet& sheet) {
  pugi::xml_document document;
  auto html = add(document, "html", {{"lang", "en"}});
  add_head(add(html, "head"), sheet);
  auto body = add(add(html, "body"), "main");
  add_top(body, sheet);
  add_at_once(body, sheet);
  add_complaint(body, sheet);
  add_boat(body, sheet);
  auto care = add_section(body, "Precautions that held on this job: they come first");
  add_precautions(care, sheet.precautions);
  add_words(care, "p", sheet.precautions.empty() ? "No check or remedy with precautions of its own was recorded." : sheet_observed);
  add_findings(body, sheet);
  add_wiring(body, sheet);
  add_course(body, sheet);
  add_explanation(body, sheet);
  add_remedies(body, sheet);
  add_doubts(body, sheet);
  if (!sheet.dispatch.empty()) add_list(add_section(body, "Dispatch"), sheet.dispatch, "");
  add_list(add_section(body, "Parts"), parts_of(sheet), "None named.");
  add_list(add_section(body, "Minutes"), minutes_lines(sheet), "");
  add_list(add_section(body, "Made from"), version_lines(sheet), "", "digest");
  add_signatures(body, sheet);
  return html_text(html);
}

}  // namespace leadline::cli
