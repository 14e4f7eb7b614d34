// What nothing in the book refers to: left over, or named wrongly where it was meant.
#include <algorithm>
#include <set>

#include "engine/audit/rules.h"
#include "engine/audit/unused.h"
#include "engine/knowledge/expression_check.h"
#include "engine/knowledge/expression_tokens.h"
#include "engine/knowledge/numbers.h"

namespace leadline::audit {

namespace {

using knowledge::Expression;
using knowledge::KnowledgeBase;
using knowledge::Ref;

// By index: is it referred to?
template <class T>
class Used {
 public:
  explicit Used(const std::vector<T>& items) : items_(items), used_(items.size(), false) {}
  void add(Ref<T> ref) { used_[ref.index] = true; }
  void add(const std::vector<Ref<T>>& refs) {
    for (const auto ref : refs) add(ref);
  }
  void report_others(const std::string& what, Remarks& remarks, const std::set<std::string>& but = {}) const {
    for (std::size_t i = 0; i < items_.size(); ++i) {
      if (!used_[i] && !but.contains(items_[i].id)) remarks.push_back({items_[i].place, "nothing names the " + what + " '" + items_[i].id + "'", "name it where it belongs, or leave it out", "unused"});
    }
  }

 private:
  const std::vector<T>& items_;
  std::vector<bool> used_;
};

struct AllUsed {
  explicit AllUsed(const KnowledgeBase& base)
      : precautions(base.precautions), sources(base.sources), tools(base.tools), places(base.places), conditions(base.conditions), remedies(base.remedies) {
    for (const auto& check : base.checks) add(check);
    for (const auto& remedy : base.remedies) add(remedy);
    for (const auto& cause : base.causes) {
      for (const auto& mend : cause.mends) remedies.add(mend.remedy);
    }
    for (const auto& item : knowledge::all_numbers(base)) {
      for (const auto& citation : item.citations) sources.add(citation.source);
    }
    for (const auto& inherited : base.inherited) sources.add(inherited.certificate.source);
  }
  template <class Action>
  void add(const Action& action) {
    precautions.add(action.precautions);
    tools.add(action.effort.tools);
    places.add(action.effort.places);
    if (action.effort.condition) conditions.add(*action.effort.condition);
  }

  Used<knowledge::Precaution> precautions;
  Used<knowledge::Source> sources;
  Used<knowledge::Tool> tools;
  Used<knowledge::WorkPlace> places;
  Used<knowledge::Condition> conditions;
  Used<knowledge::Remedy> remedies;
};

// Every expression of the book but those of quantities.
std::vector<const Expression*> expressions_of(const KnowledgeBase& base) {
  std::vector<const Expression*> all;
  const auto add = [&](const std::optional<Expression>& expression) {
    if (expression) all.push_back(&*expression);
  };
  for (const auto& finding : base.findings) {
    add(finding.applies);
    for (const auto& state : finding.states) add(state.below);
  }
  for (const auto& check : base.checks) add(check.applies);
  for (const auto& remedy : base.remedies) add(remedy.applies);
  for (const auto& cause : base.causes) {
    add(cause.applies);
    for (const auto& adjustment : cause.adjustments) all.push_back(&adjustment.when);
    for (const auto& rule : cause.rules) add(rule.when);
    for (const auto& effect : cause.effects) {
      add(effect.when);
      for (const auto& change : effect.changes) add(change.from), add(change.to);
    }
  }
  for (const auto& circuit : base.circuits) {
    for (const auto& part : circuit.parts) {
      add(part.when);
      for (const auto& value : part.values) all.push_back(&value.value);
    }
  }
  return all;
}

struct Names {
  std::set<std::string> quantities, facts;   // facts by path

