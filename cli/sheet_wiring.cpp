// The wiring sketch. Tested by tests/cli/sheet_html_test.cpp, and looked at in a browser.
#include <algorithm>

#include "cli/sheet_plots.h"

namespace leadline::cli {

namespace {

using pugi::xml_node;
using Place = Sheet::Place;

constexpr double top = 6, plus_rail = 34, minus_rail = 326, middle = 180, text_left = 62;
constexpr std::size_t beside = 34, across = 36;  // characters in a line of text beside a rail, and across the drawing

struct Line {
  std::string words, kind;
};

std::string reading_words(const Sheet& sheet, std::size_t number) {
  const auto& finding = sheet.findings[number - 1];
  return (finding.judged == Judged::abnormal ? "▲ " : "") + std::to_string(number) + ": " + finding.read + ", " + judged_words(finding.judged);
}

// What is written at a place: title, what is known of it, readings, suspect.
std::vector<Line> lines_of(const Sheet& sheet, const Place& place) {
  std::vector<Line> lines{{place.title, "first"}};
  if (!place.about.empty()) lines.push_back({place.about, "small"});
  for (const auto number : place.readings) lines.push_back({reading_words(sheet, number), sheet.findings[number - 1].judged == Judged::abnormal ? "abnormal" : ""});
  if (!place.suspect.empty()) lines.push_back({(sheet.remedied ? "SUSPECTED BEFORE THE REMEDY: " : "SUSPECT: ") + place.suspect, "abnormal"});
  return lines;
}

std::string description_of(const Sheet& sheet, const std::string& circuit) {
  std::string words;
  for (const auto& place : sheet.places) {
    if (place.circuit != circuit) continue;
    words += words.empty() ? "" : ". ";
    const char* comma = "";
    for (const auto& line : lines_of(sheet, place)) words += comma + line.words, comma = "; ";
  }
  return words + ".";
}

// A drawing that grows downward.
class Sketch {
 public:
  Sketch(xml_node parent, const Sheet& sheet, const std::string& circuit, const std::string& title)
      : sheet_(sheet), drawing_(add_drawing(parent, "wiring-" + circuit, 10, title, description_of(sheet, circuit))) {}

  xml_node drawing() { return drawing_; }
  double y() const { return y_; }
  void skip(double height) { y_ += height; }

  void line(double x1, double y1, double x2, double y2, const char* kind = "wire") {
    add(drawing_, "line", {{"class", kind}, {"x1", coordinate(x1)}, {"y1", coordinate(y1)}, {"x2", coordinate(x2)}, {"y2", coordinate(y2)}});
  }
  void box(double x, double y, double width, double height, const char* kind = "symbol") {
    add(drawing_, "rect", {{"class", kind}, {"x", coordinate(x)}, {"y", coordinate(y)}, {"width", coordinate(width)}, {"height", coordinate(height)}});
  }
  void circle(double x, double y, double r, const char* kind = "symbol") {
    add(drawing_, "circle", {{"class", kind}, {"cx", coordinate(x)}, {"cy", coordinate(y)}, {"r", coordinate(r)}});
  }

  // The text of a place from y on; returns the height it took.
  double text(const Place& place, double x, double y, std::size_t characters, const char* anchor) {
    const double from = y;
    for (const auto& line : lines_of(sheet_, place)) y = add_label_lines(drawing_, x, y, line.words, characters, line.kind.c_str(), anchor);
    return y - from;
  }
  // Frame and flag around what lies between two heights.
  void mark(const Place& place, double from, double to) {
    if (place.suspect.empty()) return;
    add(drawing_, "rect", {{"class", "suspect"}, {"x", "4"}, {"y", coordinate(from)}, {"width", "352"}, {"height", coordinate(to - from)}, {"rx", "6"}});
    const auto high = coordinate(from + 4), mid = coordinate(from + 11), low = coordinate(from + 18);
    add(drawing_, "polygon", {{"class", "flag"}, {"points", "340," + high + " 352," + mid + " 340," + low}});
    line(340, from + 4, 340, from + 26, "suspect-pole");
  }
  void finish() { drawing_.attribute("viewBox").set_value(("0 0 360 " + coordinate(y_)).c_str()); }

