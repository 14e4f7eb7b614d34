#include "engine/circuit/fault.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace leadline::circuit {

namespace {

using knowledge::Change;
using knowledge::ChangeKind;
using knowledge::Effect;

// What the * of a pattern stands for in a name; nothing when it does not fit, empty for a pattern without one.
std::optional<std::string> star_in(const std::string& pattern, const std::string& name) {
  const auto star = pattern.find('*');
  if (star == std::string::npos) return pattern == name ? std::optional<std::string>("") : std::nullopt;
  const auto head = pattern.substr(0, star), tail = pattern.substr(star + 1);
  if (name.size() < head.size() + tail.size() || !name.starts_with(head) || !name.ends_with(tail)) return std::nullopt;
  return name.substr(head.size(), name.size() - head.size() - tail.size());
}

std::string with_star(std::string pattern, const std::string& star) {
  const auto at = pattern.find('*');
  return at == std::string::npos ? pattern : pattern.replace(at, 1, star);
}

std::set<std::string> nodes_of(const FittedCircuit& circuit) {
  std::set<std::string> nodes;
  for (const auto& part : circuit.parts) nodes.insert({part.from, part.to});
  return nodes;
}

// The stars under which every change of the effect finds its part or place, in the order of the parts. {""} when no change has a star.
std::vector<std::string> stars_of(const Effect& effect, const FittedCircuit& circuit) {
  std::vector<std::string> stars;
  const auto note = [&](const std::optional<std::string>& star) {
    if (star && std::find(stars.begin(), stars.end(), *star) == stars.end()) stars.push_back(*star);
  };
  const auto starred = [](const std::string& pattern) { return pattern.find('*') != std::string::npos; };
  const auto one_of_many = [&](const Change& c) { return (starred(c.part) && !c.every) || starred(c.from_node); };
  const auto first = std::find_if(effect.changes.begin(), effect.changes.end(), one_of_many);
  if (first == effect.changes.end()) return {""};
  if (first->kind != ChangeKind::join) {
    for (const auto& part : circuit.parts) note(star_in(first->part, part.id));
  } else {
    for (const auto& part : circuit.parts) {
      note(star_in(first->from_node, part.from));
      note(star_in(first->from_node, part.to));
    }
  }
  return stars;
}

std::string join_id(const std::string& from, const std::string& to) { return "join " + from + " - " + to; }

const FittedPart* find_part(const FittedCircuit& circuit, const std::string& id) {
  const auto found = std::find_if(circuit.parts.begin(), circuit.parts.end(), [&](const auto& part) { return part.id == id; });
  return found == circuit.parts.end() ? nullptr : &*found;
}

double PartNumbers::* member_of(const std::string& value) {
  if (value == "volt") return &PartNumbers::volt;
  if (value == "amp") return &PartNumbers::amp;
  if (value == "watt") return &PartNumbers::watt;
  if (value == "wake") return &PartNumbers::wake;
  if (value == "load") return &PartNumbers::load;
  return &PartNumbers::ohm;
}

// The parts a change strikes: one, or every one that fits.
std::vector<FixedChange> fixed(const Change& change, const std::string& star, const FittedCircuit& circuit, const installation::Evaluation& evaluation) {
  const auto id = change.kind == ChangeKind::join ? join_id(with_star(change.from_node, star), with_star(change.to_node, star)) : with_star(change.part, star);
  FixedChange change_of{change.kind, 0, member_of(change.value), 0, 0};
  if (change.from) change_of.from = evaluation.number(*change.from);
  change_of.to = change.to ? evaluation.number(*change.to) : change_of.from;
  std::vector<FixedChange> struck;
  for (change_of.part = 0; change_of.part < circuit.parts.size(); ++change_of.part) {
    const auto& part = circuit.parts[change_of.part];
    if (change.every ? star_in(change.part, part.id).has_value() : part.id == id) struck.push_back(change_of);
  }
  return struck;
}

void add_join(FittedCircuit& circuit, const std::string& from, const std::string& to) {
  FittedPart part;
  part.id = join_id(from, to);
  if (from == to || find_part(circuit, part.id) != nullptr) return;
  part.title = from + " to " + to;
  part.from = from;
  part.to = to;
  part.numbers.ohm = open_ohm;
  part.there = false;
  const auto conditions = circuit.parts.empty() ? 0 : circuit.parts.front().in.size();
  for (std::size_t c = 0; c < conditions; ++c) {
    const auto has = [&](const std::string& node) {
      return std::any_of(circuit.parts.begin(), circuit.parts.end(), [&](const auto& p) { return p.there && p.in[c] && (p.from == node || p.to == node); });
    };
    part.in.push_back(has(from) && has(to));
  }
  circuit.parts.push_back(std::move(part));
}

}  // namespace

