#pragma once
// SHA-256 (FIPS 180-4): by which file, and by which book, a paper was made. Tested by tests/text/sha256_test.cpp.
#include <string>
#include <string_view>

namespace leadline::text {

// 64 hexadecimal digits, as `sha256sum` prints them.
std::string sha256(std::string_view bytes);

}  // namespace leadline::text
