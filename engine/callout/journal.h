#pragma once
// The job on paper that cannot be torn: a journal of events, one line each, from which the state of a job is told again, under the book it was written
// with or another. Pure: text in, text out; the time of an event is given. The form and its promises: docs/journal.md. Tested by
// tests/callout/journal_test.cpp.
#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "engine/callout/callout.h"

namespace leadline::callout {

using Time = std::int64_t;  // seconds since 1970-01-01 00:00 UTC

// The first line: what the job began with. Ids, not places in the book: the book may change.
struct JournalHead {
  Time at = 0;
  std::string program;                     // version of the program that began it
  std::string digest;                      // of the book
  std::string installation;                // as XML; empty: the intake asked
  std::string role, instrument;            // "technician", "pocket"; "helpdesk": an owner guided by telephone
  std::vector<std::string> in_bag, missing;  // ids of tools
  bool ashore = false, daylight = true, engine_may_run = true;
  int hands = 1;                           // as planning::Hands
  friend bool operator==(const JournalHead&, const JournalHead&) = default;
};

struct StatedFact {
  std::string path, value, ask, unit;      // `ask`, `unit`: as the book had them then
  friend bool operator==(const StatedFact&, const StatedFact&) = default;
};

struct StateWords {
  std::string id, words;
  friend bool operator==(const StateWords&, const StateWords&) = default;
};

// An answer, and what its question meant when it was given.
struct GivenAnswer {
  std::size_t number = 0;                  // in the list of answers, from 1: an old number is an answer given anew
  std::string finding;
  std::string how;                         // "state", "reading", "cannot-tell", "not-fitted"
  std::string value;                       // id of the state, or the reading as written
  std::string by;                          // "owner", "technician", …
  std::string ask, lay, unit;
  std::vector<StateWords> choices;
  friend bool operator==(const GivenAnswer&, const GivenAnswer&) = default;
};

struct DoneRemedy {
  std::string id, title;
  std::size_t after = 0;                   // so many answers stood before it
  friend bool operator==(const DoneRemedy&, const DoneRemedy&) = default;
};

// A check put off until what it waits for has come about: a bank at rest for an hour.
struct Reminder {
  std::string check, title;                // id, and in words as the book had them then
  Time since = 0;
  double minutes = 0;                      // of waiting
  Time ripe() const { return since + static_cast<Time>(minutes * 60); }
  friend bool operator==(const Reminder&, const Reminder&) = default;
};

// What one answer changed.
struct Meaning {
  std::vector<StatedFact> facts;
  std::vector<GivenAnswer> answers;
  std::vector<DoneRemedy> remedies;
  std::string settled;                     // path of a fact of the intake that is answered now, stated or assumed
  std::string check;                       // the check in hand that the answer belongs to
  bool complaint_told = false;             // the complaint is complete from here on
  std::vector<Reminder> waits = {};        // new, or begun anew; written only when there are any
  std::vector<std::string> waits_over = {};  // ids of checks that nobody waits for any more; likewise
  friend bool operator==(const Meaning&, const Meaning&) = default;
};

// Something typed that moved the job: an answer, or "later", "other", "also" (`typed`: a symptom's words), "again", "take-up" (of the last two `typed` is a number).
struct SaidEvent {
  std::string asked, id;                   // kind of the question, and what it asked of (may be empty)
  std::string did;                         // "answer", "later", "other", "also", "again", "take-up"
  std::string typed;
  Meaning meant;
  friend bool operator==(const SaidEvent&, const SaidEvent&) = default;
};
struct UndoEvent { friend bool operator==(const UndoEvent&, const UndoEvent&) = default; };  // takes back the last SaidEvent that still stands
struct NoteEvent { std::string words; friend bool operator==(const NoteEvent&, const NoteEvent&) = default; };
struct EndEvent { std::string how; friend bool operator==(const EndEvent&, const EndEvent&) = default; };  // "stopped", "input-ended", "interrupted", "proved", "called-in"
struct ResumeEvent { std::string program; friend bool operator==(const ResumeEvent&, const ResumeEvent&) = default; };
// The job goes on under another book: all that is kept of it, and nothing before it counts any more.
struct TakenOverEvent {
  std::string program, digest;
  Meaning kept;
  std::vector<std::string> settled;        // paths of the facts of the intake that need not be asked
  std::vector<std::string> ask_again;      // ids of findings
  std::size_t told = 0;                    // so many answers were what the call was about
  std::vector<std::string> checks;         // ids of checks done before
  friend bool operator==(const TakenOverEvent&, const TakenOverEvent&) = default;
};

struct Event {
  Time at = 0;
  std::variant<SaidEvent, UndoEvent, NoteEvent, EndEvent, ResumeEvent, TakenOverEvent> what;
  friend bool operator==(const Event&, const Event&) = default;
};

enum class Soundness { whole, torn, damaged, unreadable };

struct Journal {
  JournalHead head;
  std::vector<Event> events;
  Soundness soundness = Soundness::whole;  // unreadable: there is no head, and so no job
  std::size_t whole_bytes = 0;             // the text up to here is whole records
  std::size_t lost_records = 0;            // when damaged: whole records that stand after the first bad one
  std::string trouble;                     // in words; empty when whole
};

// One line, newline included. Requires: `number` counts the lines from 0; the head is line 0.
std::string journal_line(std::size_t number, const JournalHead& head);
std::string journal_line(std::size_t number, const Event& event);

// Keeps the whole records before the first bad one. Nothing whole after it: the tail of a write that was cut short (torn). Otherwise damaged.
Journal read_journal(std::string_view text);

// What stands of the job after all that was undone, with the times.
struct JobState {
  std::string digest;                      // of the book it was told under
  std::vector<StatedFact> facts;
  std::vector<std::string> settled;
  std::vector<GivenAnswer> answers;
  std::vector<Time> answered;              // by answer
  std::vector<DoneRemedy> remedies;
  std::vector<Time> mended;                // by remedy
  std::vector<std::string> checks;         // in the order in which they were done, each as often as it was
  std::vector<std::string> ask_again;
  std::vector<Reminder> reminders;         // of checks put off and not made since
  std::size_t told = 0;
  bool complaint_told = false;
};
JobState state_of(const Journal& journal);

// The events since the book was last taken over that still stand, in order: said again, they lead to the state as it was.
std::vector<SaidEvent> standing_events(const Journal& journal);

struct TimedNote { Time at; std::string words; };
std::vector<TimedNote> notes_of(const Journal& journal);
// Seconds at work: from the beginning or a resumption to the last event before the next one. A clock that goes back counts as standing still.
Time worked(const Journal& journal);
// How the job ended the last time; empty: it did not.
std::string ending_of(const Journal& journal);

// Where an answer, fact or remedy of the journal stands under another book.
enum class Fate { kept, again, dropped };
struct Carried {
  std::string what;                        // in words
  Fate fate = Fate::kept;
  std::string why;                         // empty when kept
};

// A journal as the program works with it: its state in terms of a book. `carried`: a line for each thing the journal holds, when the book is another;
// empty under the book it was told with.
struct Job {
  Record record;
  std::vector<Time> answered, mended;      // by answer and by remedy of the record
  TakenOverEvent taken_over;               // what the journal must say before it goes on under this book
  std::vector<Carried> carried;
};

// Meaning of the words in `journal` under `base`. The installation of the head must be readable under it: else the problems. No answer ever
// gets a new meaning: what is not the same in the book as it was is dropped or asked again, with the reason.
text::Loaded<Job> job_of(const knowledge::KnowledgeBase& base, const Journal& journal);

// Meaning in words of ids, from the book: for the event of what was just said.
GivenAnswer given(const knowledge::KnowledgeBase& base, const diagnosis::Answer& answer, std::size_t number);
// `by_phone`: it was asked in the words for a layman.
StatedFact stated(const knowledge::KnowledgeBase& base, const installation::Stated& fact, bool by_phone = false);
DoneRemedy done(const knowledge::KnowledgeBase& base, const RemedyDone& remedy);

// The setup of a job, as ids and back.
JournalHead head_of(const knowledge::KnowledgeBase& base, const Record& record);
planning::Bounds bounds_of(const knowledge::KnowledgeBase& base, const JournalHead& head);
knowledge::Who role_of(const JournalHead& head);
diagnosis::InstrumentClass instrument_of(const JournalHead& head);

}  // namespace leadline::callout
