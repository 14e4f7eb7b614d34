#include "engine/diagnosis/conflict.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace leadline::diagnosis {

namespace {

constexpr double worth_saying_bits = 1.0;
constexpr double unlisted_leads = 0.5;
constexpr std::size_t most_in_pairs = 8;  // answers tried two at a time: those that mend most alone

// Coarser than for the ranking where the exact table does not fit: each answer is taken back in turn, and a hint is wanted, not digits.
const ExplainOptions coarse{1e-3, 40, 1U << 10, 1'000'000, 0};

struct Judged {
  double bits = 0;
  bool unexplained = false;
  bool mended() const { return bits <= worth_saying_bits && !unexplained; }
};

class Judge {
 public:
  Judge(const Model& model, const Evidence& evidence, std::size_t unlisted) : model_(model), evidence_(evidence), unlisted_(unlisted) {
    for (const auto& observation : evidence) alone_.push_back(beliefs(model, {observation}, coarse).log_evidence);
  }

  // With the answers of these findings taken back.
  Judged without(const std::vector<std::size_t>& left_out) const {
    Evidence kept;
    double product = 0;
    for (std::size_t o = 0; o < evidence_.size(); ++o) {
      if (std::find(left_out.begin(), left_out.end(), o) != left_out.end()) continue;
      kept.push_back(evidence_[o]);
      product += alone_[o];
    }
    const auto now = beliefs(model_, kept, coarse);
    const bool impossible = !std::isfinite(now.log_evidence);
    const bool led_by_unlisted = unlisted_ < now.belief.size() && now.belief[unlisted_] > unlisted_leads;
    return {impossible ? 1e9 : (product - now.log_evidence) / std::log(2.0), impossible || led_by_unlisted};
  }

 private:
  const Model& model_;
  const Evidence& evidence_;
  std::size_t unlisted_;
  std::vector<double> alone_;
};

struct Mending {
  std::vector<std::size_t> observations;
  Judged judged;
};

bool mends_more(const Mending& a, const Mending& b) { return a.judged.bits < b.judged.bits; }

std::vector<Mending> taken_back_singly(const Judge& judge, std::size_t count) {
  std::vector<Mending> tried;
  for (std::size_t o = 0; o < count; ++o) tried.push_back({{o}, judge.without({o})});
  std::stable_sort(tried.begin(), tried.end(), mends_more);
  return tried;
}

std::optional<Mending> best_pair(const Judge& judge, const std::vector<Mending>& singles) {
  std::optional<Mending> best;
  const auto count = std::min(most_in_pairs, singles.size());
  for (std::size_t a = 0; a < count; ++a) {
    for (std::size_t b = a + 1; b < count; ++b) {
      const Mending pair{{singles[a].observations[0], singles[b].observations[0]}, judge.without({singles[a].observations[0], singles[b].observations[0]})};
      if (pair.judged.mended() && (!best || mends_more(pair, *best))) best = pair;
    }
  }
  return best;
}

}  // namespace

Conflict conflict_in(const Model& model, const Evidence& evidence, std::size_t unlisted) {
  Conflict conflict;
  if (evidence.size() < 2) return conflict;
  const Judge judge(model, evidence, unlisted);
  const auto whole = judge.without({});
  conflict.bits = whole.bits;
  conflict.unexplained = whole.unexplained;
  if (whole.mended()) return conflict;
  const auto singles = taken_back_singly(judge, evidence.size());
  for (const auto& single : singles) {
    if (single.judged.mended()) conflict.suspects.push_back(evidence[single.observations[0]].finding);
  }
  if (!conflict.suspects.empty()) return conflict;
  if (const auto pair = best_pair(judge, singles)) {
    conflict.together = true;
    for (const auto o : pair->observations) conflict.suspects.push_back(evidence[o].finding);
  }
  return conflict;
}

}  // namespace leadline::diagnosis
