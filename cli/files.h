#pragma once
// The only place that opens files. A failure names the file and the system's reason. Tested by tests/cli/golden_test.cpp.
#include <iosfwd>
#include <string>
#include <vector>

#include "engine/text/place.h"

namespace leadline::cli {

// Throws Failure: 66 when the file is not there or may not be read, 74 when reading it fails, 65 beyond 16 MiB.
text::Source read_file(const std::string& path);
// "-" stands for `in`, named "standard input".
text::Source read_file_or(const std::string& path, std::istream& in);
// The *.xml files of a folder, by name. Throws Failure 66 when there is no such folder or no such file in it.
std::vector<text::Source> read_folder(const std::string& path);

// The file of that name in each folder of a folder that has one, by the folders' names. Throws Failure 66 when there is none.
std::vector<text::Source> read_folders(const std::string& path, const std::string& name);

// Writes beside the file and then renames: a half-written file never bears the name. Throws Failure 74.
void write_file(const std::string& path, const std::string& content);
// Why the file could not be written later, as far as can be told now; empty when it seems possible.
std::string why_not_writable(const std::string& path);

}  // namespace leadline::cli
