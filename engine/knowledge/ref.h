#pragma once
// References into the lists of the knowledge base. Tested by tests/knowledge/reader_test.cpp.
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leadline::knowledge {

// A position in the list of its kind. A Ref<Cause> is not a Ref<Finding>: a wrong identity does not compile.
template <class T>
struct Ref {
  std::size_t index = 0;
  friend auto operator<=>(const Ref&, const Ref&) = default;
};

// The item of that id, when there is one.
template <class T>
std::optional<Ref<T>> find_id(const std::vector<T>& items, std::string_view id) {
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (items[i].id == id) return Ref<T>{i};
  }
  return std::nullopt;
}

template <class T>
std::vector<std::string> ids_of(const std::vector<T>& items) {
  std::vector<std::string> ids;
  for (const auto& item : items) ids.push_back(item.id);
  return ids;
}

}  // namespace leadline::knowledge
