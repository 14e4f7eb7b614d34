// Recorded call-outs played again, on the small base.
#include "engine/trial/replay.h"

#include <gtest/gtest.h>

#include "engine/callout/case_file.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::trial {
namespace {

class Recorded : public ::testing::Test {
 protected:
  callout::Record record(const std::string& found, const std::string& answers) const {
    const text::Source file{"case.xml", "<callout found=\"" + found + "\"><title>t</title><installation/><complaint finding=\"push\" state=\"none\"/>" + answers + "</callout>"};
    auto loaded = callout::read_case(base_, file);
    if (!loaded.value) throw std::runtime_error(text::render(loaded.problems, std::span(&file, 1)));
    return *loaded.value;
  }
  knowledge::KnowledgeBase base_ = testing::minimal_base();
};

TEST_F(Recorded, EndsProvedOnceWhatWasFoundIsMended) {
  const auto played = replay(base_, record(base_.causes[0].id, "<answer finding=\"bank-volts-rest\" reading=\"20 V\"/>"));
  EXPECT_TRUE(played.proved);
  EXPECT_LE(played.place.value(), 1U);  // the planner may begin to mend before the bank's reading is in
  EXPECT_GE(played.remedies, 1U);
  EXPECT_EQ(played.recorded, 1U);
  EXPECT_GT(played.minutes, 0);
}

TEST_F(Recorded, AsksOnlyWhatTheRecordCanAnswer) {
  const auto played = replay(base_, record(base_.causes[0].id, ""));
  EXPECT_EQ(played.recorded, 0U);
  EXPECT_EQ(played.checks, 0U);
}

TEST_F(Recorded, AFaultThatIsNotInTheBookIsNeverProved) {
  const auto played = replay(base_, record("", "<answer finding=\"bank-volts-rest\" reading=\"25.4 V\"/>"));
  EXPECT_FALSE(played.proved);
}

}  // namespace
}  // namespace leadline::trial
