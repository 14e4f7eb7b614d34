#include "cli/audit_page.h"

#include "cli/phrases.h"

namespace leadline::cli {

namespace {

std::string size_words(const knowledge::KnowledgeBase& base) {
  return count_words(base.causes.size(), "cause", "causes") + ", " + count_words(base.findings.size(), "finding", "findings") + ", " + count_words(base.checks.size(), "check", "checks") +
         ", " + count_words(base.remedies.size(), "remedy", "remedies");
}

}  // namespace

std::string audit_page(const audit::Audited& audited, std::size_t width) {
  std::string page;
  for (const auto& remark : audited.remarks) {
    page += wrapped(to_string(remark.place) + ": " + remark.what + (remark.way_out.empty() ? "" : "; " + remark.way_out), width, "", "    ");
  }
  const auto count = audited.remarks.empty() ? std::string("nothing to remark") : count_words(audited.remarks.size(), "remark", "remarks");
  const auto book = audited.base ? size_words(*audited.base) : std::string("a book that cannot be read");
  return page + (page.empty() ? "" : "\n") + wrapped("Audit of " + book + ": " + count + ".", width);
}

}  // namespace leadline::cli
