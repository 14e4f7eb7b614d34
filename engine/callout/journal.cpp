#include "engine/callout/journal.h"

#include <algorithm>
#include <array>
#include <boost/crc.hpp>
#include <charconv>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace leadline::callout {

using nlohmann::json;

// In the namespace of the types: there the library looks for them. All names of the form are these.
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(StatedFact, path, value, ask, unit)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(StateWords, id, words)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(GivenAnswer, number, finding, how, value, by, ask, lay, unit, choices)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(DoneRemedy, id, title, after)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Meaning, facts, answers, remedies, settled, check, complaint_told)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(SaidEvent, asked, id, did, typed, meant)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(NoteEvent, words)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(EndEvent, how)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ResumeEvent, program)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TakenOverEvent, program, digest, kept, settled, ask_again, told, checks)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(JournalHead, at, program, digest, installation, role, instrument, in_bag, missing, ashore, daylight, engine_may_run, hands)

static void to_json(json& body, const UndoEvent&) { body = json::object(); }
static void from_json(const json&, UndoEvent&) {}

namespace {

constexpr int format_version = 1;
constexpr std::size_t most_body = std::size_t{1} << 20;

// CRC-32C (Castagnoli, RFC 3720 appendix B.4): finds every error of up to 5 bits in records of this size, and every burst of up to 32.
using Crc32c = boost::crc_optimal<32, 0x1EDC6F41, 0xFFFFFFFF, 0xFFFFFFFF, true, true>;

std::string hex8(std::uint32_t number) {
  std::string out(8, '0');
  for (std::size_t i = 8; i > 0; --i, number >>= 4) out[i - 1] = "0123456789abcdef"[number & 15U];
  return out;
}

// "7 120 ": over this and the body the sum is taken.
std::string opening(std::size_t number, std::size_t length) { return std::to_string(number) + " " + std::to_string(length) + " "; }

std::string framed(std::size_t number, const json& body) {
  const auto words = body.dump(-1, ' ', false, json::error_handler_t::replace);
  const auto open = opening(number, words.size());
  Crc32c sum;
  sum.process_bytes(open.data(), open.size());
  sum.process_bytes(words.data(), words.size());
  return open + hex8(sum.checksum()) + " " + words + "\n";
}

struct Frame {
  std::size_t number = 0, size = 0;  // size: of the whole line
  std::string_view body;
};

// Digits as we write them, then a blank; nothing for another spelling.
std::optional<std::size_t> leading_number(std::string_view text, std::size_t& at) {
  std::size_t number = 0;
  const auto* first = text.data() + at;
  const auto [end, error] = std::from_chars(first, text.data() + text.size(), number);
  if (error != std::errc() || end == text.data() + text.size() || *end != ' ') return std::nullopt;
  if (std::string_view(first, static_cast<std::size_t>(end - first)) != std::to_string(number)) return std::nullopt;
  at += static_cast<std::size_t>(end - first) + 1;
  return number;
}

// The lengths of a frame, as far as they are spelt right: no word on its body or sum.
std::optional<Frame> frame_lengths(std::string_view text) {
  std::size_t at = 0;
  const auto number = leading_number(text, at);
  const auto length = number ? leading_number(text, at) : std::nullopt;
  if (!length || *length > most_body || text.size() < at + 9 + *length + 1) return std::nullopt;
  return Frame{*number, at + 9 + *length + 1, text.substr(at + 9, *length)};
}

std::optional<Frame> frame_at(std::string_view text) {
  const auto frame = frame_lengths(text);
  if (!frame || text[frame->size - 1] != '\n' || text[frame->size - 2 - frame->body.size()] != ' ') return std::nullopt;
  if (frame->body.find('\n') != std::string_view::npos) return std::nullopt;  // never ours, and a hostile file would have us sum it at every line
  const auto open = opening(frame->number, frame->body.size());
  Crc32c sum;
  sum.process_bytes(open.data(), open.size());
  sum.process_bytes(frame->body.data(), frame->body.size());
  if (text.substr(open.size(), 8) != hex8(sum.checksum())) return std::nullopt;
  return frame;
}

// Whole records at or after a place where none of that number stands: on lines of their own, and right behind a bad one (when only its line end is bad).
std::size_t whole_records_in(std::string_view text, std::size_t least_number) {
  const auto valid = [&](std::size_t at) { const auto frame = frame_at(text.substr(at)); return frame && frame->number >= least_number ? frame : std::nullopt; };
  std::size_t found = 0, at = 0;
  if (const auto lengths = frame_lengths(text); lengths && !valid(0) && valid(lengths->size)) at = lengths->size;
  while (at < text.size()) {
    if (const auto frame = valid(at)) {
      ++found;
      at += frame->size;
      continue;
    }
    const auto line_end = text.find('\n', at);
    if (line_end == std::string_view::npos) break;
    at = line_end + 1;
  }
  return found;
}

constexpr std::array event_words{"said", "undo", "note", "ended", "resumed", "taken-over"};

template <std::size_t... kinds>
Event event_of(const json& body, std::index_sequence<kinds...>) {
  Event event{body.at("at").get<Time>(), UndoEvent{}};
  const auto word = body.at("event").get<std::string>();
  using What = decltype(Event::what);
  const bool known = ((word == event_words[kinds] && (event.what = body.get<std::variant_alternative_t<kinds, What>>(), true)) || ...);
  if (!known) throw std::invalid_argument("an event '" + word + "'");
  return event;
}

Event event_of(const json& body) { return event_of(body, std::make_index_sequence<event_words.size()>()); }

// Numbers and order that no sum can vouch for: ours are right, those of an edited file may not be.
void check_order(const Meaning& meaning, std::size_t& answers) {
  for (const auto& answer : meaning.answers) {
    if (answer.number < 1 || answer.number > answers + 1) throw std::invalid_argument("an answer out of order");
    answers = std::max(answers, answer.number);
  }
  for (const auto& remedy : meaning.remedies) {
    if (remedy.after > answers) throw std::invalid_argument("a remedy out of order");
  }
}

JournalHead head_of_body(std::string_view body) {
  const auto parsed = json::parse(body);
  if (parsed.at("format") != "leadline-job") throw std::invalid_argument("another format");
  if (parsed.at("format_version") != format_version) throw std::invalid_argument("another version of the format");
  return parsed.get<JournalHead>();
}

void apply(JobState& state, const Meaning& meaning, Time at) {
  state.facts.insert(state.facts.end(), meaning.facts.begin(), meaning.facts.end());
  if (!meaning.settled.empty()) state.settled.push_back(meaning.settled);
  for (const auto& remedy : meaning.remedies) state.remedies.push_back(remedy), state.mended.push_back(at);
  for (const auto& answer : meaning.answers) {
    if (answer.number > state.answers.size()) state.answers.emplace_back(), state.answered.emplace_back();
    state.answers[answer.number - 1] = answer;
    state.answered[answer.number - 1] = at;
  }
  if (!meaning.check.empty() && (state.checks.empty() || state.checks.back() != meaning.check)) state.checks.push_back(meaning.check);
  if (meaning.complaint_told && !state.complaint_told) state.complaint_told = true, state.told = state.answers.size();
}

// The events that stand, as places in the journal, from the last taking over on (itself included).
std::vector<std::size_t> standing(const Journal& journal) {
  std::vector<std::size_t> places;
  const auto& events = journal.events;
  for (std::size_t e = 0; e < events.size(); ++e) {
    if (std::holds_alternative<TakenOverEvent>(events[e].what)) places.assign(1, e);
    if (std::holds_alternative<SaidEvent>(events[e].what)) places.push_back(e);
    const bool undoes = std::holds_alternative<UndoEvent>(events[e].what) && !places.empty() && std::holds_alternative<SaidEvent>(events[places.back()].what);
    if (undoes) places.pop_back();
  }
  return places;
}

// The times of what was taken over are those of the events before it, where the same thing stands.
JobState taken_over_state(const JobState& before, const TakenOverEvent& taken, Time at) {
  JobState state;
  state.digest = taken.digest;
  apply(state, taken.kept, at);
  state.settled = taken.settled;
  state.ask_again = taken.ask_again;
  state.told = taken.told;
  state.complaint_told = taken.kept.complaint_told;
  state.checks = taken.checks;
  for (std::size_t i = 0, old = 0; i < state.answers.size(); ++i) {
    for (std::size_t o = old; o < before.answers.size(); ++o) {
      const auto& a = before.answers[o];
      const auto& b = state.answers[i];
      if (a.finding != b.finding || a.how != b.how || a.value != b.value) continue;
      state.answered[i] = before.answered[o];
      old = o + 1;
      break;
    }
  }
  for (std::size_t r = 0; r < std::min(state.remedies.size(), before.remedies.size()); ++r) state.mended[r] = before.mended[r];
  return state;
}

}  // namespace

