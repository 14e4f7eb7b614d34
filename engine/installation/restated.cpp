#include "engine/installation/restated.h"

#include <algorithm>
#include <sstream>

#include "engine/installation/network_string.h"
#include "engine/text/number.h"

namespace leadline::installation {

std::optional<Installation> with_fact(const knowledge::KnowledgeBase& base, const Installation& installation, const knowledge::Fact& fact, const std::string& value) {
  // Stated by the stations that are written: the record as XML does not say their number beside them.
  if (fact.path() == number_of_stations && !assumed_for(installation, fact)) return installation;
  pugi::xml_document copy;
  copy.load_string(to_xml(installation).c_str());
  auto root = copy.document_element();
  if (root.child(fact.element.c_str()).empty()) root.append_child(fact.element.c_str());
  for (auto node : root.children(fact.element.c_str())) {
    if (node.attribute(fact.name.c_str()).empty()) node.append_attribute(fact.name.c_str()).set_value(value.c_str());
  }
  std::ostringstream out;
  copy.print(out);
  return read_installation(base, {"record", out.str()}).value;
}

std::vector<std::string> other_values(const Installation& installation, const knowledge::Fact& fact) {
  std::vector<std::string> values;
  const auto assumed = assumed_for(installation, fact);
  if (!assumed) return values;
  for (const auto& choice : possible_choices(installation, fact)) {
    if (choice.id != *assumed) values.push_back(choice.id);
  }
  if (!fact.choices.empty() || fact.type != knowledge::FactType::number) return values;
  const double middle = text::parse_number(*assumed).value_or(0);
  // A setting in volts is known to within a tenth; a length, a cross-section or an age may be anything.
  const double far = fact.unit == "V" ? 1.05 : 1.5;
  for (const double factor : {1 / far, far}) {
    const double value = std::clamp(middle * factor, fact.least.value_or(-1e9), fact.most.value_or(1e9));
    if (value != middle) values.push_back(text::format_number(value, 2));
  }
  return values;
}

}  // namespace leadline::installation
