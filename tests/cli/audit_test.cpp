// leadline audit: what it prints, as text and as JSON, and how it ends.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "engine/text/utf8.h"
#include "tests/audit/sound_book.h"
#include "tests/cli/in_process.h"

namespace leadline {
namespace {

namespace fs = std::filesystem;
using testing::run_program;

// A folder with one file in it, gone at the end.
class Folder {
 public:
  explicit Folder(const std::string& book) : path_(fs::temp_directory_path() / ("leadline-audit-" + std::to_string(::getpid()))) {
    fs::create_directory(path_);
    std::ofstream(path_ / "book.xml") << book;
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  std::string name() const { return path_.string(); }
  std::string file() const { return (path_ / "book.xml").string(); }

 private:
  fs::path path_;
};

std::string with(const std::string& from, const std::string& to) {
  auto book = testing::sound_book;
  return book.replace(book.find(from), from.size(), to);
}

TEST(AuditCommand, EndsWithZeroWhenThereIsNothingToRemark) {
  const Folder folder(testing::sound_book);
  const auto ran = run_program({"audit", folder.name()});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.out, "Audit of 4 causes, 5 findings, 4 checks, 4 remedies: nothing to remark.\n");
  EXPECT_EQ(ran.err, "");
  EXPECT_EQ(run_program({"audit", "--knowledge", folder.name()}).out, ran.out);
}

#ifndef __SANITIZE_ADDRESS__  // the sanitised run audits small books only: this one takes it a minute
TEST(AuditCommand, HasNothingToRemarkOnTheShippedBook) {
  const auto ran = run_program({"audit"});
  EXPECT_EQ(ran.code, 0) << ran.out;
}
#endif

TEST(AuditCommand, EndsWithOneAndNamesThePlace) {
  const Folder folder(with("Salt air and a lug", "Salt air and and a lug"));
  const auto ran = run_program({"audit", "--width", "400", folder.name()});
  EXPECT_EQ(ran.code, 1);
  EXPECT_EQ(ran.out, folder.file() + ":109:99: 'and' stands twice; leave one out\n\nAudit of 4 causes, 5 findings, 4 checks, 4 remedies: 1 remark.\n");
}

TEST(AuditCommand, ShowsWhatTheReaderRefuses) {
  const Folder folder(with("<title>Lug corroded</title>", "<title>Lug corroded"));
  const auto ran = run_program({"audit", "--width", "400", folder.name()});
  EXPECT_EQ(ran.code, 1);
  EXPECT_NE(ran.out.find("Audit of a book that cannot be read: 1 remark.\n"), std::string::npos) << ran.out;
}

TEST(AuditCommand, JsonSaysTheSame) {
  const Folder folder(with("Salt air and a lug", "Salt air and and a lug"));
  const auto ran = run_program({"audit", "--json", folder.name()});
  EXPECT_EQ(ran.code, 1);
  const auto json = nlohmann::json::parse(ran.out);
  EXPECT_EQ(json.at("schema"), 1);
  EXPECT_EQ(json.at("readable"), true);
  ASSERT_EQ(json.at("remarks").size(), 1U);
  const nlohmann::json expected{{"rule", "spelling"}, {"file", folder.file()}, {"line", 109}, {"column", 99}, {"what", "'and' stands twice"}, {"way_out", "leave one out"}};
  EXPECT_EQ(json.at("remarks")[0], expected);
}

TEST(AuditCommand, NoLineIsWiderThanAsked) {
  const Folder folder(with("per-1000=\"400\"", "per-1000=\"40\""));
  for (const char* width : {"40", "60", "80", "120"}) {
    std::istringstream lines(run_program({"audit", "--width", width, folder.name()}).out);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(text::character_count(line), std::stoul(width)) << line;
  }
}

TEST(AuditCommand, TheReportStandsBelowTheRemarks) {
  const Folder folder(testing::sound_book);
  const auto ran = run_program({"audit", "--report", folder.name()});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.out.find("Audit of 4 causes"), 0U);
  EXPECT_NE(ran.out.find("6 pairs judged on 2 sample boats; 0 that no boat can have both of; 0 that no"), std::string::npos) << ran.out;
  const auto json = nlohmann::json::parse(run_program({"audit", "--report", "--json", folder.name()}).out);
  EXPECT_EQ(json.at("report").at("pairs").size(), 6U);
  EXPECT_EQ(json.at("report").at("jobs").size(), 4U);
  EXPECT_EQ(json.at("report").at("sensitivity").at("callouts"), 0);
}

TEST(AuditCommand, NoLineOfTheReportIsWiderThanAsked) {
  const Folder folder(testing::sound_book);
  for (const char* width : {"40", "72", "110"}) {
    std::istringstream lines(run_program({"audit", "--report", "--width", width, folder.name()}).out);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(text::character_count(line), std::stoul(width)) << line;
  }
}

TEST(AuditCommand, CasesAreForTheReport) {
  const auto ran = run_program({"audit", "--cases", "cases"});
  EXPECT_EQ(ran.code, 64);
  EXPECT_EQ(ran.err, "leadline: --cases is for the report; give --report too\n");
}

TEST(AuditCommand, OneFolderOnly) {
  const auto both = run_program({"audit", "--knowledge", "a", "b"});
  EXPECT_EQ(both.code, 64);
  EXPECT_EQ(both.err, "leadline: audit DIR and --knowledge both name a folder; give one\n");
  EXPECT_EQ(run_program({"audit", "/nowhere"}).code, 66);
}

}  // namespace
}  // namespace leadline