std::string journal_line(std::size_t number, const JournalHead& head) {
  json body = head;
  body["format"] = "leadline-job";
  body["format_version"] = format_version;
  return framed(number, body);
}

std::string journal_line(std::size_t number, const Event& event) {
  json body = std::visit([](const auto& what) { return json(what); }, event.what);
  body["at"] = event.at;
  body["event"] = event_words[event.what.index()];
  return framed(number, body);
}

namespace {

void judge_the_rest(std::string_view text, std::size_t number, Journal& journal) {
  const auto rest = text.substr(journal.whole_bytes);
  if (rest.empty() && number > 0) return;
  journal.lost_records = whole_records_in(rest, number);
  const auto line = "line " + std::to_string(number + 1);
  if (number == 0) {
    journal.soundness = Soundness::unreadable;
    journal.trouble = text.empty() ? "it is empty" : "line 1, which says what the job began with, is not whole";
  } else if (journal.lost_records > 0) {
    journal.soundness = Soundness::damaged;
    journal.trouble = line + " is damaged, and " + (journal.lost_records == 1 ? "1 whole line stands" : std::to_string(journal.lost_records) + " whole lines stand") + " after it";
  } else {
    journal.soundness = Soundness::torn;
    journal.trouble = line + ", the last, is not whole";
  }
}

// A record whose sum is right and whose words we do not know: a newer program wrote it. Nothing is guessed.
void refuse(Journal& journal, std::size_t number, const std::string& why) {
  journal.soundness = Soundness::unreadable;
  journal.trouble = "line " + std::to_string(number + 1) + " is whole, but says what this program does not know (" + why + "): a newer one wrote it, or somebody edited it";
}

}  // namespace

