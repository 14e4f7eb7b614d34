// Runs a fuzz target over every file of a folder, and over 2,000 seeded mutations of them: bytes changed, removed, doubled, cut off.
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const uint8_t* data, size_t size);

namespace {

void run(const std::string& text) {
  LLVMFuzzerTestOneInput(reinterpret_cast<const uint8_t*>(text.data()), text.size());
}

std::string mutated(std::string text, std::mt19937& bits) {
  static const std::string pool = "<>&\"'=/;#$@()0123456789.,-eENaninf\x00\xff\xc2\x80 \n";
  for (auto changes = 1 + bits() % 4; changes > 0 && !text.empty(); --changes) {
    const auto at = bits() % text.size();
    switch (bits() % 5) {
      case 0: text[at] = static_cast<char>(bits()); break;
      case 1: text[at] = pool[bits() % pool.size()]; break;
      case 2: text.erase(at, 1 + bits() % 8); break;
      case 3: text.insert(at, text.substr(at, bits() % 64)); break;
      default: text.resize(at); break;
    }
  }
  return text;
}

}  // namespace

int main(int count, char** arguments) {
  std::vector<std::string> seeds;
  for (int i = 1; i < count; ++i) {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(arguments[i])) paths.push_back(entry.path());
    std::sort(paths.begin(), paths.end());
    for (const auto& path : paths) {
      std::ifstream file(path, std::ios::binary);
      seeds.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
    }
  }
  if (seeds.empty()) return std::fprintf(stderr, "no seeds\n"), 1;
  std::mt19937 bits(20261125);
  for (const auto& seed : seeds) run(seed);
  for (int round = 0; round < 2000; ++round) run(mutated(seeds[bits() % seeds.size()], bits));
  std::printf("%zu seeds and 2000 mutations\n", seeds.size());
}
