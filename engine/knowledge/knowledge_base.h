#pragma once
// What is known: causes, findings, rules, checks, remedies, precautions, sources, and the facts of an installation record.
// Plain values; read by reader.h. The words are those of docs/knowledge-format.md. Tested by tests/knowledge/.
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/knowledge/circuit_page.h"
#include "engine/knowledge/job.h"
#include "engine/knowledge/unit.h"
#include "engine/text/place.h"

namespace leadline::knowledge {

struct Source {
  std::string id, kind, title;
  text::Place place;
};

struct Precaution {
  std::string id, title, what_to_do;
  text::Place place;
  bool forbids_afloat = false;       // what carries it is not done while the boat floats
  std::string before = {};           // as it is read aloud to a layman before a step; empty: title and what_to_do serve
  std::string meanwhile = {};        // what the customer leaves alone until somebody comes, in his words; empty: nothing of this kind
};

// One state of a finding, or one band of a reading.
struct State {
  std::string id, words;
  double leak = 0;                  // chance to be seen with no known cause; of the normal state: 0, unused
  std::optional<Expression> below;  // upper limit of a band, in the finding's unit; none for the highest band and for symptoms
  text::Place place;
};

// What a person is told the moment a symptom is reported in one of these states, before anything else is asked.
struct AtOnce {
  std::vector<std::size_t> states;   // indices into the finding's states, ascending
  std::string words;                 // to anybody, in plain words
  std::vector<Ref<Precaution>> bars = {};  // an owner is then offered nothing that carries one of these
  std::vector<Ref<Precaution>> bars_all = {};  // nor is anybody else, of these
};

struct Finding {
  std::string id, subsystem, title, ask, lay;
  std::vector<std::string> words;    // further words people use for it
  std::vector<State> states;         // in order of dominance: the normal one first, the strongest last
  std::vector<std::size_t> bands;    // of a reading: indices into `states`, ascending with the reading; empty for a symptom
  std::optional<Unit> unit;          // of a reading
  bool complaint = false;            // an owner tells it, unasked or asked
  bool calls = false;                // and calls about it
  std::optional<Expression> applies;
  text::Place place;
  std::optional<Measure> measure = std::nullopt;  // of a reading that a circuit describes
  std::vector<Needs> needs = {};     // can be seen only while these hold: no direction without a push
  std::vector<AtOnce> at_once = {};  // of a symptom
  std::vector<Citation> sources = {};
  bool is_reading() const { return !bands.empty(); }
};

struct Check {
  std::string id, subsystem, title, where;   // where: in words, for print
  Effort effort;
  Who who = Who::technician;
  std::vector<Ref<Precaution>> precautions;
  std::vector<std::string> steps;
  std::vector<Ref<Finding>> observes;
  std::vector<Needs> needs;
  std::string parts_run;                     // runs of parts whose ids begin so are parted by it, to find the faulty piece; empty: none
  std::vector<Citation> sources;
  std::optional<Expression> applies;
  text::Place place;
};

struct Proof {
  Ref<Check> check;
  std::string words;  // what must be seen
};

struct Remedy {
  std::string id, subsystem, title;
  Effort effort;
  double fetch = 0;                  // minutes of getting the parts; 0: in the van
  Who who = Who::technician;
  std::vector<Ref<Precaution>> precautions;
  std::vector<std::string> parts, steps;
  std::vector<Proof> proofs;
  std::vector<Citation> sources;
  std::optional<Expression> applies;
  text::Place place;
};

// "This cause alone leaves the finding in this state with this chance, when the installation is so."
struct Rule {
  Ref<Finding> finding;
  std::size_t state = 0;             // index into the finding's states, never 0
  double chance = 0;
  std::optional<Expression> when;
  text::Place place;
};

struct Adjustment {
  Expression when;
  double times = 1;
};

struct Cause;
struct Confusion {
  Ref<Cause> with;
  std::string words;
};

// "This remedy, done properly, removes the cause with this chance." Several of one cause are alternatives: any of them may remove it.
struct Mend {
  Ref<Remedy> remedy;
  double chance = 0.95;
  text::Place place = {};
};

struct Cause {
  std::string id, subsystem, item, title, what, why;
  double per_thousand = 0;           // call-outs in which this is the fault, of 1,000 on boats where it can exist
  std::vector<Adjustment> adjustments;
  std::vector<Rule> rules;
  std::vector<Effect> effects;
  std::vector<Confusion> confusions;
  std::vector<Mend> mends;
  std::vector<Citation> sources;
  std::optional<Expression> applies;
  text::Place place;
};

enum class FactType { number, choice, text };

struct Choice {
  std::string id, words;
  std::optional<Expression> where = {};  // offered only on boats where this holds; by facts declared before
};

// When a person is asked for a fact that nobody stated: never, before the complaint, or once the ranking hangs on it.
enum class Intake { never, first, when_needed };

// A value that is assumed in place of the usual one where a condition holds; by facts declared before.
struct AssumedWhere {
  std::string value;
  Expression where;
};

// One attribute of the installation record.
struct Fact {
  std::string element, name;         // path element/@name
  FactType type = FactType::text;
  std::string ask;                   // may be empty: never asked
  std::string assume;                // value taken when nobody states it
  std::vector<AssumedWhere> assume_where = {};  // instead of it: the first that holds
  std::string unit;                  // as written, for people
  std::vector<Choice> choices;       // of a choice; or the numbers allowed
  std::optional<double> least, most; // of a number
  Intake intake = Intake::never;
  bool drawn = false;                // kinds of boats differ in it: a trial draws its boats by it
  text::Place place;
  std::string lay = {};              // as it is read aloud to a layman; may be empty
  std::string path() const { return element + "/@" + name; }
};

struct RecordElement {
  std::string name;
  bool repeats = false;
  bool optional = false;             // a record may have none
  text::Place place;
};

// A number derived from the record, `$name` in expressions. In order: each uses only earlier ones.
struct Quantity {
  std::string name, unit;
  Expression value;
};

// The cause that stands for all that is not in the book, and how often faults come together.
struct Unlisted {
  double per_thousand = 30;
  double chance = 0.02;              // that it shows a finding abnormal beyond what known causes do on average
  double together = 0.12;            // chance that a second fault is present in a call-out; see docs/mathematics.md § priors
  double new_fault = 0.01;           // chance that between two looks something new makes a finding worse
  std::vector<Citation> sources;
  text::Place place;
};

struct KnowledgeBase {
  std::vector<Source> sources;
  std::vector<Precaution> precautions;
  std::vector<Finding> findings;
  std::vector<Check> checks;
  std::vector<Remedy> remedies;
  std::vector<Cause> causes;
  std::vector<RecordElement> elements;
  std::vector<Fact> facts;
  std::vector<Quantity> quantities;
  std::vector<CircuitPage> circuits;
  std::vector<WorkPlace> places;
  std::vector<Condition> conditions;
  std::vector<Tool> tools;
  std::vector<GivingUp> giving_up;   // at most one for each role
  ByPhone by_phone;
  Unlisted unlisted;
  std::string digest;                // of the files it was read from: another digest, another book. Not against forgers
  std::vector<Inherited> inherited;  // what numbers have that say nothing of their source; numbers.h knows how

  const Source& operator[](Ref<Source> r) const { return sources[r.index]; }
  const Precaution& operator[](Ref<Precaution> r) const { return precautions[r.index]; }
  const Finding& operator[](Ref<Finding> r) const { return findings[r.index]; }
  const Check& operator[](Ref<Check> r) const { return checks[r.index]; }
  const Remedy& operator[](Ref<Remedy> r) const { return remedies[r.index]; }
  const Cause& operator[](Ref<Cause> r) const { return causes[r.index]; }
  const WorkPlace& operator[](Ref<WorkPlace> r) const { return places[r.index]; }
  const Condition& operator[](Ref<Condition> r) const { return conditions[r.index]; }
  const Tool& operator[](Ref<Tool> r) const { return tools[r.index]; }
};

// Index of the state of that id in its finding, when there is one.
std::optional<std::size_t> find_state(const Finding& finding, std::string_view id);

std::optional<std::size_t> find_fact(const KnowledgeBase& kb, std::string_view element, std::string_view name);
// The same by its path: "bank/@volts".
std::optional<std::size_t> find_fact(const KnowledgeBase& kb, std::string_view path);

}  // namespace leadline::knowledge
