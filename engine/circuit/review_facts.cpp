#include "engine/circuit/review_facts.h"

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "engine/text/number.h"

namespace leadline::circuit {

namespace {

const installation::Assumed* assumed_fact(const installation::Installation& boat, const std::string& path) {
  const auto& all = boat.assumed();
  const auto found = std::find_if(all.begin(), all.end(), [&](const auto& fact) { return fact.path == path; });
  return found == all.end() ? nullptr : &*found;
}

double number_of(pugi::xml_attribute attribute) { return text::parse_number(attribute.value()).value_or(std::numeric_limits<double>::quiet_NaN()); }

const ReviewRule& rule_of(const std::string& id) {
  const auto rules = review_rules();
  const auto found = std::find_if(rules.begin(), rules.end(), [&](const auto& rule) { return rule.id == id; });
  if (found == rules.end()) throw std::logic_error("no review rule '" + id + "'");
  return *found;
}

}  // namespace

bool Facts::note(const std::string& path) {
  const auto* fact = assumed_fact(*boat_, path);
  if (fact == nullptr) return false;
  const auto known = std::any_of(assumed_.begin(), assumed_.end(), [&](const auto& a) { return a.path == path; });
  if (!known) assumed_.push_back(*fact);
  return true;
}

void Facts::decisive(const std::string& path) {
  if (note(path)) decided_by_assumption_ = true;
}

double Facts::number(const std::string& path) {
  decisive(path);
  return number_of(installation::attribute_at(root(), path));
}

std::string Facts::word(const std::string& path) {
  decisive(path);
  return installation::attribute_at(root(), path).value();
}

double Facts::detail(const std::string& path) {
  note(path);
  return number_of(installation::attribute_at(root(), path));
}

std::string Facts::detail_word(const std::string& path) {
  note(path);
  return installation::attribute_at(root(), path).value();
}

bool Facts::stated(const std::string& path) const {
  return assumed_fact(*boat_, path) == nullptr && (path.find("/@") == std::string::npos || !installation::attribute_at(root(), path).empty());
}

double number_in(pugi::xml_node element, const char* fact) { return number_of(element.attribute(fact)); }
std::string word_in(pugi::xml_node element, const char* fact) { return element.attribute(fact).value(); }

std::string shown(double value, int decimals, const std::string& unit) {
  return text::format_number(value, decimals) + (unit.empty() ? "" : " " + unit);
}

std::string named(const std::vector<std::string>& names) {
  const auto told = names.size() > 6 ? 5 : names.size();
  std::string out;
  for (std::size_t n = 0; n < told; ++n) out += (n == 0 ? "" : n + 1 == names.size() ? " and " : ", ") + names[n];
  return told == names.size() ? out : out + " and " + std::to_string(names.size() - told) + " more";
}

Remark remark(const Facts& facts, const std::string& rule, Severity severity, const std::string& what, const std::string& way_out) {
  const auto& known = rule_of(rule);
  const auto softened = facts.decided_by_assumption() ? Severity::doubtful : severity;
  return {rule, softened, what, way_out, {}, known.sources, known.causes, facts.assumed()};
}

bool networked(const installation::Installation& boat) {
  const auto supply = word_in(boat.root().child("network"), "supply");
  return !supply.empty() && supply != "none";
}

}  // namespace leadline::circuit
