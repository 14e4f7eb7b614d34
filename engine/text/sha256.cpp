#include "engine/text/sha256.h"

#include <openssl/evp.h>

#include <array>
#include <stdexcept>

namespace leadline::text {

std::string sha256(std::string_view bytes) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned length = 0;
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1) throw std::runtime_error("libcrypto gave no SHA-256");
  constexpr std::string_view digits = "0123456789abcdef";
  std::string shown;
  for (unsigned at = 0; at < length; ++at) shown += {digits[digest[at] >> 4], digits[digest[at] & 15]};
  return shown;
}

}  // namespace leadline::text
