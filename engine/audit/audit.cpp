#include "engine/audit/audit.h"

#include <algorithm>

#include "engine/audit/rules.h"
#include "engine/knowledge/reader.h"

namespace leadline::audit {

namespace {

constexpr std::size_t most_samples = 6;  // half a second each with the shipped book
constexpr std::size_t most_to_be_sure = 10;  // before a rule is said to contradict its circuit

constexpr auto all_rules = {conditions_that_never_hold, causes_out_of_reach,    findings_without_cause, checks_and_proofs_that_tell_nothing, states_in_wrong_order,
                            dangers_without_precaution, lay_wording_missing,    causes_nobody_notices,          frequencies_that_do_not_add_up,
                            confusions_without_ground,  pages_much_alike,       words_misspelt,         things_unused,                       things_without_source};

}  // namespace

Audited audit(std::span<const text::Source> files) {
  auto loaded = knowledge::read_knowledge(files);
  Audited audited;
  for (auto& problem : loaded.problems) audited.remarks.push_back({std::move(problem.place), std::move(problem.what), std::move(problem.hint), "reader"});
  if (!loaded.value) return audited;
  audited.base = std::move(loaded.value);
  const Pages pages(files);
  const BoatSearch boats(*audited.base);
  auto samples = samples_of(*audited.base, boats, most_samples);
  const Shown shown(*audited.base, boats, samples);
  const Book book{*audited.base, files, pages, boats, samples, shown};
  for (const auto rule : all_rules) rule(book, audited.remarks);
  Remarks contradictions;
  rules_against_the_circuit(book, contradictions);
  if (!contradictions.empty()) {
    add_samples(*audited.base, boats, most_to_be_sure, false, samples);
    contradictions.clear();
    rules_against_the_circuit(book, contradictions);
  }
  audited.remarks.insert(audited.remarks.end(), contradictions.begin(), contradictions.end());
  std::sort(audited.remarks.begin(), audited.remarks.end());
  audited.remarks.erase(std::unique(audited.remarks.begin(), audited.remarks.end()), audited.remarks.end());
  return audited;
}

}  // namespace leadline::audit