bool Alternative::sized() const {
  return std::any_of(changes.begin(), changes.end(), [](const FixedChange& c) { return c.kind != ChangeKind::open && c.from != c.to; });
}

void add_possible_joins(FittedCircuit& circuit, const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation) {
  for (const auto& cause : base.causes) {
    if (cause.effects.empty() || !evaluation.holds(cause.applies)) continue;
    for (const auto& effect : cause.effects) {
      if (effect.circuit != circuit.page) continue;
      for (const auto& star : stars_of(effect, circuit)) {
        for (const auto& change : effect.changes) {
          if (change.kind != ChangeKind::join) continue;
          const auto from = with_star(change.from_node, star), to = with_star(change.to_node, star);
          const auto nodes = nodes_of(circuit);
          if (nodes.contains(from) && nodes.contains(to)) add_join(circuit, from, to);
        }
      }
    }
  }
}

std::vector<Alternative> faults_of(const knowledge::Cause& cause, const FittedCircuit& circuit, const installation::Evaluation& evaluation) {
  std::vector<Alternative> alternatives;
  double shares = 0;
  for (std::size_t e = 0; e < cause.effects.size(); ++e) {
    const auto& effect = cause.effects[e];
    if (effect.circuit != circuit.page || !evaluation.holds(effect.when)) continue;
    const auto stars = stars_of(effect, circuit);
    for (const auto& star : stars) {
      Alternative alternative{e, effect.share / static_cast<double>(stars.size()), effect.words, "", {}};
      for (const auto& change : effect.changes) {
        const auto struck = fixed(change, star, circuit, evaluation);
        alternative.changes.insert(alternative.changes.end(), struck.begin(), struck.end());
        if (!star.empty() && !change.every && !struck.empty() && alternative.struck.empty()) alternative.struck = circuit.parts[struck.front().part].title;
      }
      if (alternative.changes.empty()) continue;
      shares += alternative.share;
      alternatives.push_back(std::move(alternative));
    }
  }
  for (auto& alternative : alternatives) alternative.share /= shares;
  return alternatives;
}

double size_between(double from, double to, double size) {
  if (from > 0 && to > 0) return from * std::pow(to / from, size);
  return std::lerp(from, to, size);
}

void apply(const Alternative& alternative, double size, const FittedCircuit& circuit, std::vector<PartNumbers>& numbers) {
  for (const auto& change : alternative.changes) {
    auto& part = numbers[change.part];
    const double amount = size_between(change.from, change.to, size);
    switch (change.kind) {
      case ChangeKind::add: part.*change.value += amount; break;
      case ChangeKind::times: part.*change.value *= amount; break;
      case ChangeKind::set: part.*change.value = amount; break;
      case ChangeKind::join: part.ohm = amount; break;
      case ChangeKind::open:
        part.amp = part.watt = part.load = 0;
        if (circuit.parts[change.part].kind == knowledge::PartKind::motor) part.ohm = 1e-3, part.amp = 1, part.volt = 1;  // a motor that takes nothing
        else part.ohm = open_ohm;
        break;
    }
  }
}

}  // namespace leadline::circuit