  void add_filled_in(const std::string& element, const std::string& name) {  // "H at {@from}"
    for (auto at = name.find("{@"); at != std::string::npos; at = name.find("{@", at + 1)) facts.insert(element + "/@" + name.substr(at + 2, name.find('}', at) - at - 2));
  }
  void add(const KnowledgeBase& base, const std::string& expression) {
    const auto tokens = knowledge::tokens_of(expression);
    for (std::size_t t = 0; t < tokens.size(); ++t) {
      if (tokens[t].kind == knowledge::TokenKind::variable && quantities.insert(tokens[t].text).second) add_variable(base, tokens[t].text);
      if (tokens[t].kind == knowledge::TokenKind::name && t + 2 < tokens.size() && tokens[t + 1].text == "/@") facts.insert(tokens[t].text + "/@" + tokens[t + 2].text);
    }
  }
  void add_variable(const KnowledgeBase& base, const std::string& name) {
    for (const auto& quantity : base.quantities) {
      if (quantity.name == name) add(base, quantity.value.text);
    }
    for (const auto& fact : base.facts) {
      if (knowledge::each_variable(fact) == name) facts.insert(fact.path());
    }
  }
};

void add_names_of_circuits(const KnowledgeBase& base, Names& names) {
  for (const auto& circuit : base.circuits) {
    for (const auto& part : circuit.parts) {
      names.facts.insert(part.chemistry);
      for (const auto* name : {&part.id, &part.from, &part.to, &part.title}) names.add_filled_in(part.each, *name);
    }
  }
  for (const auto& finding : base.findings) {
    if (!finding.measure) continue;
    for (const auto& probe : finding.measure->probes) {
      names.add_filled_in(probe.each, probe.from);
      names.add_filled_in(probe.each, probe.to);
    }
  }
}

void names_unused(const KnowledgeBase& base, Remarks& remarks) {
  Names names;
  for (const auto* expression : expressions_of(base)) names.add(base, expression->text);
  add_names_of_circuits(base, names);
  for (const auto& quantity : base.quantities) {
    if (!names.quantities.contains(quantity.name)) {
      remarks.push_back({quantity.value.place, "no expression uses the quantity '$" + quantity.name + "'", "use it, or leave it out", "unused"});
    }
  }
  for (const auto& fact : base.facts) {
    const auto path = fact.path();
    const bool by_us = std::find(facts_of_the_program.begin(), facts_of_the_program.end(), path) != facts_of_the_program.end();
    if (!by_us && !names.facts.contains(path)) remarks.push_back({fact.place, "no expression uses the fact '" + path + "'", "use it, or leave it out", "unused"});
  }
}

bool read_there(const KnowledgeBase& base, std::size_t circuit, std::optional<std::size_t> condition) {
  return std::any_of(base.findings.begin(), base.findings.end(), [&](const auto& finding) {
    if (!finding.measure || finding.measure->circuit != circuit) return false;
    const auto& probes = finding.measure->probes;
    return !condition || std::any_of(probes.begin(), probes.end(), [&](const auto& probe) { return probe.condition == *condition; });
  });
}

void circuits_unread(const Book& book, Remarks& remarks) {
  const auto& base = book.base;
  for (std::size_t k = 0; k < base.circuits.size(); ++k) {
    const auto& circuit = base.circuits[k];
    if (!read_there(base, k, std::nullopt)) {
      remarks.push_back({circuit.place, "no finding measures anything in the circuit '" + circuit.id + "'", "tie a finding to it by <measure>, or leave it out", "unused"});
      continue;
    }
    for (std::size_t c = 0; c < circuit.conditions.size(); ++c) {
      const auto& id = circuit.conditions[c].id;
      if (read_there(base, k, c)) continue;
      remarks.push_back({book.pages.of("circuit", circuit.id).child("condition", "id", id).place(), "no finding is measured under the condition '" + id + "' of the circuit '" + circuit.id + "'",
                         "tie a finding to it, or leave it out", "unused"});
    }
  }
}

bool reads_otherwise(const circuit::Bench& bench, std::size_t part, double ohm) {
  auto numbers = circuit::numbers_of(bench.healthy());
  auto& changed = numbers[part];
  changed.ohm = ohm, changed.volt += 1, changed.amp += 1, changed.watt += 10, changed.wake += 1;
  const std::vector<bool> all(bench.conditions_of({part}).size(), true);
  const auto moved = bench.moved(bench.probed(numbers, all, bench.probed_healthy()), bench.probed_healthy());
  return std::find(moved.begin(), moved.end(), true) != moved.end();
}

// Quite another part in its place, an open or a bridged one at that: does any probe read otherwise?
bool noticed(const circuit::Bench& bench, std::size_t part) {
  constexpr double bridged_ohm = 0.001;
  return reads_otherwise(bench, part, circuit::open_ohm) || reads_otherwise(bench, part, bridged_ohm);
}

// The part of the book that a fitted part comes from: "line-{@from}-{@to}" becomes "line-bow-helm".
bool comes_from(const std::string& fitted, const std::string& written) {
  const auto open = written.find("{@");
  return open == std::string::npos ? fitted == written : fitted.starts_with(written.substr(0, open));
}

void parts_unnoticed(const Book& book, Remarks& remarks) {
  for (std::size_t k = 0; k < book.base.circuits.size(); ++k) {
    if (!read_there(book.base, k, std::nullopt)) continue;
    for (const auto& part : book.base.circuits[k].parts) {
      bool fitted = false, seen = false;
      for (const auto& sample : book.samples) {
        const auto* bench = sample.boat.expectation->bench(k);
        if (bench == nullptr) continue;
        const auto& parts = bench->healthy().parts;
        for (std::size_t p = 0; p < parts.size() && !seen; ++p) {
          if (!parts[p].there || !comes_from(parts[p].id, part.id)) continue;
          fitted = true;
          seen = noticed(*bench, p);
        }
      }
      if (!fitted || seen) continue;
      remarks.push_back({part.place, "no reading depends on the part '" + part.id + "' of the circuit '" + book.base.circuits[k].id + "'", "join it to what is measured, or leave it out", "unused"});
    }
  }
}

template <class Item>
void without_source(const std::vector<Item>& items, const std::string& what, Remarks& remarks) {
  for (const auto& item : items) {
    if (item.sources.empty()) remarks.push_back({item.place, "the " + what + " '" + item.id + "' has no source", "add <source ref=\"…\"/>: 'common-practice' and 'estimate' are sources too", "no-source"});
  }
}

}  // namespace

void things_unused(const Book& book, Remarks& remarks) {
  const AllUsed used(book.base);
  used.precautions.report_others("precaution", remarks);
  used.sources.report_others("source", remarks, {"common-practice", "estimate"});
  used.tools.report_others("tool", remarks);
  used.places.report_others("place", remarks);
  used.conditions.report_others("condition", remarks);
  used.remedies.report_others("remedy", remarks);
  names_unused(book.base, remarks);
  circuits_unread(book, remarks);
  parts_unnoticed(book, remarks);
}

void things_without_source(const Book& book, Remarks& remarks) {
  without_source(book.base.checks, "check", remarks);
  without_source(book.base.remedies, "remedy", remarks);
  without_source(book.base.places, "place", remarks);
  without_source(book.base.conditions, "condition", remarks);
}

}  // namespace leadline::audit
