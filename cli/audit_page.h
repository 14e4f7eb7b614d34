#pragma once
// What the audit of a book found, as text and as JSON. Pure. Tested by tests/cli/audit_test.cpp.
#include "cli/layout.h"
#include "engine/audit/audit.h"

namespace leadline::cli {

// "file:line:column: words; way out", one remark after the other, and how many there are.
std::string audit_page(const audit::Audited& audited, std::size_t width);

// docs/audit-json.md. ASCII in every locale.
std::string audit_json(const audit::Audited& audited);

}  // namespace leadline::cli
