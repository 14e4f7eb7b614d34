#pragma once
// What a sheet says of a job, worked out once: text, JSON and HTML only render it. What stands where and why: docs/sheet.md. Pure.
// Tested by tests/cli/sheet_test.cpp.
#include <optional>
#include <string>
#include <vector>

#include "engine/callout/callout.h"

namespace leadline::cli {

// Something a person wrote down on the job, after so many answers.
struct SheetNote {
  std::size_t after = 0;
  std::string words;
  std::string at = "";       // as a person reads it; empty: unknown
};

struct SheetTimes {
  std::string begun, ended;  // as a person reads them: of the beginning and of the last entry
  double minutes = 0;        // at work: the pauses between sittings do not count
  std::string state = "";    // "proved, 7 answers"
};

// What a sheet is made of. `base` outlives it.
struct SheetMatter {
  const knowledge::KnowledgeBase& base;
  callout::Record record;
  std::string program, book_digest, record_digest;
  std::optional<SheetTimes> times = std::nullopt;
  std::vector<SheetNote> notes = {};
  // The checks that were done, each as often as it was; none: it was not recorded, and the quickest check behind each finding is taken for it.
  std::optional<std::vector<knowledge::Ref<knowledge::Check>>> checks = std::nullopt;
  std::vector<std::string> losses = {};  // what of the job could not be read or kept, a sentence each
  bool try_assumptions = true;  // rank anew with other values of what was assumed: seconds
};

enum class Judged { normal, abnormal, cannot_tell };
std::string judged_words(Judged judged);  // "normal", "abnormal", "cannot tell"

struct Sheet {
  struct Fact {
    std::string element, name, value;
    bool stated = false;
  };
  // One answer. Figures are in the finding's unit; those that there are not, or that no number tells, are left out.
  struct Finding {
    std::size_t number = 0;   // from 1, in the order of the answers
    std::size_t after_remedies = 0;
    std::string id, title, by, read, healthy;
    Judged judged = Judged::cannot_tell;
    std::string remark;       // why it cannot be told, though it was read
    bool complaint = false;
    std::string unit;
    std::optional<double> value, low, middle, high;
  };
  struct Explanation {
    std::vector<std::string> causes;  // ids; "" for the cause that the book does not list
    std::string title;
    double probability = 0;
  };
  struct Reason {
    std::string finding, words;
    double weight_db = 0;
  };
  // The beliefs after one answer or remedy, by Course::titles.
  struct Moment {
    std::string label, words;   // "", "1", "2", "remedy 1": what was told or done then
    std::vector<double> beliefs;
  };
  struct Course {
    std::vector<std::string> titles;
    std::vector<Moment> moments;
  };
  struct Precaution {
    std::string id, title, what_to_do;
  };
  struct Proof {
    std::string check, words;
  };
  struct Remedy {
    std::string id, title;
    std::vector<std::string> parts;
    std::vector<Precaution> precautions;
    double minutes = 0;             // of doing it, with its proofs
    std::vector<Proof> proofs;
    std::vector<std::size_t> seen;  // numbers of the findings told after it and before the next one
    std::string barred;             // why it is not to be done now; empty: it may be
  };
  struct Doubt {
    std::string kind;               // "lost", "contradiction", "assumed", "suspect", "unlisted", "unanswered"
    std::string words;
  };

  // One spot of the wiring sketch, in the order of the current and of the string.
  struct Place {
    std::string circuit;                // "power", "network"
    std::string id, title, about;       // about: "24 V, gel lead-acid, 120 Ah"
    std::vector<std::size_t> readings;  // numbers of findings
    std::string suspect;                // the explanation that points here; empty: none
    bool terminated = false;            // a device at which a terminator sits
  };

  std::string title, boat, role;   // role: who did the checks
  bool by_phone = false;            // guided by telephone
  std::vector<std::string> at_once;  // what the findings call for before all else, as long as they stand
  std::vector<Fact> facts;
  std::vector<Finding> findings;
  Course course;
  bool remedied = false;            // then `explanations` speaks of the time before the first remedy, `now` of the end
  std::vector<Explanation> explanations, now, was;
  std::vector<std::string> what;    // what the first explanation is, a paragraph for each cause
  std::vector<Reason> reasons;      // for and against the first explanation
  std::vector<std::string> sizes;   // how big it is, from the readings
  std::vector<Remedy> done, named;  // named: of the first explanation, while none was done
  bool proved = false;
  std::vector<Doubt> doubts;
  std::vector<std::string> dispatch;    // of a call that ended without a proof: whom to send, with what; what the customer leaves alone
  std::vector<Precaution> precautions;  // of every check and remedy of this job
  std::vector<Place> places;
  double checks_minutes = 0, remedies_minutes = 0;
  std::optional<double> minutes_left;   // on average to a proved thruster; none when it is proved
  std::string program, book_digest, record_digest;
  std::optional<SheetTimes> times;
  std::vector<SheetNote> notes;
};

Sheet sheet_of(const SheetMatter& matter);

// Words that each of the three renderers says alike.
extern const char* const sheet_advice;      // "Leadline advises; local codes and licensed practice come first."
extern const char* const sheet_observed;    // who answers for the precautions
extern const char* const at_once_heading;   // "AT ONCE, while this stands"
std::string boat_words(const Sheet& sheet);         // "Boat: Teal. Checks done by: owner, guided by telephone."
std::string finding_words(const Sheet::Finding& finding);  // "Push of the thruster: none"
std::string explanation_title(const Sheet& sheet);  // "What it may be, most likely first"
std::string proved_words(const Sheet& sheet);
std::vector<std::string> summary_lines(const Sheet& sheet);  // what it was or may be, what was done, whether that is proved
std::vector<std::string> signature_lines(const Sheet& sheet);
std::vector<std::string> minutes_lines(const Sheet& sheet);
std::string note_words(const SheetNote& note);  // "2026-11-26 14:05 UTC: owner says it was fine in May"
std::vector<std::string> version_lines(const Sheet& sheet);
std::vector<std::string> parts_of(const Sheet& sheet);  // named by the remedies, without repeats
// Facts of one element in one line: "bank: volts 24 V, chemistry gel lead-acid", in the order of the record.
std::vector<std::string> fact_lines(const Sheet& sheet, bool stated);

}  // namespace leadline::cli
