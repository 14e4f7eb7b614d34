#pragma once
// From heavy sets to a list of explanations. Internal to the room.
#include "engine/diagnosis/search.h"

namespace leadline::diagnosis {

// A diagnosis of nothing: no belief, impossible evidence.
Diagnosis prepared(const Model& model);

// Causes at least as believed as the threshold, most believed first: no set above the threshold holds another.
std::vector<std::size_t> candidates_for(const std::vector<double>& belief, double least);

// Adds sets, each with its share of the total and `always` in it. Put in order by order_explanations.
void add_explanations(Diagnosis& result, const Search& search, double total, const std::vector<std::size_t>& always);
// Most probable first, at most so many; what is not listed goes to unlisted_mass.
void order_explanations(Diagnosis& result, std::size_t most);

}  // namespace leadline::diagnosis
