#pragma once
// What each cause shows: as written, and as the circuits of some sample boats compute it. Internal to the room. Tested by tests/audit/planted_test.cpp.
#include <map>
#include <vector>

#include "engine/audit/boat_search.h"
#include "engine/diagnosis/model.h"

namespace leadline::audit {

// A boat, and what the program makes of it.
struct Sample {
  const installation::Evaluation* evaluation = nullptr;  // owned by the search
  diagnosis::BoatModel boat;
  std::vector<std::optional<std::size_t>> model_cause;   // by cause of the book; none: it cannot exist here
  bool measures(std::size_t finding) const;              // a circuit describes it here
};

// The usual boat, and for each cause with an effect on a circuit, and each finding measured there, one that has both; with `every_cause` also one for
// each cause that none of them has; at most `most`.
std::vector<Sample> samples_of(const knowledge::KnowledgeBase& base, const BoatSearch& search, std::size_t most, bool every_cause = false);

// The same, going on from those there are.
void add_samples(const knowledge::KnowledgeBase& base, const BoatSearch& search, std::size_t most, bool every_cause, std::vector<Sample>& samples);

class Shown {
 public:
  Shown(const knowledge::KnowledgeBase& base, const BoatSearch& search, const std::vector<Sample>& samples);

  // The chance, in the boats where it is largest, that the cause alone shows the finding in this state; 0 of the normal state.
  double chance(std::size_t cause, std::size_t finding, std::size_t state) const;
  // By finding: the same for its states. Only findings that the cause may show.
  const std::map<std::size_t, std::vector<double>>& by(std::size_t cause) const { return chances_[cause]; }
  // Does any cause show it with at least this chance?
  bool anyhow(std::size_t finding, std::size_t state, double least = 0) const;
  bool anyhow(std::size_t finding) const;

 private:
  void note_everything(const knowledge::KnowledgeBase& base, std::size_t cause);
  void note(std::size_t cause, std::size_t finding, std::size_t state, double chance);
  std::vector<std::map<std::size_t, std::vector<double>>> chances_;  // by cause, by finding, by state
  std::vector<std::vector<double>> most_;                            // by finding, by state: over all causes
};

// Below it a computed chance is what any tolerance leaves: nobody would say that the cause shows it.
constexpr double least_computed = 0.02;

}  // namespace leadline::audit
