#include "engine/installation/restated.h"

#include <sstream>

namespace leadline::installation {

Installation with_fact(const knowledge::KnowledgeBase& base, const Installation& installation, const knowledge::Fact& fact, const std::string& value) {
  pugi::xml_document copy;
  copy.load_string(to_xml(installation).c_str());
  auto root = copy.document_element();
  if (root.child(fact.element.c_str()).empty()) root.append_child(fact.element.c_str());
  for (auto node : root.children(fact.element.c_str())) {
    if (node.attribute(fact.name.c_str()).empty()) node.append_attribute(fact.name.c_str()).set_value(value.c_str());
  }
  std::ostringstream out;
  copy.print(out);
  auto loaded = read_installation(base, {"record", out.str()});
  return loaded.value ? *loaded.value : installation;
}

}  // namespace leadline::installation
