#pragma once
// A practice call-out as text: boat and complaint, what can be done, what was found, how it went. Pure. Tested by tests/cli/practice_test.cpp.
#include "cli/layout.h"
#include "engine/trial/practice.h"

namespace leadline::cli {

Page practice_opening_page(const trial::Practice& practice, std::size_t width);
Page practice_help_page(std::size_t width);
// Numbered from 1, with the minutes each takes from here; what cannot be done here says so.
Page choosable_page(const trial::Practice& practice, const std::vector<trial::Choosable>& steps, std::size_t width);
// What stands in its way here: "no infrared thermometer in the bag"; empty: nothing.
std::string why_not_here(const trial::Practice& practice, const trial::Choosable& step);
// Precautions before the steps.
Page chosen_page(const trial::Practice& practice, const trial::Choosable& step, std::size_t width);
// What it took, and what was found, beside what a sound boat like this shows.
Page found_page(const trial::Practice& practice, const trial::Practised& done, std::size_t width);
// Answers and ranking so far.
Page so_far_page(const trial::Practice& practice, std::size_t width);
// What would be best now, and why.
Page best_step_page(trial::Practice& practice, std::size_t width);
// What was truly wrong, each choice beside the best one, and how the program would have gone about it. `named`: causes of the book that were named for it; empty: none
// were. Takes a moment.
Page debrief_page(const trial::Practice& practice, std::size_t hints, const std::vector<std::size_t>& named, std::size_t width);

}  // namespace leadline::cli
