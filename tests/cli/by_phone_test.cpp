// A call by telephone: what the desk reads aloud, what waits, whom to send; and that a layman is never offered more than is his.
#include <gtest/gtest.h>

#include <random>

#include "cli/dispatch_page.h"
#include "cli/embedded.h"
#include "cli/exit_codes.h"
#include "cli/job_keeper.h"
#include "cli/job_page.h"
#include "cli/prompt.h"
#include "cli/reminders_page.h"
#include "cli/script_page.h"
#include "tests/cli/jobs_folder.h"

namespace leadline::cli {
namespace {

using testing::has;

// The small book with two checks for the owner: one that waits, one that is only asked; words for the telephone.
std::string book_text() {
  auto text = testing::minimal_with("  <unlisted", R"(  <place id="telephone" reach="0" covers="0"><title>by telephone</title></place>
  <place id="helm" reach="1" covers="0"><title>helm</title></place>
  <condition id="rested" minutes="20" wait="60"><title>bank rested for an hour</title></condition>
  <by-phone times="1.5" minutes="1"/>
  <spoken precaution="make-fast"><before>Make the boat fast, please.</before><meanwhile>Nobody goes into the water.</meanwhile></spoken>
  <spoken fact="bank/@volts"><ask>How many volts does the thruster have?</ask></spoken>
  <finding id="gauge"><title>Gauge at the helm</title><ask>Where does the needle of the gauge stand?</ask><lay>What does the needle show?</lay>
    <state id="green">in the green</state><state id="red" leak="0.02">in the red</state></finding>
  <finding id="used-up"><title>Use lately</title><ask>Was it used for long?</ask><lay>Did you use it for long?</lay>
    <state id="no">no</state><state id="yes" leak="0.1">yes, for long</state></finding>
  <check id="read-gauge" minutes="2" who="owner" place="helm" at="helm" condition="rested"><title>Read the gauge after a rest</title>
    <precaution ref="make-fast"/><step>Read the gauge.</step><observes finding="gauge"/></check>
  <check id="ask-use" minutes="1" who="owner" place="by telephone" at="telephone"><title>Ask about its use</title>
    <step>Ask for the last week.</step><observes finding="used-up"/></check>
  <giving-up who="owner" minutes="240"><words>send a technician</words></giving-up>
  <unlisted)");
  return testing::changed_once(text, "    <confused-with ref=\"fuse-blown\">", "    <shows finding=\"gauge\" state=\"red\" chance=\"always\"/><shows finding=\"used-up\" state=\"yes\" chance=\"often\"/>\n    <confused-with ref=\"fuse-blown\">");
}

class ByPhone : public testing::JobsFolder {
 protected:
  void SetUp() override {
    JobsFolder::SetUp();
    write_book(book_text());
  }
  testing::Ran call(const std::string& typed, std::vector<std::string> more = {}) {
    more.insert(more.begin(), {"diagnose"});
    return run(more, typed);
  }
  const std::vector<std::string> desk_{"--role", "helpdesk", "--job", "Teal"}, again_{"--job", "Teal"};
};

// "no push", and then the gauge is proposed.
const std::string to_the_gauge = "24\n1\n3\n\n";

TEST_F(ByPhone, TheScriptStandsApartFromWhatOnlyTheDeskSees) {
  const auto ran = call("24\n1\n3\n\nstop\n", desk_);
  EXPECT_TRUE(has(ran.out, "Ask (1 of 1):\nHow many volts does the thruster have?\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Ask:\nWhat is wrong, in your own words?\n  For you: a few of his words, for instance")) << ran.out;
  EXPECT_TRUE(has(ran.out, "\nFor you:\nWhat it may be, most likely first:\n")) << ran.out;
}

TEST_F(ByPhone, PrecautionsComeFirstThenWhetherItIsSafeThenTheSteps) {
  const auto ran = call(to_the_gauge + "stop\n", desk_);
  EXPECT_TRUE(has(ran.out, "Next: Read the gauge after a rest\n  Needs: bank rested for an hour\n  It must wait 60 min unless that has passed: 'later', and you are reminded to\n  call back.\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Read aloud:\n  ! Make the boat fast, please.\n  Is it safe for you to read the gauge after a rest? If you are not sure, say\n  so: we leave it out.\n"
                           "  This needs: bank rested for an hour. Has that been so?\n  Read the gauge.\n\nAsk:\nWhat does the needle show?\n"))
      << ran.out;
}

TEST_F(ByPhone, WhatIsOnlyToldIsAskedInTheDesksOwnWords) {
  const auto ran = call(to_the_gauge + "later\nstop\n", desk_);
  EXPECT_TRUE(has(ran.out, "Next: Ask about its use\n  Ask for the last week.\n")) << ran.out;
  EXPECT_FALSE(has(ran.out, "Read aloud:\n  Ask for the last week.")) << ran.out;
}

// What was noticed is told, never tried for the telling; the trouble looked at again after a remedy has its precautions.
TEST_F(ByPhone, QuestionsOfNoCheckHaveTheirWordsAhead) {
  const auto told = call("24\n1\n", desk_);
  EXPECT_TRUE(has(told.out, "Read aloud:\n  Only tell me what you noticed: try nothing for it.\n\nAsk:\nWhat happens when you move the lever?\n")) << told.out;
  const auto base = testing::base_from(book_text());
  cli::Setup setup;
  setup.role = knowledge::Who::owner;
  setup.bounds.by_phone = base.by_phone;
  Conversation call(base, setup);
  for (const auto* typed : {"24", "1", "2", ""}) call.answer(typed);
  for (int line = 0; line < 6 && call.question().asks != Asks::remedy; ++line) call.answer(call.question().asks == Asks::finding ? "2" : "1");
  ASSERT_EQ(call.question().asks, Asks::remedy);
  call.answer("1");
  ASSERT_TRUE(call.progress().proving);
  EXPECT_EQ(std::get<Noted>(call.answer("not safe")).words, "Left open: without it the repair is not proved.");
  ASSERT_TRUE(call.back());
  EXPECT_EQ(ahead_of_question(call, 80).text(), "Read aloud:\n  ! Make the boat fast, please.\n  Is it safe for you to try it now?\n\n");
}

TEST_F(ByPhone, NotSafeLeavesItOut) {
  const auto ran = call(to_the_gauge + "not safe\nlist\nstop\n", desk_);
  EXPECT_TRUE(has(ran.out, "Left out, for it is not safe: Read the gauge after a rest.\n")) << ran.out;
  const auto again = call("stop\n", again_);
  EXPECT_FALSE(has(again.out, "another order")) << again.out;
}

TEST_F(ByPhone, LaterPutsOffWhatWaitsAndRemindsOfIt) {
  const auto ran = call(to_the_gauge + "later\nreminders\nstop\n", desk_);
  EXPECT_TRUE(has(ran.out, "Put off: Read the gauge after a rest. Ripe in 60 min; 'reminders' lists it,\n'reminders 1' takes it up.\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "To do later:\n  1 Read the gauge after a rest: in 58 min, at 2027-01-15 09:")) << ran.out;
  const auto jobs = run({"jobs"});
  EXPECT_TRUE(has(jobs.out, "- Teal: waiting, ")) << jobs.out;
  EXPECT_TRUE(has(jobs.out, "    to do: Read the gauge after a rest: in 5")) << jobs.out;
  now_ += 3600;
  const auto again = call("reminders 1\n2\nreminders\nstop\n", again_);
  EXPECT_TRUE(has(again.out, "\n\nTo do later:\n  1 Read the gauge after a rest: ripe since 2027-01-15 09:")) << again.out;
  EXPECT_TRUE(has(again.out, "Taken up: Read the gauge after a rest.\n")) << again.out;
  EXPECT_TRUE(has(again.out, "Noted: Gauge at the helm: in the red.\n")) << again.out;
  EXPECT_TRUE(has(again.out, "Nothing was put off to wait for.\n")) << again.out;
  EXPECT_TRUE(has(run({"jobs"}).out, "Teal: stopped, ")) << run({"jobs"}).out;
}

// The caller goes and looks, and calls back.
TEST_F(ByPhone, AnyCheckWaitsWhenItsMinutesAreSaid) {
  const auto ran = call(to_the_gauge + "not safe\nlater 0\nlater 90\nreminders\n", desk_);
  EXPECT_TRUE(has(ran.out, "That is no time to wait.\nExpected: 'later' and from 1 to 10000 minutes, or 'later' alone.\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Put off: Ask about its use. Ripe in 90 min; 'reminders' lists it, 'reminders 1'\ntakes it up.\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "To do later:\n  1 Ask about its use: in 88 min, at ")) << ran.out;
  const auto again = call("reminders\nstop\n", again_);
  EXPECT_FALSE(has(again.out, "another order")) << again.out;
  EXPECT_TRUE(has(call("24\nlater 5\n", {"--role", "helpdesk"}).out, "Only a check can be put off for minutes.\n"));
}

// "It was full push I think" is no answer; what it is near to is named, not taken.
TEST_F(ByPhone, TheCallersOwnWordsAreNamedNotTaken) {
  const auto ran = call("24\n1\nwell it is weak push now\n", desk_);
  EXPECT_TRUE(has(ran.out, "or can't tell. By his\nwords perhaps 2, weak push.\n")) << ran.out;
  EXPECT_TRUE(callout::state_of(look_at_job(file("Teal"))).answers.empty());
}

// Put off again it waits anew; taken back it never waited; refused in words.
TEST_F(ByPhone, RemindersAreRenewedUndoneAndRefused) {
  const auto ran = call(to_the_gauge + "reminders 1\nlater\nreminders 2\nreminders 1\nlater\nback\nback\nback\nreminders\nstop\n", desk_);
  EXPECT_TRUE(has(ran.out, "Nothing waits to be taken up.\nExpected: an answer to this question.\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "There is no reminder of that number.\nExpected: 'reminders' and a number from 1 to 1.\n")) << ran.out;
  EXPECT_FALSE(has(ran.out, "Left out:")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Nothing was put off to wait for.\n")) << ran.out;
  EXPECT_EQ(callout::state_of(look_at_job(file("Teal"))).reminders.size(), 0U);
}

// What 'later' was before there were reminders: put off, the second time left out; an old journal is told again as it was.
TEST_F(ByPhone, LaterWithoutATimeIsWhatItWas) {
  const auto base = testing::base_from(book_text());
  cli::Setup setup;
  setup.role = knowledge::Who::owner;
  Conversation conversation(base, setup);
  for (const auto* typed : {"24", "1", "3", ""}) conversation.answer(typed);
  ASSERT_EQ(base[conversation.in_hand()->check].id, "read-gauge");
  EXPECT_EQ(std::get<Noted>(conversation.later()).words, "Put off: Read the gauge after a rest.");
  EXPECT_TRUE(conversation.progress().waiting.empty());
}

TEST_F(ByPhone, ItEndsWithWhomToSend) {
  const auto ran = call(to_the_gauge + "1\ndispatch\nstop\n", desk_);
  EXPECT_TRUE(has(ran.out, "\nDispatch: a technician, who can do it alone.\nOf the usual bag above all: multimeter.\n\nParts, and what is arranged beforehand:\n  - main fuse (for ")) << ran.out;
  EXPECT_TRUE(has(ran.out, "How far that reaches:\n  It serves ")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Until then, read aloud:\n")) << ran.out;
  EXPECT_TRUE(ran.out.find("Dispatch:", ran.out.find("Stopped here.")) != std::string::npos) << ran.out;  // the last page has it too
  EXPECT_TRUE(ran.out.ends_with("switch it off, keep away, and\n    call for help.\n") || has(ran.out, "At work so far")) << ran.out;
}

// Nobody waits at the telephone: an hour's rest costs a call back.
TEST_F(ByPhone, AWaitCostsACallBack) {
  const auto base = testing::base_from(book_text());
  const auto minutes_of_the_gauge = [&](bool by_phone) {
    cli::Setup setup;
    setup.role = knowledge::Who::owner;
    if (by_phone) setup.bounds.by_phone = base.by_phone;
    Conversation conversation(base, setup);
    for (const auto* typed : {"24", "1", "3", ""}) conversation.answer(typed);
    for (const auto& proposal : conversation.advice().proposals) {
      if (proposal.act == planning::Act::check && base[proposal.check].id == "read-gauge") return proposal.minutes;
    }
    return 0.0;
  };
  EXPECT_EQ(minutes_of_the_gauge(false), 1 + 20 + 2);           // the way, the rest, the look
  EXPECT_EQ(minutes_of_the_gauge(true), 1 + 5 + 1.5 * 2 + 1);   // the way, the call back, the look and the telling
}

TEST(Words, OfTheTelephoneAreKnown) {
  EXPECT_EQ(command_of("Reminders").word, Word::reminders);
  EXPECT_EQ(command_of("reminders 2").number, 2U);
  EXPECT_EQ(command_of("dispatch").word, Word::dispatch);
  EXPECT_EQ(nearest_word("dispach"), "dispatch");
}

TEST(ReminderWords, SayWhenItIsRipe) {
  const callout::Reminder reminder{"x", "Read it", 1'800'000'000, 60};
  EXPECT_EQ(reminder_words(reminder, 1'800'000'000), "Read it: in 60\u00A0min, at 2027-01-15 09:00 UTC; put off 2027-01-15 08:00 UTC");
  EXPECT_EQ(reminder_words(reminder, 1'800'003'599), "Read it: in 1\u00A0min, at 2027-01-15 09:00 UTC; put off 2027-01-15 08:00 UTC");
  EXPECT_EQ(reminder_words(reminder, 1'800'003'600), "Read it: ripe since 2027-01-15 09:00 UTC");
}

// The shipped book, calls that wander: whatever is proposed to a layman is an owner's, and its precautions are read before its steps.
TEST(ByPhoneOfTheBook, NothingBeyondALaymanIsProposed) {
  const auto base = *knowledge::read_knowledge(embedded_knowledge()).value;
  std::mt19937 dice(5);
  std::size_t proposed = 0;
  for (int round = 0; round < 3; ++round) {
    cli::Setup setup;
    setup.role = knowledge::Who::owner;
    setup.bounds.by_phone = base.by_phone;
    Conversation call(base, setup);
    for (std::size_t f = 0; f < call.intake().size(); ++f) call.answer("");
    call.answer(std::to_string(1 + dice() % 9));
    for (int line = 0; line < 20 && call.question().asks != Asks::nothing; ++line) {
      if (const auto* step = call.in_hand(); step != nullptr && step->act != planning::Act::give_up) {
        ++proposed;
        const bool check = step->act == planning::Act::check;
        EXPECT_EQ(check ? base[step->check].who : base[step->remedy].who, knowledge::Who::owner);
        const auto page = desk_page(call, 100).text();
        for (const auto ref : check ? base[step->check].precautions : base[step->remedy].precautions) {
          const auto aloud = page.find("Read aloud:");
          ASSERT_NE(aloud, std::string::npos) << page;
          EXPECT_NE(page.find("  ! " + base[ref].before.substr(0, 20), aloud), std::string::npos) << page;
        }
      }
      const std::vector<std::string> lines{"1", "2", "3", "can't tell", "not safe", ""};
      call.answer(lines[dice() % lines.size()]);
    }
  }
  EXPECT_GT(proposed, 15U);
}

}  // namespace
}  // namespace leadline::cli
