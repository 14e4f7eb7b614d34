#pragma once
// What a sheet is written of: a recorded call-out, or a job that is kept. Tested by tests/cli/sheet_job_test.cpp.
#include "cli/session.h"
#include "cli/sheet.h"

namespace leadline::cli {

// `given`: the name of a job, or a file: "-", a path with a '/', or what ends in ".xml". By its form, never by what lies around: a file is a journal
// when it begins as one or is called so ("./NAME.job"). The versions and the digest of the book are left to the caller. Throws Failure: 66, 65, 74, 64.
SheetMatter sheet_matter(const Session& session, const knowledge::KnowledgeBase& base, const std::string& given);

}  // namespace leadline::cli
