#include "engine/knowledge/chance.h"

#include "engine/text/number.h"

namespace leadline::knowledge {

namespace {

struct Word {
  std::string_view word;
  double chance;
};

constexpr Word scale[] = {{"always", 0.99},    {"nearly-always", 0.95}, {"usually", 0.80},    {"often", 0.60},
                          {"sometimes", 0.30}, {"seldom", 0.10},        {"hardly-ever", 0.02}};

}  // namespace

std::optional<double> chance_of(std::string_view written) {
  for (const auto& [word, chance] : scale) {
    if (word == written) return chance;
  }
  const auto number = text::parse_number(written);
  return number && *number > 0 && *number <= 1 ? number : std::nullopt;
}

std::vector<std::string> chance_words() {
  std::vector<std::string> words;
  for (const auto& entry : scale) words.emplace_back(entry.word);
  return words;
}

}  // namespace leadline::knowledge
