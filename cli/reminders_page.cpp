#include "cli/reminders_page.h"

#include "cli/job_page.h"
#include "cli/phrases.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

bool is_ripe(const callout::Reminder& reminder, callout::Time now) { return now >= reminder.ripe(); }

}  // namespace

std::string reminder_words(const callout::Reminder& reminder, callout::Time now) {
  const auto title = text::printable(reminder.title) + ": ";
  if (is_ripe(reminder, now)) return title + "ripe since " + time_words(reminder.ripe());
  const auto minutes = static_cast<double>((reminder.ripe() - now + 59) / 60);
  return title + "in " + minutes_words(minutes) + ", at " + time_words(reminder.ripe()) + "; put off " + time_words(reminder.since);
}

Page reminders_page(const std::vector<callout::Reminder>& reminders, callout::Time now, std::size_t width) {
  Page page(width);
  if (reminders.empty()) return page;
  page.line("To do later:");
  for (std::size_t r = 0; r < reminders.size(); ++r) page.item(std::to_string(r + 1), reminder_words(reminders[r], now));
  return page.line("'reminders 1' takes the first one up.", 2);
}

}  // namespace leadline::cli
