#pragma once
// What the audit of a book found, and how far the book carries, as text and as JSON. Pure. Tested by tests/cli/audit_test.cpp.
#include "cli/layout.h"
#include "engine/audit/audit.h"
#include "engine/audit/report.h"

namespace leadline::cli {

// "file:line:column: words; way out", one remark after the other, and how many there are.
std::string audit_page(const audit::Audited& audited, std::size_t width);

// `titles` of the recorded call-outs the report was given.
Page audit_report_page(const knowledge::KnowledgeBase& base, const audit::Report& report, const std::vector<std::string>& titles, std::size_t width);

// docs/audit-json.md; `report` may be null. ASCII in every locale.
std::string audit_json(const audit::Audited& audited, const audit::Report* report, const std::vector<std::string>& titles);

}  // namespace leadline::cli
