// Beside rank_json.cpp, review_json.cpp and trial_page.cpp the only file that includes the JSON library.
#include <nlohmann/json.hpp>

#include "cli/audit_page.h"

namespace leadline::cli {

namespace {

using nlohmann::ordered_json;

constexpr int schema = 1;

ordered_json remark_json(const audit::Remark& remark) {
  return {{"rule", remark.rule}, {"file", remark.place.file}, {"line", remark.place.line}, {"column", remark.place.column}, {"what", remark.what}, {"way_out", remark.way_out}};
}

}  // namespace

std::string audit_json(const audit::Audited& audited) {
  auto remarks = ordered_json::array();
  for (const auto& remark : audited.remarks) remarks.push_back(remark_json(remark));
  const ordered_json document{{"schema", schema}, {"readable", audited.base.has_value()}, {"remarks", remarks}};
  return document.dump(2, ' ', true, ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace leadline::cli
