// What `leadline sheet` says to bad input, and where it writes.
#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

#include "tests/cli/in_process.h"
#include "tests/cli/slurp.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline {
namespace {

namespace fs = std::filesystem;
using testing::run_program;

const std::string empty_call = "<callout><title>t</title><installation/></callout>";

struct BadRow {
  std::string_view name;
  std::vector<std::string> arguments;
  std::string typed;
  int code;
  std::string err;
};
class BadSheet : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadSheet, IsRefusedWithAWayOut) {
  const auto ran = run_program(GetParam().arguments, GetParam().typed);
  EXPECT_EQ(ran.code, GetParam().code);
  EXPECT_EQ(ran.out, "");
  EXPECT_EQ(ran.err, GetParam().err);
}

INSTANTIATE_TEST_SUITE_P(
    Inputs, BadSheet,
    ::testing::Values(
        BadRow{"no_file", {"sheet", "/nowhere/case.xml"}, "", 66, "leadline: cannot read '/nowhere/case.xml': No such file or directory\n"},
        BadRow{"nothing_typed", {"sheet", "-"}, "", 66, "leadline: standard input is empty\n"},
        BadRow{"bad_form", {"sheet", "-", "--as", "pdf"}, "", 64, "leadline: 'pdf' is no FORM for --as; known: text, html, json\nleadline: 'leadline help' shows what there is\n"},
        BadRow{"bad_output", {"sheet", "-", "--output", "/nowhere/sheet.html"}, empty_call, 74, "leadline: cannot write '/nowhere/sheet.html': No such file or directory\n"},
        BadRow{"unknown_finding", {"sheet", "-"}, "<callout>\n<title>t</title><installation/>\n<answer finding=\"pusch\" state=\"none\"/></callout>", 65,
               "standard input:3:9: error: no finding 'pusch'\n    <answer finding=\"pusch\" state=\"none\"/></callout>\n            ^ did you mean 'push'?\n"}),
    [](const auto& row) { return std::string(row.param.name); });

TEST(SheetOutput, IsWrittenAsAWholeAndAnnounced) {
  const auto folder = fs::temp_directory_path() / ("leadline-sheet-" + std::to_string(::getpid()));
  const auto book = (folder / "book").string();
  fs::create_directories(book);
  std::ofstream(folder / "book" / "small.xml") << testing::minimal_text;
  const auto sheet = [&](const std::vector<std::string>& more) {
    std::vector<std::string> arguments{"sheet", "-", "--knowledge", book};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_program(arguments, empty_call);
  };
  const auto file = (folder / "sheet.txt").string();
  const auto printed = sheet({});
  const auto written = sheet({"--output", file});
  EXPECT_EQ(written.code, 0);
  EXPECT_EQ(written.out, "");
  EXPECT_EQ(written.err, "leadline: sheet written to '" + file + "'\n");
  EXPECT_EQ(testing::slurp(file), printed.out);
  EXPECT_EQ(std::distance(fs::directory_iterator(folder), fs::directory_iterator()), 2) << "no temporary is left";
  EXPECT_EQ(sheet({"--output", "-"}).out, printed.out);
  fs::remove_all(folder);
}

}  // namespace
}  // namespace leadline
