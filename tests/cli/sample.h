#pragma once
// What is slow plain takes ten times as long under sanitizers: there, every so-manieth of many that go the same way is played.
#include <cstddef>

namespace leadline::testing {

constexpr std::size_t one_of([[maybe_unused]] std::size_t under_sanitizers) {
#ifdef __SANITIZE_ADDRESS__
  return under_sanitizers;
#else
  return 1;
#endif
}

}  // namespace leadline::testing
