#include "engine/diagnosis/conflict.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace leadline::diagnosis {

namespace {

constexpr double worth_saying_bits = 1.0;
constexpr double unlisted_leads = 0.5;

struct Judged {
  double bits = 0;
  bool unexplained = false;
  bool mended() const { return bits <= worth_saying_bits && !unexplained; }
};

class Judge {
 public:
  Judge(const Model& model, const Evidence& evidence, std::size_t unlisted) : model_(model), evidence_(evidence), unlisted_(unlisted) {
    for (const auto& observation : evidence) alone_.push_back(beliefs(model, {observation}).log_evidence);
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
    const auto now = beliefs(model_, kept);
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
  double bits;
};

std::vector<Mending> single_mendings(const Judge& judge, std::size_t count) {
  std::vector<Mending> found;
  for (std::size_t o = 0; o < count; ++o) {
    const auto judged = judge.without({o});
    if (judged.mended()) found.push_back({{o}, judged.bits});
  }
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.bits < b.bits; });
  return found;
}

std::optional<Mending> best_pair(const Judge& judge, std::size_t count) {
  std::optional<Mending> best;
  for (std::size_t a = 0; a < count; ++a) {
    for (std::size_t b = a + 1; b < count; ++b) {
      const auto judged = judge.without({a, b});
      if (judged.mended() && (!best || judged.bits < best->bits)) best = Mending{{a, b}, judged.bits};
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
  for (const auto& mending : single_mendings(judge, evidence.size())) conflict.suspects.push_back(evidence[mending.observations[0]].finding);
  if (!conflict.suspects.empty()) return conflict;
  if (const auto pair = best_pair(judge, evidence.size())) {
    conflict.together = true;
    for (const auto o : pair->observations) conflict.suspects.push_back(evidence[o].finding);
  }
  return conflict;
}

}  // namespace leadline::diagnosis
