// Any bytes as the journal of a job: read without harm, told again in order; what is whole is the same when it is written again.
#include <cstdlib>

#include "engine/callout/journal.h"
#include "tests/fuzz/standing_base.h"

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  using namespace leadline;
  const auto text = testing::text_of(data, size);
  const auto journal = callout::read_journal(text);
  if (journal.whole_bytes > text.size() || (journal.soundness == callout::Soundness::whole) != journal.trouble.empty()) std::abort();
  if (journal.soundness == callout::Soundness::unreadable) return 0;
  auto again = callout::journal_line(0, journal.head);
  for (std::size_t e = 0; e < journal.events.size(); ++e) again += callout::journal_line(e + 1, journal.events[e]);
  const auto second = callout::read_journal(again);
  if (second.soundness != callout::Soundness::whole || second.events != journal.events || second.head != journal.head) std::abort();
  const auto job = callout::job_of(testing::standing_base(), journal);
  if (job.value.has_value() == text::has_error(job.problems)) std::abort();
  return 0;
}
