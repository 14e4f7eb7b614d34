#include "engine/knowledge/knowledge_base.h"

namespace leadline::knowledge {

std::optional<std::size_t> find_state(const Finding& finding, std::string_view id) {
  for (std::size_t i = 0; i < finding.states.size(); ++i) {
    if (finding.states[i].id == id) return i;
  }
  return std::nullopt;
}

std::optional<std::size_t> find_fact(const KnowledgeBase& kb, std::string_view element, std::string_view name) {
  for (std::size_t i = 0; i < kb.facts.size(); ++i) {
    if (kb.facts[i].element == element && kb.facts[i].name == name) return i;
  }
  return std::nullopt;
}

std::optional<std::size_t> find_fact(const KnowledgeBase& kb, std::string_view path) {
  const auto slash = path.find("/@");
  return slash == std::string_view::npos ? std::nullopt : find_fact(kb, path.substr(0, slash), path.substr(slash + 2));
}

std::string_view to_string(Who who) {
  switch (who) {
    case Who::owner: return "owner";
    case Who::technician: return "technician";
    case Who::specialist: return "specialist";
  }
  return "";
}

std::string_view to_string(Water water) {
  switch (water) {
    case Water::any: return "any";
    case Water::afloat: return "afloat";
    case Water::ashore: return "ashore";
  }
  return "";
}

}  // namespace leadline::knowledge