Journal read_journal(std::string_view text) {
  Journal journal;
  std::size_t number = 0, answers = 0;
  std::vector<std::size_t> before;  // answers before each event that may be undone
  for (; journal.whole_bytes < text.size(); ++number) {
    const auto frame = frame_at(text.substr(journal.whole_bytes));
    if (!frame || frame->number != number) break;
    try {
      if (number == 0) {
        journal.head = head_of_body(frame->body);
      } else {
        auto event = event_of(json::parse(frame->body));
        if (const auto* taken = std::get_if<TakenOverEvent>(&event.what)) before.clear(), answers = 0, check_order(taken->kept, answers);
        if (const auto* said = std::get_if<SaidEvent>(&event.what)) before.push_back(answers), check_order(said->meant, answers);
        if (std::holds_alternative<UndoEvent>(event.what)) {
          if (before.empty()) throw std::invalid_argument("an undo of nothing");
          answers = before.back(), before.pop_back();
        }
        journal.events.push_back(std::move(event));
      }
    } catch (const json::exception& wrong) {
      return refuse(journal, number, "not the form of an event"), journal;
    } catch (const std::invalid_argument& wrong) {
      return refuse(journal, number, wrong.what()), journal;
    }
    journal.whole_bytes += frame->size;
  }
  judge_the_rest(text, number, journal);
  return journal;
}

JobState state_of(const Journal& journal) {
  JobState state;
  state.digest = journal.head.digest;
  std::vector<JobState> before;
  for (const auto& event : journal.events) {
    if (const auto* said = std::get_if<SaidEvent>(&event.what)) {
      before.push_back(state);
      apply(state, said->meant, event.at);
    }
    if (std::holds_alternative<UndoEvent>(event.what) && !before.empty()) state = std::move(before.back()), before.pop_back();
    if (const auto* taken = std::get_if<TakenOverEvent>(&event.what)) state = taken_over_state(state, *taken, event.at), before.clear();
  }
  return state;
}

std::vector<SaidEvent> standing_events(const Journal& journal) {
  std::vector<SaidEvent> events;
  for (const auto place : standing(journal)) {
    if (const auto* said = std::get_if<SaidEvent>(&journal.events[place].what)) events.push_back(*said);
  }
  return events;
}

std::vector<TimedNote> notes_of(const Journal& journal) {
  std::vector<TimedNote> notes;
  for (const auto& event : journal.events) {
    if (const auto* note = std::get_if<NoteEvent>(&event.what)) notes.push_back({event.at, note->words});
  }
  return notes;
}

Time worked(const Journal& journal) {
  Time sum = 0, last = journal.head.at;
  for (const auto& event : journal.events) {
    const bool pause = std::holds_alternative<ResumeEvent>(event.what);
    if (!pause && event.at > last) sum += event.at - last;
    last = event.at;
  }
  return sum;
}

std::string ending_of(const Journal& journal) {
  std::string how;
  for (const auto& event : journal.events) {
    if (const auto* end = std::get_if<EndEvent>(&event.what)) how = end->how;
    else if (!std::holds_alternative<NoteEvent>(event.what)) how.clear();
  }
  return how;
}

}  // namespace leadline::callout
