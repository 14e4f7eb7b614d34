#pragma once
// A trial of hours that may be broken off: every call-out played becomes one line, from which a later run of the same trial goes on. Pure: text in, text out.
// Tested by tests/trial/kept_test.cpp.
#include <map>
#include <string>
#include <variant>

#include "engine/trial/player.h"

namespace leadline::trial {

// What must be the same for what was played before to count.
struct TrialIdentity {
  std::string program, book;           // version; digest of the knowledge base
  std::uint64_t seed = 1;
  std::size_t boats = 0;
  friend bool operator==(const TrialIdentity&, const TrialIdentity&) = default;
};

using PlayedBefore = std::map<std::pair<Policy, std::uint64_t>, Played>;   // by policy and number of the call-out

// Each ends with a line feed. Numbers are read back as they were, to the last bit; stories are not kept.
std::string line_of(const TrialIdentity& identity);
std::string line_of(Policy policy, const Played& played);

struct KeptTrial {
  PlayedBefore played;
  std::size_t whole = 0;               // bytes up to the end of the last whole line: what follows was torn off, and is written anew
};
// A file of another trial, or no file of a trial at all: why, and where (line, from 1).
struct NotThisTrial {
  std::string why;
  std::size_t line = 1;
};
// Empty text is a trial that is yet to begin.
std::variant<KeptTrial, NotThisTrial> kept_trial(std::string_view text, const TrialIdentity& identity);

}  // namespace leadline::trial
