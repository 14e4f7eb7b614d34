// Nothing that a person typed becomes markup: 60 payloads (tests/outside/sheet/payloads.txt, which the browser is given too) in every free field.
#include <gtest/gtest.h>

#include <regex>

#include "cli/embedded.h"
#include "cli/html.h"
#include "cli/sheet_render.h"
#include "engine/callout/case_file.h"
#include "engine/knowledge/reader.h"
#include "tests/cli/slurp.h"

namespace leadline {
namespace {

const knowledge::KnowledgeBase& base() {
  static const auto loaded = knowledge::read_knowledge(cli::embedded_knowledge());
  return *loaded.value;
}

// \u202e stands for the character.
std::string with_characters(const std::string& line) {
  static const std::vector<std::pair<std::string, std::string>> table{{"\\u202e", "\u202e"}, {"\\u202c", "\u202c"}, {"\\u2066", "\u2066"}, {"\\u2069", "\u2069"},
                                                                      {"\\u200f", "\u200f"}, {"\\ufeff", "\ufeff"}, {"\\u2028", "\u2028"}, {"\\u2029", "\u2029"}};
  auto out = line;
  for (const auto& [from, to] : table) {
    for (auto at = out.find(from); at != std::string::npos; at = out.find(from, at)) out.replace(at, from.size(), to);
  }
  return out;
}

std::vector<std::string> payloads() {
  std::ifstream file(std::filesystem::path(LEADLINE_SOURCE_DIR) / "tests/outside/sheet/payloads.txt");
  std::vector<std::string> lines;
  for (std::string line; std::getline(file, line);) lines.push_back(with_characters(line));
  return lines;
}

// A sheet with a mark in each free field: title, boat, names of thruster, station and places, notes, times.
constexpr auto mark = "FREEWORDS";
const cli::Sheet& marked_sheet() {
  const std::string m = mark;
  const auto xml = "<callout><title>" + m + "</title><installation name='" + m + "'><thruster name='" + m + "a'/><station name='" + m + "b' number='1'/>" +
                   "<station name='" + m + "c' number='2'/></installation><complaint finding='push' state='none'/></callout>";
  static const auto loaded = callout::read_case(base(), {"case", xml});
  static const auto sheet = cli::sheet_of({.base = base(), .record = *loaded.value, .program = m, .book_digest = m, .record_digest = m, .times = cli::SheetTimes{m, m, 30, m}, .notes = {{0, m, m}, {1, m, m}},
                                           .checks = std::nullopt, .losses = {m}, .try_assumptions = false});
  return sheet;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) text.replace(at, from.size(), to);
  return text;
}

// As the words go through the renderer: set on every field that holds the mark.
cli::Sheet with_words(cli::Sheet sheet, const std::string& words) {
  const auto set = [&](std::string& field) { field = replaced(field, mark, words); };
  for (auto* field : {&sheet.title, &sheet.boat, &sheet.program, &sheet.book_digest, &sheet.record_digest}) set(*field);
  for (auto& fact : sheet.facts) set(fact.value);
  for (auto& note : sheet.notes) set(note.words), set(note.at);
  for (auto& doubt : sheet.doubts) set(doubt.words);
  for (auto& place : sheet.places) set(place.title), set(place.about), set(place.suspect);
  set(sheet.times->begun), set(sheet.times->ended), set(sheet.times->state);
  return sheet;
}

std::size_t count_of(const std::string& text, const std::string& piece) {
  std::size_t count = 0;
  for (auto at = text.find(piece); at != std::string::npos; at = text.find(piece, at + 1)) ++count;
  return count;
}

TEST(SheetHtml, LetsNoPayloadBecomeMarkup) {
  const auto& plain = marked_sheet();
  const auto harmless = cli::sheet_html(plain);
  ASSERT_GE(count_of(harmless, mark), 20U);
  const auto all = payloads();
  ASSERT_EQ(all.size(), 60U);
  // Labels of the drawings are wrapped, so a long payload is more lines: as many words again that hold no sign.
  for (const auto& payload : all) {
    auto tame = payload;
    for (auto& c : tame) {
      if (std::string_view("&<>\"'").find(c) != std::string_view::npos) c = '.';
    }
    const auto html = cli::sheet_html(with_words(plain, payload)), same = cli::sheet_html(with_words(plain, tame));
    for (const auto* sign : {"<", ">", "\""}) EXPECT_EQ(count_of(html, sign), count_of(same, sign)) << sign << " in " << payload;
    for (const char c : html) ASSERT_TRUE(static_cast<unsigned char>(c) < 128 && (c >= ' ' || c == '\n')) << payload;
    for (const auto* steering : {"&#8238;", "&#8236;", "&#8294;", "&#8297;"}) EXPECT_EQ(count_of(html, steering), 0U) << payload;
  }
}

TEST(SheetHtml, HasThePolicyAndNothingActive) {
  const auto html = cli::sheet_html(marked_sheet());
  EXPECT_EQ(count_of(html, "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src &#39;none&#39;; style-src &#39;unsafe-inline&#39;\">"), 1U);
  for (const auto* active : {"<script", "<link", "<img", "<iframe", "<object", "href=", "src=", "url(", "@import"}) EXPECT_EQ(count_of(html, active), 0U) << active;
  EXPECT_FALSE(std::regex_search(html, std::regex("<[a-z]+ [^>]*\\bon[a-z]+=")));
}

TEST(Html, EscapesTheFiveCharactersInTextAndAttribute) {
  pugi::xml_document document;
  auto node = cli::add(document, "p", {{"class", "a&b<c>d\"e'f"}});
  cli::append_words(node, "a&b<c>d\"e'f \u00e9 \u202e\x01");
  EXPECT_EQ(cli::html_text(node), "<!DOCTYPE html>\n<p class=\"a&amp;b&lt;c&gt;d&quot;e&#39;f\">a&amp;b&lt;c&gt;d&quot;e&#39;f &#233; ?" "?</p>\n");
}

TEST(Html, ClosesWhatHasAnEndAndNotWhatIsVoid) {
  pugi::xml_document document;
  auto node = cli::add(document, "div");
  cli::add(node, "br");
  cli::add(node, "td");
  EXPECT_EQ(cli::html_text(node), "<!DOCTYPE html>\n<div>\n<br>\n<td></td>\n</div>\n");
}

}  // namespace
}  // namespace leadline
