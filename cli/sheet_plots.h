#pragma once
// The drawings of a sheet, as SVG in an HTML tree. Each has a title and a description, and a table or list beside it says the same. Colour is never
// the only sign. Tested by tests/cli/sheet_html_test.cpp and in a browser by tests/outside/sheet.
#include "cli/html.h"
#include "cli/sheet.h"

namespace leadline::cli {

// A drawing of our width, scaled to the page: its title and description are read out in its place.
pugi::xml_node add_drawing(pugi::xml_node parent, const std::string& id, int height, const std::string& title, const std::string& description);
constexpr int drawing_width = 360;

// One line of text, its left, middle or right end at x.
void add_label(pugi::xml_node drawing, double x, double y, std::string_view words, const char* kind = "", const char* anchor = "start");
// Words wrapped to lines of so many characters, 15 apart; returns the y of the line after the last.
double add_label_lines(pugi::xml_node drawing, double x, double y, std::string_view words, std::size_t characters, const char* kind = "", const char* anchor = "start");

void add_bars(pugi::xml_node parent, const std::vector<Sheet::Explanation>& explanations, const std::string& id, const std::string& title);
void add_course_plot(pugi::xml_node parent, const Sheet::Course& course);

// The wiring of this boat, in the trade's ordinary symbols (IEC 60617 style): the heavy path from the bank to the motor and back, and the control
// network. Readings stand at their points with the numbers of the findings; the suspect has a flag, a dashed frame, words and colour together.
void add_power_sketch(pugi::xml_node parent, const Sheet& sheet);
void add_network_sketch(pugi::xml_node parent, const Sheet& sheet);

// "12.5" for coordinates.
std::string coordinate(double value);

}  // namespace leadline::cli
