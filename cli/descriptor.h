#pragma once
// A file descriptor that closes itself, and bytes into one.
#include <unistd.h>

#include <cerrno>
#include <string_view>
#include <utility>

namespace leadline::cli {

class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
  Descriptor& operator=(Descriptor&& other) noexcept {
    std::swap(number_, other.number_);
    return *this;
  }
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  int number() const { return number_; }
  int close() { return ::close(std::exchange(number_, -1)); }

 private:
  int number_;
};

// Whatever short writes there are on the way. False: `errno` says why.
inline bool write_all(int to, std::string_view bytes) {
  while (!bytes.empty()) {
    const auto count = ::write(to, bytes.data(), bytes.size());
    if (count < 0 && errno == EINTR) continue;
    if (count == 0) errno = EIO;
    if (count <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(count));
  }
  return true;
}

}  // namespace leadline::cli
