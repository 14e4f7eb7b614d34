#pragma once
// A call-out as questions and answers, without streams: what is asked next follows from what was said, and every step can be undone.
// Tested by tests/cli/golden_test.cpp.
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "engine/callout/at_stake.h"
#include "engine/callout/journal.h"
#include "engine/knowledge/finder.h"
#include "engine/planning/line_search.h"

namespace leadline::cli {

inline constexpr std::string_view all_word = "all";   // where another step is chosen: the whole list

enum class Asks { fact, complaint, match, finding, part, remedy, other_step, call_in, nothing };
enum class Ending { not_yet, stopped, input_ended, proved, called_in };

struct Question {
  Asks asks = Asks::nothing;
  std::size_t index = 0;  // of the fact, finding or remedy asked for
  friend bool operator==(const Question&, const Question&) = default;
};

// Accepted.
struct Noted {
  std::string words;         // what was understood
  std::string at_once = {};  // what it calls for before anything else; empty: nothing
};
struct Refused { std::string why, expected; };     // not accepted; the same question stands
using Reply = std::variant<Noted, Refused>;

// All that was said so far: plain values, so that undoing is taking the copy before.
struct Progress {
  std::vector<installation::Stated> stated;
  std::vector<std::size_t> settled;                                   // facts of the boat that were asked for: stated, or left as assumed
  bool complaint_told = false;
  std::size_t told = 0;                                               // so many answers were what the call was about; the rest was found by checks
  std::vector<knowledge::Match> offered;                              // matches to choose from
  std::optional<knowledge::Ref<knowledge::Finding>> to_settle;        // a complaint whose state is still open
  std::vector<knowledge::Ref<knowledge::Finding>> ask_again;          // before anything new: what a change of the book has left open
  std::optional<std::size_t> guess;                                   // the state its words suggest: Enter takes it
  std::optional<std::size_t> again;                                   // of the answers: one to be given anew
  std::vector<diagnosis::Answer> answers;
  std::vector<callout::RemedyDone> remedies;
  std::optional<planning::Proposal> in_hand;                          // the check or remedy being done
  std::vector<bool> put_off, dropped;                                 // by check: "later" said once, twice
  std::vector<bool> remedies_put_off, remedies_dropped;               // by remedy
  planning::Standing standing;
  std::vector<planning::Parted> parted;                               // of the run in which the remedy in hand has its place
  bool search_ended = false;                                          // no further parting is wanted
  bool proving = false;                                               // after a remedy: the complaint's symptoms are looked at again
  bool said_gone = false;                                             // and are expected to be normal
  bool choosing = false, going_on = false;
  std::string wanted;                                                 // words that narrow what is chosen from; "all": all of it
  std::vector<callout::Reminder> waiting;                             // checks put off until what they need has come about
  Ending ending = Ending::not_yet;
};

struct Setup {
  knowledge::Who role = knowledge::Who::technician;
  diagnosis::InstrumentClass instrument = diagnosis::InstrumentClass::pocket;
  std::optional<installation::Installation> installation;  // none: the intake asks; what it leaves unsaid is asked for once the ranking hangs on it
  planning::Bounds bounds = {};
};

class Conversation {
 public:
  // Requires: `base` outlives the conversation.
  Conversation(const knowledge::KnowledgeBase& base, Setup setup);
  Conversation(const Conversation&) = delete;
  Conversation& operator=(const Conversation&) = delete;

  const Question& question() const { return question_; }
  const Progress& progress() const { return now_; }
  const callout::Assessment& assessment() const { return *assessment_; }
  const callout::Record& record() const { return record_; }
  const knowledge::KnowledgeBase& base() const { return base_; }
  Ending ending() const { return now_.ending; }

  const std::vector<std::size_t>& intake() const { return intake_; }             // indices of the facts asked before the complaint
  // Of the fact that is asked for now, when the ranking hangs on it; null at the intake and at other questions.
  const callout::Stake* at_stake() const;
  // The fact asked for now, with the choices this boat can have, and what is taken for it without an answer.
  knowledge::Fact fact_in_question() const;
  std::string assumed_for(const knowledge::Fact& fact) const;
  std::vector<knowledge::Ref<knowledge::Finding>> complaints() const;            // what an owner calls about, on this boat
  const planning::Proposal* in_hand() const { return now_.in_hand ? &*now_.in_hand : nullptr; }  // with the figures of now
  const planning::Advice& advice() const { return advice_; }
  bool in_the_dark() const;                                                      // a layman could not tell so often in a row that somebody has to come
  // Somebody at a desk holds it, with a layman aboard on the telephone.
  bool by_phone() const { return record_.bounds.by_phone.has_value(); }
  planning::Job job() const;
  // Where the remedy in hand has its place along a run, as far as it is known; null when that is no question.
  const planning::LineSearch* search() const { return search_ ? &*search_ : nullptr; }
  std::vector<planning::Proposal> other_steps() const;                           // the next five after the one in hand, or those that were asked for
  std::size_t all_other_steps() const;                                           // so many there are

