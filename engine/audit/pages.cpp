#include "engine/audit/pages.h"

#include <stdexcept>

namespace leadline::audit {

Written Written::child(const char* name, const char* attribute, const std::string& value) const {
  const auto found = node.find_child_by_attribute(name, attribute, value.c_str());
  return found.empty() ? *this : Written{document, found};
}

Pages::Pages(std::span<const text::Source> sources) {
  documents_.reserve(sources.size());  // `written_` points into it
  for (const auto& source : sources) {
    auto parsed = markup::parse(source);
    if (!parsed.value) throw std::logic_error("audited before it was read: " + source.name);
    documents_.push_back(*std::move(parsed.value));
    for (const auto node : documents_.back().root().children()) {
      if (node.type() == pugi::node_element) written_.emplace(std::pair(std::string(node.name()), std::string(node.attribute("id").value())), Written{&documents_.back(), node});
    }
  }
}

const Written& Pages::of(const std::string& kind, const std::string& id) const {
  const auto found = written_.find({kind, id});
  if (found == written_.end()) throw std::logic_error("no file has <" + kind + " id=\"" + id + "\">");
  return found->second;
}

const Written* Pages::only(const std::string& kind) const {
  const auto found = written_.find({kind, ""});
  return found == written_.end() ? nullptr : &found->second;
}

}  // namespace leadline::audit
