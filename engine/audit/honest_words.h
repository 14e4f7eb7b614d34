#pragma once
// English words that look like slips of the book's words and are none ("powder" beside "power"). Internal to the room.
#include <string_view>

namespace leadline::audit {

// With blanks between. A new one is added when the audit takes it for a slip.
extern const std::string_view honest_words;

}  // namespace leadline::audit
