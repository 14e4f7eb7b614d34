#pragma once
// What doing something aboard takes: minutes, where, with what switched on or off, with whom and which tools; and the price of giving up.
// All minutes are those of a call-out of the usual kind; a job scales them. Read by read_job.cpp. Tested by tests/knowledge/reader_job_test.cpp.
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/knowledge/certificate.h"
#include "engine/knowledge/ref.h"
#include "engine/text/place.h"

namespace leadline::knowledge {

struct Finding;

// The least person who may do something; later ones may do what earlier ones may.
enum class Who { owner, technician, specialist };

// A spot aboard where work is done.
struct WorkPlace {
  std::string id, title;
  double reach = 0;   // minutes of getting there from anywhere else aboard, tools in hand
  double covers = 0;  // minutes of baring it (lid, bunk, panel), paid once in a call-out; closing up included
  std::vector<Citation> sources;
  text::Place place;
};

// What is on, off, running or rested aboard while something is done. It stands until another is set.
struct Condition {
  std::string id, title;
  double minutes = 0;  // of setting it, or of waiting for it, from any other
  std::vector<Citation> sources;
  text::Place place;
  double wait = 0;     // minutes that pass before it stands, nothing being done meanwhile: such a check may be put off until then
};

struct Tool {
  std::string id, title;
  bool usual = true;  // in every technician's bag
  text::Place place;
};

// Where the boat must be.
enum class Water { any, afloat, ashore };

// What it costs a person of that role to stop looking: somebody else is sent, or a whole unit is changed.
struct GivingUp {
  Who who = Who::technician;
  double minutes = 0;
  std::string words;
  std::vector<Citation> sources;
  text::Place place;
};

// What a layman takes who is told by telephone what to do: the minutes of the doing so many times, and so many more for telling him, and telling him again.
struct ByPhone {
  double times = 1;
  double minutes = 0;
  std::vector<Citation> sources = {};
  text::Place place = {};
  friend bool operator==(const ByPhone& a, const ByPhone& b) { return a.times == b.times && a.minutes == b.minutes; }
};

// "Can be done only while the finding is in one of these states."
struct Needs {
  Ref<Finding> finding;
  std::vector<std::size_t> states;  // indices into the finding's states, ascending; never all of them
};

// What checks and remedies take alike.
struct Effort {
  double minutes = 0;                     // of the doing itself, once one stands there and all is set; getting there is the place's, baring it too
  std::vector<Ref<WorkPlace>> places;     // every one is walked to; none: where one stands
  std::optional<Ref<Condition>> condition;  // none: whatever stands
  int hands = 1;                          // persons needed at the same time
  Water water = Water::any;
  bool daylight = false;                  // not done in the dark
  bool engine = false;                    // the engine must run
  std::vector<Ref<Tool>> tools;
};

std::string_view to_string(Who who);
std::string_view to_string(Water water);

}  // namespace leadline::knowledge
