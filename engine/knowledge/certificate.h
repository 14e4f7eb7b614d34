#pragma once
// The birth certificate of a number: the source it was taken from and how sure it is. The format: docs/knowledge-format.md § birth certificates.
// Read by read_certificates.cpp; the numbers themselves: numbers.h. Tested by tests/knowledge/certificate_test.cpp.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/knowledge/ref.h"
#include "engine/text/place.h"

namespace leadline::knowledge {

struct Source;

// What a number of the book is a number of. The words stand in `for="…"` and in <numbers>.
enum class NumberKind { frequency, strength, effect, mends, leak, threshold, doubt, minutes, part };

// rough: an estimate, may be off by two or three. fair: the trade agrees within a third. firm: a standard or a measured value.
enum class Sureness { rough, fair, firm };

// A <source ref="…"/> of an element. Without kinds it stands for what the element says in words, and for none of its numbers.
struct Citation {
  Ref<Source> source;
  std::vector<NumberKind> kinds;
  std::vector<std::string> of;        // only the numbers of these findings, bands, remedies or parts; a * stands for any characters; empty: all
  Sureness sure = Sureness::rough;    // of the numbers; without kinds: unused
  text::Place place;
};

struct Certificate {
  Ref<Source> source;
  Sureness sure = Sureness::rough;
  bool inherited = false;             // from the <numbers> of the file
  text::Place place;                  // of the <source> or <numbers> that says so
};

// One attribute of the <numbers> of a file: what its numbers of that kind have that say nothing else.
struct Inherited {
  std::string file;
  NumberKind kind = NumberKind::frequency;
  Certificate certificate;
};

std::string_view to_string(NumberKind kind);
std::string_view to_string(Sureness sure);
std::optional<NumberKind> number_kind_of(std::string_view word);
std::optional<Sureness> sureness_of(std::string_view word);
const std::vector<std::string>& number_kind_words();
const std::vector<std::string>& sureness_words();

}  // namespace leadline::knowledge
