#include "engine/diagnosis/fact_reach.h"

#include <algorithm>

#include "engine/installation/network_string.h"
#include "engine/knowledge/expression_tokens.h"

namespace leadline::diagnosis {

namespace {

using knowledge::Expression;
using knowledge::KnowledgeBase;
using knowledge::TokenKind;

// Marks the facts that expressions name. Each fact once: what it hangs on is marked with it.
class Marking {
 public:
  explicit Marking(const KnowledgeBase& base) : base_(base), facts_(base.facts.size()) {}

  void add(const Expression& expression) {
    const auto tokens = knowledge::tokens_of(expression.text);
    for (std::size_t t = 0; t < tokens.size(); ++t) {
      if (tokens[t].kind == TokenKind::variable) add_variable(tokens[t].text);
      const bool path = tokens[t].kind == TokenKind::name && t + 2 < tokens.size() && tokens[t + 1].text == "/@";
      if (path) add_fact(tokens[t].text, tokens[t + 2].text);
      else if (t > 1 && tokens[t - 2].text == "count") add_number_of(tokens[t].text);
    }
  }

  void add(const std::optional<Expression>& expression) {
    if (expression) add(*expression);
  }

  void add_path(const std::string& path) {
    if (const auto fact = knowledge::find_fact(base_, path)) mark(*fact);
  }

  // All that is said of the elements of that name.
  void add_element(const std::string& element) {
    add_number_of(element);
    for (std::size_t f = 0; f < base_.facts.size(); ++f) {
      if (base_.facts[f].element == element) mark(f);
    }
  }

  Facts facts() && { return std::move(facts_); }

 private:
  void add_number_of(const std::string& element) {
    if (element == "station") add_path(installation::number_of_stations);
  }

  void add_fact(const std::string& element, const std::string& name) {
    if (const auto fact = knowledge::find_fact(base_, element, name)) mark(*fact);
  }

  // $bank_volts, or $segment-length of the element a part is repeated for.
  void add_variable(const std::string& name) {
    for (const auto& quantity : base_.quantities) {
      if (quantity.name == name) return add(quantity.value);
    }
    for (std::size_t f = 0; f < base_.facts.size(); ++f) {
      if (base_.facts[f].element + "-" + base_.facts[f].name == name) mark(f);
    }
  }

  void mark(std::size_t fact) {
    if (facts_[fact]) return;
    facts_[fact] = true;
    const auto& page = base_.facts[fact];
    for (const auto& assumed : page.assume_where) add(assumed.where);
    if (page.element != "segment" && page.element != "terminator") return;
    for (const auto* path : installation::facts_of_the_string) add_path(path);
  }

  const KnowledgeBase& base_;
  Facts facts_;
};

void add_part(const knowledge::Part& part, Marking& marking) {
  for (const auto& value : part.values) marking.add(value.value);
  marking.add(part.when);
  if (!part.chemistry.empty()) marking.add_path(part.chemistry);
  if (!part.each.empty()) marking.add_element(part.each);
}

}  // namespace

Facts facts_of_circuits(const KnowledgeBase& base, const std::vector<bool>& findings) {
  std::vector<bool> circuits(base.circuits.size());
  Marking marking(base);
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    if (!findings[j] || !base.findings[j].measure) continue;
    circuits[base.findings[j].measure->circuit] = true;
    for (const auto& probe : base.findings[j].measure->probes) {
      if (!probe.each.empty()) marking.add_element(probe.each);
    }
  }
  for (std::size_t k = 0; k < circuits.size(); ++k) {
    if (!circuits[k]) continue;
    for (const auto& part : base.circuits[k].parts) add_part(part, marking);
  }
  for (const auto& cause : base.causes) {
    for (const auto& effect : cause.effects) {
      if (!circuits[effect.circuit]) continue;
      marking.add(effect.when);
      for (const auto& change : effect.changes) marking.add(change.from), marking.add(change.to);
    }
  }
  return std::move(marking).facts();
}

Facts facts_of_pages(const KnowledgeBase& base, const std::vector<bool>& findings) {
  Marking marking(base);
  for (const auto& cause : base.causes) {
    marking.add(cause.applies);
    for (const auto& adjustment : cause.adjustments) marking.add(adjustment.when);
    for (const auto& rule : cause.rules) {
      if (findings[rule.finding.index]) marking.add(rule.when);
    }
  }
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    if (!findings[j]) continue;
    marking.add(base.findings[j].applies);
    for (const auto& state : base.findings[j].states) marking.add(state.below);
  }
  return std::move(marking).facts();
}

}  // namespace leadline::diagnosis
