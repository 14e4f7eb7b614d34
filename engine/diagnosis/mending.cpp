#include "engine/diagnosis/mending.h"

namespace leadline::diagnosis {

std::vector<std::pair<std::size_t, double>> mends_of(const knowledge::KnowledgeBase& base, const BoatModel& boat, knowledge::Ref<knowledge::Remedy> remedy) {
  std::vector<std::pair<std::size_t, double>> mends;
  for (std::size_t c = 0; c < boat.cause_refs.size(); ++c) {
    if (!boat.cause_refs[c]) continue;
    for (const auto& mend : base[*boat.cause_refs[c]].mends) {
      if (mend.remedy == remedy) mends.emplace_back(c, mend.chance);
    }
  }
  return mends;
}

AfterOptions after_options_of(const knowledge::KnowledgeBase& base) {
  AfterOptions options;
  options.new_fault = base.unlisted.new_fault;
  return options;
}

}  // namespace leadline::diagnosis
