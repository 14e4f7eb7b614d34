#include "engine/installation/record.h"

#include <algorithm>
#include <iterator>
#include <sstream>
#include <stdexcept>

#include "engine/installation/decimal_mark.h"
#include "engine/installation/network_string.h"
#include "engine/markup/element.h"
#include "engine/text/number.h"
#include "engine/text/spelling.h"

namespace leadline::installation {

namespace {

using knowledge::Fact;
using knowledge::FactType;
using knowledge::KnowledgeBase;
using markup::Element;

const knowledge::RecordElement* find_element(const KnowledgeBase& base, const std::string& name) {
  const auto found = std::find_if(base.elements.begin(), base.elements.end(), [&](const auto& e) { return e.name == name; });
  return found == base.elements.end() ? nullptr : &*found;
}

void check_facts(const KnowledgeBase& base, const Element& element) {
  std::vector<std::string> known;
  for (const auto& fact : base.facts) {
    if (fact.element == element.name()) known.push_back(fact.name);
  }
  for (const auto attribute : element.node().attributes()) {
    const auto at = knowledge::find_fact(base, element.name(), attribute.name());
    const auto place = element.place(attribute.name());
    if (!at) {
      element.report(place, "'" + element.name() + "' has no fact '" + attribute.name() + "'", text::suggestion(attribute.name(), known, 20));
    } else if (const auto why = why_not(base.facts[*at], attribute.value()); !why.empty()) {
      element.report(place, "'" + std::string(attribute.value()) + "' cannot be " + base.facts[*at].path(), why);
    }
  }
  for (const auto child : element.node().children()) {
    if (child.type() != pugi::node_comment) element.report(element.document().place(child), "'" + element.name() + "' holds facts as attributes only");
  }
}

// What may be left out altogether is worth nothing half said: its places cannot be assumed.
void check_optional(const KnowledgeBase& base, const Element& element) {
  for (const auto& fact : base.facts) {
    if (fact.element == element.name() && fact.type == FactType::text && !element.has(fact.name.c_str())) {
      element.report(element.place(), "this " + element.name() + " lacks '" + fact.name + "'", "name the device or joint: " + fact.name + "=\"helm\"");
    }
  }
}

// More stations than the record says there are.
void check_stations(const Element& root) {
  const auto stations = root.node().children("station");
  const auto written = std::distance(stations.begin(), stations.end());
  const auto network = root.node().child("network");
  const auto said = text::parse_number(network.attribute("stations").value());
  if (said && static_cast<double>(written) > *said) {
    root.report(root.document().place(network), "'stations' says " + text::format_number(*said, 0) + ", and " + std::to_string(written) + " are written",
                "leave 'stations' out: those that are written are counted");
  }
}

void check_record(const KnowledgeBase& base, const Element& root) {
  std::vector<std::string> known;
  for (const auto& element : base.elements) known.push_back(element.name);
  for (const auto attribute : root.node().attributes()) {
    if (std::string_view(attribute.name()) != "name") root.report(root.place(attribute.name()), std::string("'installation' has no attribute '") + attribute.name() + "'", "only 'name'");
  }
  for (const auto child : root.node().children()) {
    if (child.type() == pugi::node_comment) continue;
    text::Problems collected;
    const std::string name = child.name();
    const auto* declared = find_element(base, name);
    const auto place = root.document().place(child);
    if (child.type() != pugi::node_element) {
      root.report(place, "text stands directly in 'installation'", "state facts as attributes of elements");
      continue;
    }
    if (declared == nullptr) {
      root.report(place, "the record has no element '" + name + "'", text::suggestion(name, known, 20));
      continue;
    }
    const bool second = child != root.node().child(name.c_str());
    if (second && !declared->repeats) root.report(place, "a second '" + name + "'", "a boat has one");
    const Element element(root.document(), child, collected);
    check_facts(base, element);
    if (declared->optional) check_optional(base, element);
    for (const auto& problem : collected) root.report(problem.place, problem.what, problem.hint);
  }
  if (knowledge::find_fact(base, number_of_stations)) check_stations(root);
}

bool holds_on(pugi::xml_node root, const knowledge::Expression& condition) {
  const PointAsDecimalMark point;
  return pugi::xpath_query(condition.text.c_str()).evaluate_boolean(root);
}

// Facts declared before it are complete in `root`, and its conditions name no others.
const std::string& assumed_value(const Fact& fact, pugi::xml_node root) {
  for (const auto& [value, where] : fact.assume_where) {
    if (holds_on(root, where)) return value;
  }
  return fact.assume;
}

// Elements of that name; one is made when there is none and the boat must have one.
std::vector<pugi::xml_node> present(pugi::xml_node root, const knowledge::RecordElement& element) {
  std::vector<pugi::xml_node> nodes;
  for (const auto node : root.children(element.name.c_str())) nodes.push_back(node);
  if (nodes.empty() && !element.optional) nodes.push_back(root.append_child(element.name.c_str()));
  return nodes;
}

Installation complete(const KnowledgeBase& base, std::shared_ptr<pugi::xml_document> tree) {
  std::vector<Assumed> assumed;
  const auto root = tree->document_element();
  if (const auto fact = knowledge::find_fact(base, number_of_stations)) place_stations(root, base.facts[*fact]);
  for (const auto& element : base.elements) {
    for (auto node : present(root, element)) {
      for (const auto& fact : base.facts) {
        if (fact.element != element.name || !node.attribute(fact.name.c_str()).empty()) continue;
        const auto value = fact.path() == number_of_a_station ? free_station_number(root, fact) : assumed_value(fact, root);
        node.append_attribute(fact.name.c_str()).set_value(value.c_str());
        const bool listed = std::any_of(assumed.begin(), assumed.end(), [&](const auto& a) { return a.path == fact.path() && a.value == value; });
        if (!listed && fact.type != FactType::text) assumed.push_back({fact.path(), value});
      }
    }
  }
  if (find_element(base, "segment") != nullptr && find_element(base, "terminator") != nullptr) complete_string(root, assumed);
  return {std::move(tree), std::move(assumed)};
}

}  // namespace

std::string why_not(const Fact& fact, const std::string& value) {
  const auto ids = knowledge::ids_of(fact.choices);
  if (fact.type == FactType::text) return "";
  if (fact.type == FactType::choice) {
    if (std::find(ids.begin(), ids.end(), value) != ids.end()) return "";
    return text::suggestion(value, ids);
  }
  const auto number = text::parse_number(value);
  if (!number) return text::number_hint(value);
  const auto unit = fact.unit.empty() ? "" : " " + fact.unit;
  const auto same = [&](const std::string& id) { return text::parse_number(id) == number; };
  if (!ids.empty() && std::none_of(ids.begin(), ids.end(), same)) {
    std::string known = "one of";
    for (const auto& id : ids) known += " " + id;
    return known + unit;
  }
  const bool low = fact.least && *number < *fact.least, high = fact.most && *number > *fact.most;
  if (!low && !high) return "";
  return "from " + text::format_number(fact.least.value_or(*number), 3) + " to " + text::format_number(fact.most.value_or(*number), 3) + unit;
}

std::vector<knowledge::Choice> possible_choices(const Installation& installation, const Fact& fact) {
  std::vector<knowledge::Choice> possible;
  for (const auto& choice : fact.choices) {
    if (!choice.where || holds_on(installation.root(), *choice.where)) possible.push_back(choice);
  }
  return possible;
}

std::optional<std::string> assumed_for(const Installation& installation, const Fact& fact) {
  for (const auto& [path, value] : installation.assumed()) {
    if (path == fact.path()) return value;
  }
  return std::nullopt;
}

bool is_assumed(const Installation& installation, std::string_view path) {
  const auto& assumed = installation.assumed();
  return std::any_of(assumed.begin(), assumed.end(), [&](const auto& fact) { return fact.path == path; });
}

bool is_assumed(const Installation& installation, std::string_view path, std::string_view value) {
  const auto& assumed = installation.assumed();
  return std::any_of(assumed.begin(), assumed.end(), [&](const auto& fact) { return fact.path == path && fact.value == value; });
}

Installation read_installation(const KnowledgeBase& base, const Element& element) {
  check_record(base, element);
  auto tree = std::make_shared<pugi::xml_document>();
  tree->append_copy(element.node());
  return complete(base, std::move(tree));
}

text::Loaded<Installation> read_installation(const KnowledgeBase& base, const text::Source& file) {
  auto parsed = markup::parse(file);
  if (!parsed.value) return {std::nullopt, std::move(parsed.problems)};
  text::Problems problems;
  const Element root(*parsed.value, parsed.value->root(), problems);
  if (root.name() != "installation") root.report(root.place(), "the root element is '" + root.name() + "'", "expected <installation>");
  auto installation = read_installation(base, root);
  text::sort_by_place(problems);
  if (text::has_error(problems)) return {std::nullopt, std::move(problems)};
  return {std::move(installation), std::move(problems)};
}

Installation make_installation(const KnowledgeBase& base, const std::vector<Stated>& stated) {
  auto tree = std::make_shared<pugi::xml_document>();
  auto root = tree->append_child("installation");
  for (const auto& [path, value] : stated) {
    const auto at = knowledge::find_fact(base, path);
    if (!at) throw std::invalid_argument("no fact '" + path + "'");
    const auto &element = base.facts[*at].element, &name = base.facts[*at].name;
    auto node = root.child(element.c_str());
    if (node.empty()) node = root.append_child(element.c_str());
    node.remove_attribute(name.c_str());
    node.append_attribute(name.c_str()).set_value(value.c_str());
  }
  return complete(base, std::move(tree));
}

pugi::xml_attribute attribute_at(pugi::xml_node root, const std::string& path) {
  const auto slash = path.find("/@");
  return slash == std::string::npos ? pugi::xml_attribute() : root.child(path.substr(0, slash).c_str()).attribute(path.substr(slash + 2).c_str());
}

std::string to_xml(const Installation& installation) {
  pugi::xml_document copy;
  copy.append_copy(installation.root());
  const auto without = [&](const std::string& element) { while (copy.document_element().remove_child(element.c_str())) {} };
  for (const auto& [path, value] : installation.assumed()) {
    if (path.find('@') == std::string::npos) without(path);  // whole elements: the string
    if (path == number_of_stations) without("station");      // nothing is said of it
  }
  copy.document_element().child("network").remove_attribute("stations");  // as many as stand there
  for (auto element : copy.document_element().children()) {
    for (const auto& [path, value] : installation.assumed()) {
      const auto slash = path.find("/@");
      const bool here = path.substr(0, slash) == element.name();
      const auto attribute = element.attribute(path.substr(slash + 2).c_str());
      if (here && value == attribute.value()) element.remove_attribute(attribute);
    }
  }
  std::ostringstream out;
  copy.document_element().print(out, "  ");
  return out.str();
}

}  // namespace leadline::installation
