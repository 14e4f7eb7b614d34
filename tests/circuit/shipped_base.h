#pragma once
// The knowledge base of the folder knowledge/, for tests of rooms that must fit it.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "engine/knowledge/reader.h"

namespace leadline::testing {

inline const knowledge::KnowledgeBase& shipped_base() {
  static const auto base = [] {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(std::string(LEADLINE_SOURCE_DIR) + "/knowledge")) {
      if (entry.path().extension() == ".xml") paths.push_back(entry.path());
    }
    std::sort(paths.begin(), paths.end());
    std::vector<text::Source> files;
    for (const auto& path : paths) {
      std::ifstream in(path, std::ios::binary);
      std::ostringstream content;
      content << in.rdbuf();
      files.push_back({path.filename().string(), content.str()});
    }
    auto loaded = knowledge::read_knowledge(files);
    if (!loaded.value) throw std::runtime_error("the shipped knowledge does not load:\n" + text::render(loaded.problems, files));
    return *std::move(loaded.value);
  }();
  return base;
}

}  // namespace leadline::testing
