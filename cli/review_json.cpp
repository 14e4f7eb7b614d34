// Beside rank_json.cpp the only file that includes the JSON library.
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/review_page.h"

namespace leadline::cli {

namespace {

using nlohmann::ordered_json;

constexpr int schema = 1;

std::string tag_word(circuit::Tag tag) {
  switch (tag) {
    case circuit::Tag::read:
      return "read";
    case circuit::Tag::memory:
      return "memory";
    case circuit::Tag::derived:
      return "derived";
    case circuit::Tag::common_practice:
      return "common-practice";
  }
  return "";
}

// Rounded to what is shown: the same bytes from every compiler.
double rounded(const circuit::Figure& figure) {
  const double scale = std::pow(10.0, figure.decimals);
  return std::round(figure.value * scale) / scale;
}

ordered_json remark_json(const circuit::Remark& remark) {
  auto figures = ordered_json::array(), sources = ordered_json::array(), assumed = ordered_json::array();
  for (const auto& figure : remark.figures)
    figures.push_back({{"what", figure.what}, {"value", rounded(figure)}, {"unit", figure.unit}, {"how", figure.how}});
  for (const auto& source : remark.sources) sources.push_back({{"title", source.title}, {"tag", tag_word(source.tag)}});
  for (const auto& fact : remark.assumed) assumed.push_back({{"fact", fact.path}, {"value", fact.value}});
  return {{"rule", remark.rule},     {"severity", remark.severity == circuit::Severity::wrong ? "wrong" : "doubtful"},
          {"what", remark.what},     {"way_out", remark.way_out},
          {"figures", figures},      {"sources", sources},
          {"causes", remark.causes}, {"assumed", assumed}};
}

}  // namespace

std::string review_json(const std::string& name, const std::vector<circuit::Remark>& remarks) {
  auto list = ordered_json::array();
  for (const auto& remark : remarks) list.push_back(remark_json(remark));
  const ordered_json document{{"schema", schema},
                              {"installation", name},
                              {"wrong", count_of(remarks, circuit::Severity::wrong)},
                              {"doubtful", count_of(remarks, circuit::Severity::doubtful)},
                              {"remarks", list}};
  return document.dump(2, ' ', true, ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace leadline::cli
