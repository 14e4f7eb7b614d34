#pragma once
// The looks of the HTML sheet: paper, ink and one signal colour; print rules for A4 and Letter. Tested in a browser by tests/outside/sheet.

namespace leadline::cli {

// Holds none of & < > " ': it goes into <style> as it is.
extern const char* const sheet_style;

}  // namespace leadline::cli
