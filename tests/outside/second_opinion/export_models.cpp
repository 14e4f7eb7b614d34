// Writes random models, evidence and the engine's beliefs as JSON, for compare.mjs to judge with a program that is not
// ours.
#include <cstdio>
#include <iostream>
#include <nlohmann/json.hpp>

#include "engine/diagnosis/explanation.h"
#include "tests/diagnosis/random_models.h"

namespace {

using leadline::diagnosis::Evidence;
using leadline::diagnosis::Model;

constexpr std::size_t wanted = 36, most_causes = 7, most_findings = 6;

// Half of the bases are conditioned on "something is wrong", as in a call-out, half are not.
nlohmann::json as_json(const Model& model, const Evidence& evidence, const leadline::diagnosis::Diagnosis& ours) {
  nlohmann::json out{{"somethingIsWrong", model.something_is_wrong},
                     {"beliefs", ours.belief},
                     {"logEvidence", ours.log_evidence},
                     {"causes", nlohmann::json::array()},
                     {"leaks", nlohmann::json::array()},
                     {"evidence", nlohmann::json::array()}};
  for (const auto& finding : model.findings) out["leaks"].push_back(finding.leak_at_most);
  for (const auto& cause : model.causes) {
    auto pushes = nlohmann::json::array();
    for (const auto& push : cause.pushes) pushes.push_back({{"finding", push.finding}, {"atMost", push.at_most}});
    out["causes"].push_back({{"prior", cause.prior}, {"pushes", std::move(pushes)}});
  }
  for (const auto& observation : evidence)
    out["evidence"].push_back({{"finding", observation.finding}, {"likelihood", observation.likelihood}});
  return out;
}

}  // namespace

int main() {
  leadline::testing::RandomModels random(20'240'601);
  auto bases = nlohmann::json::array();
  while (bases.size() < wanted) {
    const auto model = random.model(most_causes, most_findings);
    const auto evidence = random.evidence(model);
    const auto ours = leadline::diagnosis::beliefs(model, evidence);
    const bool worth_comparing = model.causes.size() >= 3 && evidence.size() >= 2 &&
                                 ours.log_evidence > -40;  // impossible evidence: tests/diagnosis
    if (worth_comparing) bases.push_back(as_json(model, evidence, ours));
  }
  std::cout << bases.dump(1) << "\n";
  return std::cout.good() ? 0 : 1;
}