  // What words that answer nothing would call for at once, if they are meant so; null: nothing.
  const knowledge::AtOnce* danger_in(std::string_view words) const;

  Reply answer(std::string_view typed);
  // `now`: a check that waits for something (a rest, a charge) is put off until then, and stands among the reminders; any check is, for so many minutes, when
  // they are said. Without `now`: put off, no more.
  Reply later(std::optional<callout::Time> now = std::nullopt, std::optional<double> minutes = std::nullopt);
  Reply take_up(std::size_t number);  // of the reminders, from 1
  Reply also(std::string_view words);  // a symptom told late: at a check, a remedy or its like
  Reply other();
  Reply again(std::size_t number);   // of the list of answers, from 1
  bool back();                       // false: nothing to undo
  std::size_t steps() const { return history_.size(); }  // so many times back() is possible
  // Begins with what a job holds, of which nothing can be undone; the findings are asked before anything new. Requires: nothing was answered yet.
  void take_over(const callout::Job& job);
  void end(Ending ending);

 private:
  Reply commit(Progress next, std::string words);
  Reply commit_answer(Progress next, const diagnosis::Answer& answer);
  void refresh();
  Question next_question();
  void build_boat();
  bool settled(std::size_t fact) const;
  std::optional<std::size_t> open_intake() const;    // the next fact of the intake
  std::optional<std::size_t> fact_at_stake();        // the fact the ranking hangs on most, which may be asked for now
  std::vector<planning::Proposal> steps_beside(std::string_view wanted) const;
  Question next_step();              // of the check or remedy in hand, or of the best there is
  void take_in_hand(const planning::Circumstances& circumstances);
  std::optional<planning::LineSearch> search_for_the_place(const planning::Job& job) const;
  std::optional<std::size_t> open_finding(const planning::Proposal& proposal) const;
  std::optional<std::size_t> open_symptom() const;   // of the complaint, not yet seen again since the remedy

  // The check or remedy in hand is laid aside: something else comes first. `next` is the progress that says so.
  Reply lay_aside(Progress next, std::string words);
  Reply wait_for(const knowledge::Check& check, double minutes, callout::Time now);
  Reply leave_out();                 // whoever is aboard does not feel safe with it
  bool of_a_step() const;            // the question belongs to the check or remedy in hand
  bool between_steps() const;        // something else may come first
  Reply take_fact(std::string_view typed);
  Reply take_complaint(std::string_view typed);
  Reply take_match(std::string_view typed);
  Reply take_finding(std::string_view typed);
  Reply take_part(std::string_view typed);
  Reply take_remedy(std::string_view typed);
  Reply take_other_step(std::string_view typed);
  Reply take_call_in(std::string_view typed);
  Reply pick_complaint(knowledge::Ref<knowledge::Finding> finding, std::optional<std::size_t> state);
  Reply search(std::string_view words);
  std::string meant_perhaps(std::string_view words) const;

  const knowledge::KnowledgeBase& base_;
  std::optional<installation::Installation> given_;
  knowledge::Finder finder_;
  std::vector<std::size_t> intake_;
  callout::Record record_;
  std::unique_ptr<callout::Assessment> assessment_;
  planning::Advice advice_;
  std::optional<planning::LineSearch> search_;
  std::vector<Progress> history_;
  Progress now_;
  Question question_;
  std::size_t stated_built_ = 0;     // stated facts the assessment was built with
  // What the ranking hangs on, worked out for these answers and so many stated facts.
  struct Stakes {
    std::vector<diagnosis::Answer> answers;
    std::size_t stated = 0;
    std::vector<callout::Stake> found;
  };
  std::optional<Stakes> stakes_;
  callout::AtStake at_stake_;
};

}  // namespace leadline::cli
