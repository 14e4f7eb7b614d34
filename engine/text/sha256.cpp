#include "engine/text/sha256.h"

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <vector>

namespace leadline::text {

namespace {

using Word = std::uint32_t;
using State = std::array<Word, 8>;

// The first 64 primes: the constants of the standard are the fractions of their roots.
std::vector<unsigned> primes(std::size_t count) {
  std::vector<unsigned> found;
  for (unsigned n = 2; found.size() < count; ++n) {
    bool prime = true;
    for (const auto p : found) prime = prime && n % p != 0;
    if (prime) found.push_back(n);
  }
  return found;
}

// The first 32 bits of the fraction of a root. A long double holds far more than 32 bits after the point.
Word fraction(long double root) { return static_cast<Word>((root - std::floor(root)) * 4294967296.0L); }

State first_state() {
  State state{};
  const auto numbers = primes(state.size());
  for (std::size_t i = 0; i < state.size(); ++i) state[i] = fraction(std::sqrt(static_cast<long double>(numbers[i])));
  return state;
}

std::array<Word, 64> round_constants() {
  std::array<Word, 64> constants{};
  const auto numbers = primes(constants.size());
  for (std::size_t i = 0; i < constants.size(); ++i) constants[i] = fraction(std::cbrt(static_cast<long double>(numbers[i])));
  return constants;
}

std::array<Word, 64> schedule(std::string_view block) {
  std::array<Word, 64> w{};
  for (std::size_t i = 0; i < 64; ++i) w[i / 4] = w[i / 4] << 8 | static_cast<unsigned char>(block[i]);
  for (std::size_t i = 16; i < 64; ++i) {
    const Word early = std::rotr(w[i - 15], 7) ^ std::rotr(w[i - 15], 18) ^ (w[i - 15] >> 3);
    const Word late = std::rotr(w[i - 2], 17) ^ std::rotr(w[i - 2], 19) ^ (w[i - 2] >> 10);
    w[i] = w[i - 16] + early + w[i - 7] + late;
  }
  return w;
}

// One block of 64 bytes; a … h as the standard names them.
void absorb(State& state, std::string_view block) {
  static const auto constants = round_constants();
  const auto w = schedule(block);
  auto [a, b, c, d, e, f, g, h] = state;
  for (std::size_t i = 0; i < 64; ++i) {
    const Word choice = (e & f) ^ (~e & g), majority = (a & b) ^ (a & c) ^ (b & c);
    const Word one = h + (std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25)) + choice + constants[i] + w[i];
    const Word two = (std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22)) + majority;
    h = g, g = f, f = e, e = d + one, d = c, c = b, b = a, a = one + two;
  }
  const State change{a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < state.size(); ++i) state[i] += change[i];
}

}  // namespace

std::string sha256(std::string_view bytes) {
  std::string padded(bytes);
  padded += '\x80';
  while (padded.size() % 64 != 56) padded += '\0';
  for (int shift = 56; shift >= 0; shift -= 8) padded += static_cast<char>(static_cast<std::uint64_t>(bytes.size()) * 8 >> shift & 0xFF);
  auto state = first_state();
  for (std::size_t at = 0; at < padded.size(); at += 64) absorb(state, std::string_view(padded).substr(at, 64));
  std::string digits;
  for (const auto word : state) {
    for (int shift = 28; shift >= 0; shift -= 4) digits += "0123456789abcdef"[word >> shift & 0xF];
  }
  return digits;
}

}  // namespace leadline::text
