#include "cli/sheet_plots.h"

#include <algorithm>
#include <array>
#include <sstream>

#include "cli/layout.h"
#include "cli/phrases.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

// The plot's frame, in units of the drawing.
constexpr double left = 48, right = 318, top = 12, bottom = 172;
constexpr std::size_t most_ticks = 12;

double y_of(double belief) { return bottom - belief * (bottom - top); }

void add_line(pugi::xml_node drawing, double x1, double y1, double x2, double y2, const char* kind) {
  add(drawing, "line", {{"class", kind}, {"x1", coordinate(x1)}, {"y1", coordinate(y1)}, {"x2", coordinate(x2)}, {"y2", coordinate(y2)}});
}

// Five lines, told apart by marker, dashes and letter; colour comes on top.
void add_marker(pugi::xml_node drawing, std::size_t line, double x, double y) {
  const auto kind = "mark l" + std::to_string(line);
  const auto at = [&](double dx, double dy) { return coordinate(x + dx) + "," + coordinate(y + dy) + " "; };
  if (line == 0) add(drawing, "circle", {{"class", kind}, {"cx", coordinate(x)}, {"cy", coordinate(y)}, {"r", "3.5"}});
  else if (line == 1) add(drawing, "rect", {{"class", kind}, {"x", coordinate(x - 3)}, {"y", coordinate(y - 3)}, {"width", "6"}, {"height", "6"}});
  else if (line == 2) add(drawing, "polygon", {{"class", kind}, {"points", at(0, -4) + at(4, 3) + at(-4, 3)}});
  else if (line == 3) add(drawing, "polygon", {{"class", kind}, {"points", at(0, -4) + at(4, 0) + at(0, 4) + at(-4, 0)}});
  else add(drawing, "polygon", {{"class", kind}, {"points", at(-4, -3) + at(4, -3) + at(0, 4)}});
}

void add_axes(pugi::xml_node drawing, const Sheet::Course& course, const std::vector<double>& xs) {
  for (const int share : {0, 25, 50, 75, 100}) {
    const double y = y_of(share / 100.0);
    add_line(drawing, left, y, right, y, "grid");
    add_label(drawing, left - 6, y + 4, std::to_string(share) + " %", "", "end");
  }
  const auto every = (course.moments.size() + most_ticks - 1) / most_ticks;
  for (std::size_t m = 0; m < course.moments.size(); ++m) {
    const auto& label = course.moments[m].label;
    const bool remedy = label.starts_with("remedy");
    if (remedy) add_line(drawing, xs[m], top, xs[m], bottom, "remedy");
    if (remedy || m % every == 0) add_label(drawing, xs[m], bottom + (remedy ? 30 : 16), label.empty() ? "start" : remedy ? "R" + label.substr(7) : label, "", "middle");
  }
  add_label(drawing, (left + right) / 2, bottom + 46, "finding told; R: remedy done", "", "middle");
}

// The letters at the right end, moved apart where lines end close together.
std::vector<double> letter_places(const Sheet::Course& course) {
  std::vector<std::pair<double, std::size_t>> ends;
  for (std::size_t e = 0; e < course.titles.size(); ++e) ends.emplace_back(y_of(course.moments.back().beliefs[e]), e);
  std::stable_sort(ends.begin(), ends.end(), [](const auto& a, const auto& b) { return a.first > b.first; });  // lowest on the paper first
  std::vector<double> places(course.titles.size());
  double below = bottom + 16;
  for (const auto& [y, e] : ends) places[e] = below = std::min(y, below - 13);
  return places;
}

}  // namespace

std::string coordinate(double value) { return text::format_number(value, 1); }

pugi::xml_node add_drawing(pugi::xml_node parent, const std::string& id, int height, const std::string& title, const std::string& description) {
  auto drawing = add(parent, "svg", {{"viewBox", "0 0 " + std::to_string(drawing_width) + " " + std::to_string(height)}, {"role", "img"}, {"aria-labelledby", id + "-title " + id + "-what"}});
  add_words(drawing, "title", title, {{"id", id + "-title"}});
  add_words(drawing, "desc", description, {{"id", id + "-what"}});
  return drawing;
}

void add_label(pugi::xml_node drawing, double x, double y, std::string_view words, const char* kind, const char* anchor) {
  auto label = add(drawing, "text", {{"x", coordinate(x)}, {"y", coordinate(y)}});
  if (*kind != '\0') label.append_attribute("class").set_value(kind);
  if (std::string_view(anchor) != "start") label.append_attribute("text-anchor").set_value(anchor);
  append_words(label, words);
}

double add_label_lines(pugi::xml_node drawing, double x, double y, std::string_view words, std::size_t characters, const char* kind, const char* anchor) {
  std::istringstream lines(wrapped(words, characters));
  for (std::string line; std::getline(lines, line); y += 15) add_label(drawing, x, y, line, kind, anchor);
  return y;
}

void add_bars(pugi::xml_node parent, const std::vector<Sheet::Explanation>& explanations, const std::string& id, const std::string& title) {
  std::string description;
  for (const auto& explanation : explanations) description += (description.empty() ? "" : "; ") + explanation.title + ": " + percent(explanation.probability);
  auto drawing = add_drawing(parent, id, 10, title, description);
  double y = 16;
  for (std::size_t e = 0; e < explanations.size(); ++e) {
    const double share = explanations[e].probability;
    y = add_label_lines(drawing, 0, y, std::to_string(e + 1) + ". " + explanations[e].title, 54, e == 0 ? "first" : "");
    add(drawing, "rect", {{"class", "bar-room"}, {"x", "0.5"}, {"y", coordinate(y - 9)}, {"width", "299"}, {"height", "12"}});
    add(drawing, "rect", {{"class", e == 0 ? "bar leading" : "bar"}, {"x", "0.5"}, {"y", coordinate(y - 9)}, {"width", coordinate(std::max(1.0, 299 * share))}, {"height", "12"}});
    add_label(drawing, drawing_width, y + 2, percent(share), e == 0 ? "first" : "", "end");
    y += 26;
  }
  drawing.attribute("viewBox").set_value(("0 0 " + std::to_string(drawing_width) + " " + coordinate(std::max(10.0, y - 16))).c_str());
}

void add_course_plot(pugi::xml_node parent, const Sheet::Course& course) {
  auto drawing = add_drawing(parent, "course", 222, "Belief in the leading explanations after each finding", "A line for each explanation, lettered as in the table below, which holds the same figures.");
  std::vector<double> xs;
  const auto steps = std::max<std::size_t>(1, course.moments.size() - 1);
  for (std::size_t m = 0; m < course.moments.size(); ++m) xs.push_back(left + 4 + (right - left - 8) * static_cast<double>(m) / static_cast<double>(steps));
  add_axes(drawing, course, xs);
  const auto letters = course.moments.empty() ? std::vector<double>{} : letter_places(course);
  for (std::size_t e = course.titles.size(); e-- > 0;) {  // the leader on top
    std::string points;
    for (std::size_t m = 0; m < xs.size(); ++m) points += (m == 0 ? "" : " ") + coordinate(xs[m]) + "," + coordinate(y_of(course.moments[m].beliefs[e]));
    add(drawing, "polyline", {{"class", "course l" + std::to_string(e)}, {"points", points}});
    for (std::size_t m = 0; m < xs.size(); ++m) add_marker(drawing, e, xs[m], y_of(course.moments[m].beliefs[e]));
    add_marker(drawing, e, right + 12, letters[e]);
    add_label(drawing, right + 20, letters[e] + 4, std::string(1, static_cast<char>('A' + e)), "first");
  }
}

}  // namespace leadline::cli
