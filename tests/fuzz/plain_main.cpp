// Runs a fuzz target over files, and over so many deterministic mutations of each: TARGET MUTATIONS FILE…
// A FILE.pack holds many inputs that a fuzzer kept (pack.py); they are run as they are.
// Any crash, abort or sanitizer report fails the test. With LEADLINE_LIBFUZZER libFuzzer takes the place of this file.
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size);

namespace {

void run(const std::string& bytes) { (void)LLVMFuzzerTestOneInput(reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size()); }

std::string content_of(const char* path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) std::fprintf(stderr, "cannot read %s\n", path), std::exit(66);
  return {std::istreambuf_iterator<char>(in), {}};
}

// The number of inputs. Each: its length in decimal, a line feed, its bytes, a line feed.
int run_packed(const std::string& packed) {
  int ran = 0;
  for (std::size_t at = 0; at < packed.size(); ++ran) {
    const auto end = packed.find('\n', at);
    const auto length = std::strtoull(packed.c_str() + at, nullptr, 10);
    if (end == std::string::npos || packed.size() - end < length + 2) std::fprintf(stderr, "a pack that is cut short\n"), std::exit(65);
    run(packed.substr(end + 1, length));
    at = end + length + 2;
  }
  return ran;
}

// Flips bits, cuts a piece out, doubles a piece, or plants a byte that matters to a reader.
std::string mutated(std::string bytes, std::mt19937& random) {
  static const std::string planted = "<>&\"'=/!?;,.$@()[]- \t\n0129eEnNVmMk\xFF\xC3\x01";
  const auto rounds = 1 + random() % 4;
  for (unsigned round = 0; round < rounds && !bytes.empty(); ++round) {
    const auto at = random() % bytes.size();
    const auto length = 1 + random() % 24;
    switch (random() % 4) {
      case 0: bytes[at] = static_cast<char>(static_cast<unsigned char>(bytes[at]) ^ (1U << (random() % 8))); break;
      case 1: bytes.erase(at, length); break;
      case 2: bytes.insert(at, bytes.substr(at, length)); break;
      default: bytes[at] = planted[random() % planted.size()]; break;
    }
  }
  return bytes;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 64;
  const int mutations = std::atoi(argv[1]);
  int ran = 0, packed = 0;
  for (int file = 2; file < argc; ++file) {
    const auto seed = content_of(argv[file]);
    if (std::string_view(argv[file]).ends_with(".pack")) {
      packed += run_packed(seed);
      continue;
    }
    run(seed);
    std::mt19937 random(20261125U + static_cast<unsigned>(file));
    for (int i = 0; i < mutations; ++i, ++ran) run(mutated(seed, random));
  }
  std::printf("%d files, %d packed inputs, %d mutations\n", argc - 2, packed, ran);
  return 0;
}
