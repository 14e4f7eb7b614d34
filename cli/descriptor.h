#pragma once
// A file descriptor that closes itself.
#include <unistd.h>

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

}  // namespace leadline::cli