 private:
  const Sheet& sheet_;
  xml_node drawing_;
  double y_ = top;
};

// --- symbols, upright at the left rail around y ---

void draw_fuse(Sketch& sketch, double x, double y) {
  sketch.box(x - 6, y - 13, 12, 26);
  sketch.line(x, y - 13, x, y + 13);
}

// A disconnector: an open blade and the short stroke at the fixed contact.
void draw_isolator(Sketch& sketch, double x, double y) {
  sketch.line(x - 6, y - 12, x + 6, y - 12);
  sketch.line(x, y + 12, x + 11, y - 9);
}

// A contact worked by a coil: the coil's rectangle, the link dashed.
void draw_contactor(Sketch& sketch, double x, double y) {
  sketch.line(x, y + 12, x + 9, y - 11);
  add(sketch.drawing(), "path", {{"class", "wire"}, {"d", "M " + coordinate(x - 4) + " " + coordinate(y - 12) + " a 4 4 0 0 1 8 0"}});
  sketch.box(x - 28, y - 6, 14, 12);
  sketch.line(x - 14, y, x + 4, y, "remedy");
}

void draw_controller(Sketch& sketch, double x, double y) {
  sketch.box(x - 14, y - 14, 28, 28);
  sketch.line(x - 14, y + 14, x + 14, y - 14);
}

void draw_cable(Sketch& sketch, double x, double y) {
  sketch.line(x, y - 16, x, y + 16);
  for (const double offset : {-6.0, 0.0}) sketch.line(x - 6, y + offset + 6, x + 6, y + offset);
}

bool broken_rail(const Place& place) { return place.id == "isolator" || place.title == "Contactor"; }

void draw_symbol(Sketch& sketch, const Place& place, double x, double y) {
  if (place.id == "fuse") draw_fuse(sketch, x, y);
  else if (place.id == "isolator") draw_isolator(sketch, x, y);
  else if (place.title == "Contactor") draw_contactor(sketch, x, y);
  else if (place.id == "contactor") draw_controller(sketch, x, y);
  else draw_cable(sketch, x, y);
}

// --- the power path ---

void add_rails(Sketch& sketch, double from, double to, bool broken = false) {
  const double centre = (from + to) / 2;
  sketch.line(minus_rail, from, minus_rail, to);
  if (!broken) return sketch.line(plus_rail, from, plus_rail, to);
  sketch.line(plus_rail, from, plus_rail, centre - 12);
  sketch.line(plus_rail, centre + 12, plus_rail, to);
}

void add_beside(Sketch& sketch, const Place& place) {
  const bool minus = place.id == "minus-cable";
  const double from = sketch.y();
  const double height = std::max(44.0, sketch.text(place, minus ? minus_rail - 20 : text_left, from + 17, beside, minus ? "end" : "start") + 14);
  add_rails(sketch, from, from + height, broken_rail(place));
  draw_symbol(sketch, place, minus ? minus_rail : plus_rail, from + height / 2);
  sketch.mark(place, from + 1, from + height - 1);
  sketch.skip(height);
}

// The bank and what charges it lie across, between the rails.
void add_bank(Sketch& sketch, const Place& place) {
  const double from = sketch.y(), y = from + 24;
  if (from > top) add_rails(sketch, from, y);  // down from what charges it
  sketch.line(plus_rail, y, middle - 14, y);
  sketch.line(middle + 14, y, minus_rail, y);
  for (int cell = 0; cell < 3; ++cell) {
    const double x = middle - 14 + 11 * cell;
    sketch.line(x, y - 11, x, y + 11);
    add(sketch.drawing(), "rect", {{"class", "solid"}, {"x", coordinate(x + 4.5)}, {"y", coordinate(y - 5)}, {"width", "2.5"}, {"height", "10"}});
  }
  add_label(sketch.drawing(), plus_rail + 8, y - 6, "+", "first");
  add_label(sketch.drawing(), minus_rail - 8, y - 6, "-", "first", "end");
  const double height = 44 + sketch.text(place, middle, y + 26, across, "middle");
  add_rails(sketch, y, from + height);
  sketch.mark(place, from + 1, from + height - 1);
  sketch.skip(height);
}

void add_charger(Sketch& sketch, const Place& place) {
  const double from = sketch.y(), y = from + 22;
  sketch.box(middle - 16, y - 14, 32, 28);
  sketch.line(middle - 16, y + 14, middle + 16, y - 14);
  add_label(sketch.drawing(), middle - 11, y - 2, "~");
  add_label(sketch.drawing(), middle + 4, y + 10, "=");
  sketch.line(plus_rail, y, middle - 16, y);
  sketch.line(middle + 16, y, minus_rail, y);
  const double height = 44 + sketch.text(place, middle, y + 28, across, "middle");
  add_rails(sketch, y, from + height);
  sketch.mark(place, from + 1, from + height - 1);
  sketch.skip(height);
}

void add_motor(Sketch& sketch, const Place& place) {
  const double from = sketch.y(), y = from + 28;
  add_rails(sketch, from, y);
  sketch.line(plus_rail, y, middle - 18, y);
  sketch.line(middle + 18, y, minus_rail, y);
  sketch.circle(middle, y, 18);
  add_label(sketch.drawing(), middle, y + 4, "M", "first", "middle");
  const double height = 56 + sketch.text(place, middle, y + 34, across, "middle");
  sketch.mark(place, from + 1, from + height - 1);
  sketch.skip(height);
}

// A shaft and two blades below the motor.
void add_propeller(Sketch& sketch, const Place& place) {
  const double from = sketch.y(), y = from + 24;
  sketch.line(middle, from, middle, y);
  for (const int side : {-1, 1}) {
    add(sketch.drawing(), "ellipse", {{"class", "symbol"}, {"cx", coordinate(middle + 15 * side)}, {"cy", coordinate(y)}, {"rx", "14"}, {"ry", "5"}});
  }
  const double height = 40 + sketch.text(place, middle, y + 22, across, "middle");
  sketch.mark(place, from + 1, from + height - 1);
  sketch.skip(height);
}

// --- the control network ---

constexpr double line_h = 26, line_l = 34;

void add_trunk(Sketch& sketch, double from, double to) {
  sketch.line(line_h, from, line_h, to, "thin");
  sketch.line(line_l, from, line_l, to, "thin");
}

// A resistor across the pair.
void draw_terminator(Sketch& sketch, double y) {
  sketch.line(line_h, y - 10, line_l + 10, y - 10, "thin");
  sketch.line(line_l, y + 10, line_l + 10, y + 10, "thin");
  sketch.line(line_l + 10, y - 10, line_l + 10, y + 10, "thin");
  sketch.box(line_l + 6, y - 7, 8, 14);
}

void add_device(Sketch& sketch, const Place& place, bool last) {
  const double from = sketch.y();
  const double height = std::max(place.terminated ? 50.0 : 40.0, sketch.text(place, 104, from + 17, 28, "start") + 16);
  const double y = from + (place.terminated ? 34 : 18);
  add_trunk(sketch, from, last ? y : from + height);
  if (place.terminated) draw_terminator(sketch, from + 14);
  sketch.line(line_l, y, 60, y, "thin");
  sketch.box(60, y - 10, 32, 20);
  add_label(sketch.drawing(), 76, y + 4, place.id == "thruster" ? "M" : "P", "first", "middle");
  sketch.mark(place, from + 1, from + height - 1);
  sketch.skip(height);
}

void add_note(Sketch& sketch, const Place& place, bool trunk) {
  const double from = sketch.y();
  const double height = std::max(36.0, sketch.text(place, text_left, from + 17, beside, "start") + 12);
  if (trunk) add_trunk(sketch, from + 6, from + height);
  if (place.id == "supply") {
    sketch.line(20, from + 10, 20, from + 26);
    add(sketch.drawing(), "rect", {{"class", "solid"}, {"x", "25"}, {"y", coordinate(from + 13)}, {"width", "2.5"}, {"height", "10"}});
    sketch.line(10, from + 18, 20, from + 18, "thin");
    sketch.line(27, from + 18, 46, from + 18, "thin");
  }
  if (place.id == "terminator") draw_terminator(sketch, from + 20);
  sketch.mark(place, from + 1, from + height - 1);
  sketch.skip(height);
}

}  // namespace

void add_power_sketch(xml_node parent, const Sheet& sheet) {
  Sketch sketch(parent, sheet, "power", "Power path of this boat");
  for (const auto& place : sheet.places) {
    if (place.circuit != "power") continue;
    if (place.id == "bank") add_bank(sketch, place);
    else if (place.id == "charger") add_charger(sketch, place);
    else if (place.id != "motor" && place.id != "propeller") add_beside(sketch, place);
  }
  for (const auto& place : sheet.places) {
    if (place.id == "motor") add_motor(sketch, place);
    if (place.id == "propeller") add_propeller(sketch, place);
  }
  sketch.finish();
}

void add_network_sketch(xml_node parent, const Sheet& sheet) {
  Sketch sketch(parent, sheet, "network", "Control network of this boat");
  std::vector<const Place*> devices;
  for (const auto& place : sheet.places) {
    if (place.circuit == "network" && (place.id == "thruster" || place.id == "panels")) devices.push_back(&place);
  }
  for (const auto& place : sheet.places) {
    if (place.circuit != "network") continue;
    const bool device = place.id == "thruster" || place.id == "panels";
    if (device) add_device(sketch, place, &place == devices.back());
    else add_note(sketch, place, place.id == "trunk");
  }
  sketch.finish();
}

}  // namespace leadline::cli
