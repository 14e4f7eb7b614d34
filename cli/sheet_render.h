#pragma once
// A sheet as text, JSON or HTML. Pure. What stands where: docs/sheet.md; JSON: docs/sheet-json.md. Tested by tests/cli/sheet_*_test.cpp.
#include "cli/layout.h"
#include "cli/sheet.h"

namespace leadline::cli {

Page sheet_page(const Sheet& sheet, std::size_t width);

// One JSON object and a newline, all bytes below 128; no NaN, no infinity: what is infinite is a word or null.
std::string sheet_json(const Sheet& sheet);

// One file: no script, no network, drawings inline. The same bytes in every locale.
std::string sheet_html(const Sheet& sheet);

}  // namespace leadline::cli
