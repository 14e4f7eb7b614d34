// A later state hides an earlier one, so the order of states decides what can be seen of two faults at once.
#include <algorithm>
#include <array>

#include "engine/audit/rules.h"
#include "engine/text/number.h"

namespace leadline::audit {

namespace {

using knowledge::Finding;

// Ids that say "nothing is the matter", in whatever place they stand.
constexpr std::array normal_words{"normal", "as-usual", "as-expected", "fine", "sound"};

// Pairs of ids whose order is plain: the second is more of the same and hides the first.
constexpr std::array<std::pair<const char*, const char*>, 12> plain_orders{{{"weak", "none"}, {"dim", "dead"}, {"dim", "none"}, {"low", "none"}, {"low", "flat"}, {"slow", "none"},
                                                                             {"occasional", "steady"}, {"sometimes", "always"}, {"damp", "wet"}, {"warm", "hot"}, {"one", "all"}, {"some", "all"}}};

constexpr double most_leak = 0.5;       // of all abnormal states together
constexpr double least_normal = 0.5;    // of the normal band in a sound boat of the usual kind

text::Place order_place(const Book& book, const Finding& finding, std::size_t state) {
  return finding.is_reading() ? book.pages.of("finding", finding.id).place("dominance") : finding.states[state].place;
}

void normal_not_first(const Book& book, const Finding& finding, Remarks& remarks) {
  for (std::size_t s = 1; s < finding.states.size(); ++s) {
    const auto& id = finding.states[s].id;
    if (!says_normal(id)) continue;
    remarks.push_back({order_place(book, finding, s), "the state '" + id + "' of '" + finding.id + "' hides '" + finding.states[s - 1].id + "', though by its name it is the normal one",
                       "put it first, or give it another id", "wrong-order"});
  }
}

void plain_order_reversed(const Book& book, const Finding& finding, Remarks& remarks) {
  for (const auto& [weaker, stronger] : plain_orders) {
    const auto weak = knowledge::find_state(finding, weaker), strong = knowledge::find_state(finding, stronger);
    if (!weak || !strong || *weak < *strong || *strong == 0) continue;
    remarks.push_back({order_place(book, finding, *weak), "the state '" + std::string(weaker) + "' of '" + finding.id + "' hides '" + stronger + "', which is more of the same",
                       "put '" + std::string(stronger) + "' after it", "wrong-order"});
  }
}

// On one side of the normal band what lies farther off is stronger.
void nearer_hides_farther(const Book& book, const Finding& finding, std::size_t index, Remarks& remarks) {
  const auto normal = static_cast<std::size_t>(std::find(finding.bands.begin(), finding.bands.end(), 0U) - finding.bands.begin());
  for (std::size_t near = 0; near < finding.bands.size(); ++near) {
    for (std::size_t far = 0; far < finding.bands.size(); ++far) {
      const bool beyond = (normal < near && near < far) || (far < near && near < normal);
      if (!beyond || finding.bands[near] < finding.bands[far]) continue;
      if (!book.shown.anyhow(index, finding.bands[far], least_computed)) continue;  // no cause is hidden: a reading that only a slip explains is best the weakest
      const auto &nearer = finding.states[finding.bands[near]].id, &farther = finding.states[finding.bands[far]].id;
      const bool said = std::any_of(plain_orders.begin(), plain_orders.end(), [&](const auto& pair) { return pair.first == nearer && pair.second == farther; });
      if (said) continue;
      remarks.push_back({order_place(book, finding, 0), "the band '" + nearer + "' of '" + finding.id + "' hides '" + farther + "', which lies farther from the normal one",
                         "put '" + farther + "' after it in the dominance", "wrong-order"});
    }
  }
}

void normal_seldom_seen(const Book& book, const Finding& finding, std::size_t index, Remarks& remarks) {
  double leak = 0;
  for (const auto& state : finding.states) leak += state.leak;
  if (leak > most_leak) {
    remarks.push_back({finding.place, "the leaks of '" + finding.id + "' add up to " + text::format_number(leak, 2) + ": it would be abnormal in most sound boats",
                       "lower them, or let another state be the normal one", "wrong-order"});
  }
  const auto& usual = book.samples.front().boat;
  const auto tie = usual.expectation->tie_of(index);
  if (!tie || !usual.finding_applies[index]) return;
  const auto limits = diagnosis::judged_limits(*usual.expectation, *tie, usual.band_limits[index]);
  const auto shares = circuit::chances_between(usual.expectation->under(tie->circuit, {}), usual.expectation->unread(tie->circuit, {}), tie->measure, limits);
  const auto likeliest = static_cast<std::size_t>(std::max_element(shares.begin(), shares.end()) - shares.begin());
  if (finding.bands[likeliest] == 0 || shares[likeliest] < least_normal) return;
  remarks.push_back({finding.place, "a sound boat of the usual kind reads '" + finding.states[finding.bands[likeliest]].id + "' at '" + finding.id + "', by its circuit",
                     "mend the limits of the bands, or the circuit", "sound-not-normal"});
}

}  // namespace

bool says_normal(const std::string& id) { return std::find(normal_words.begin(), normal_words.end(), id) != normal_words.end(); }

void states_in_wrong_order(const Book& book, Remarks& remarks) {
  for (std::size_t j = 0; j < book.base.findings.size(); ++j) {
    const auto& finding = book.base.findings[j];
    normal_not_first(book, finding, remarks);
    plain_order_reversed(book, finding, remarks);
    nearer_hides_farther(book, finding, j, remarks);
    normal_seldom_seen(book, finding, j, remarks);
  }
}

}  // namespace leadline::audit
