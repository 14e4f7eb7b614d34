#include "cli/circuit_words.h"

#include <algorithm>
#include <cmath>

#include "cli/expect_page.h"
#include "cli/phrases.h"
#include "engine/circuit/network_map.h"
#include "engine/circuit/review.h"
#include "engine/diagnosis/tied.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

using callout::Assessment;
using circuit::Amount;
using knowledge::ChangeKind;
using knowledge::Unit;

constexpr std::size_t most_suspects = 3;
constexpr double worth_naming = 0.02, worth_a_heat = 1;

std::string amount_words(const Amount& amount, double value) {
  if (amount.value == "ohm") return reading_words(value, Unit::ohm);
  if (amount.value == "volt" || amount.value == "wake") return reading_words(value, Unit::volt);
  if (amount.value == "amp") return reading_words(value, Unit::ampere);
  if (amount.value == "watt") return text::format_number(value / 1000, 2) + " kW";
  return text::format_number(value, 2);
}

std::string what_of(const Amount& amount) {
  if (amount.value == "ohm") return "the resistance";
  if (amount.value == "load") return "the load";
  if (amount.value == "watt") return "the power";
  if (amount.value == "amp") return "the current";
  return "the volts";
}

std::string between(const std::string& low, const std::string& high) { return low == high ? "" : " (" + low + " to " + high + ")"; }

std::string change_words(const Amount& amount) {
  const auto words = [&](double value) { return amount_words(amount, value); };
  switch (amount.kind) {
    case ChangeKind::open: return "open";
    case ChangeKind::join: return "joined by " + words(amount.middle) + between(words(amount.low), words(amount.high));
    case ChangeKind::set: return what_of(amount) + (amount.value == "volt" || amount.value == "wake" ? " are " : " is ") + words(amount.middle) + between(words(amount.low), words(amount.high));
    case ChangeKind::times:
      return text::format_number(amount.middle, 2) + " times " + what_of(amount) + " of a sound one" + between(text::format_number(amount.low, 2), text::format_number(amount.high, 2));
    case ChangeKind::add: break;
  }
  if (amount.middle < 0) return words(-amount.middle) + " too little" + between(words(-amount.high), words(-amount.low));
  return words(amount.middle) + " too many" + between(words(amount.low), words(amount.high));
}

std::string consequence_words(const Amount& amount) {
  std::string words;
  if (amount.heat_watt >= worth_a_heat) words += "; at " + reading_words(amount.most_amp, Unit::ampere) + " that burns " + text::format_number(amount.heat_watt, 0) + " W";
  if (amount.charge) words += "; its rested volts stand for a charge of about " + percent(*amount.charge / 100);
  return words;
}

bool says_something(const Amount& amount) { return amount.kind != ChangeKind::times || std::abs(amount.middle - 1) > 0.02; }

// "; between 6 m and 11 m from bow". Lengths that nobody stated are no place to cut a cable open.
std::string stretch_words(const installation::Installation& boat, const Amount& amount) {
  if (amount.piece_from.empty() || installation::is_assumed(boat, "segment")) return "";
  const std::string thruster = boat.root().child("thruster").attribute("name").value();
  const auto stretch = circuit::stretch_between(circuit::network_map(boat), thruster, amount.piece_from, amount.piece_to);
  if (!stretch) return "";
  return "; between " + text::format_number(stretch->from_m, 1) + " m and " + text::format_number(stretch->to_m, 1) + " m along the cable from " + thruster;
}

struct Change {
  std::string part, words;
  double share = 0;
};

// What one way changes, part by part.
std::vector<Change> changes_of(const installation::Installation& boat, const circuit::Sized& way) {
  std::vector<Change> changes;
  // A break says it all; what else changes with it only follows.
  const bool broken = std::any_of(way.amounts.begin(), way.amounts.end(), [](const Amount& amount) { return amount.kind == ChangeKind::open; });
  for (const auto& amount : way.amounts) {
    if (!says_something(amount) || (broken && amount.kind != ChangeKind::open)) continue;
    const auto more = amount.parts > 1 ? " and " + std::to_string(amount.parts - 1) + " more" : "";
    changes.push_back({amount.part + more, change_words(amount) + stretch_words(boat, amount) + consequence_words(amount), way.share});
  }
  if (changes.empty()) changes.push_back({way.words, "", way.share});
  return changes;
}

// Ways that come to the same are one: a fuse that is open twice over is open.
void add_changes(Page& page, const installation::Installation& boat, const std::vector<circuit::Sized>& ways) {
  constexpr double as_good_as_sure = 0.985;
  std::vector<Change> all;
  for (const auto& way : ways) {
    for (const auto& change : changes_of(boat, way)) {
      const auto same = std::find_if(all.begin(), all.end(), [&](const auto& other) { return other.part == change.part && other.words == change.words; });
      if (same == all.end()) all.push_back(change);
      else same->share += change.share;
    }
  }
  for (const auto& change : all) {
    const auto share = change.share < as_good_as_sure ? " (" + percent(change.share) + ")" : "";
    page.item("-", change.part + share + (change.words.empty() ? "" : ": " + change.words));
  }
}

// A cable at fault: the record's own review knows which cross-section would do.
void add_cable_advice(Page& page, const Assessment& assessment, const std::vector<diagnosis::TiedReadings::FaultSize>& sizes) {
  const bool cable = std::any_of(sizes.begin(), sizes.end(), [](const auto& size) {
    return std::any_of(size.ways.begin(), size.ways.end(), [](const auto& way) {
      return std::any_of(way.amounts.begin(), way.amounts.end(), [](const auto& amount) { return amount.part.ends_with(" cable"); });
    });
  });
  if (!cable) return;
  for (const auto& remark : circuit::review(assessment.base(), assessment.record().installation)) {
    if (remark.rule == "cable-drop") page.item("-", remark.what + (remark.way_out.empty() ? "" : ": " + remark.way_out));
  }
}

void add_expected(Page& page, const Assessment& assessment, std::size_t finding, const circuit::Tie& tie) {
  const auto& expectation = *assessment.boat().expectation;
  const auto unit = *assessment.base().findings[finding].unit;
  const auto healthy = circuit::expected(expectation, tie, {});
  page.line(assessment.base().findings[finding].title + ":", 2);
  page.item("-", "sound: " + expected_words(healthy, unit), 4);
  std::size_t named = 0;
  for (const auto& explanation : assessment.diagnosis().explanations) {
    if (named == most_suspects || explanation.probability < worth_naming) break;
    const auto causes = diagnosis::governing(*assessment.boat().model.circuits, tie.circuit, explanation.causes);
    const auto would = circuit::expected(expectation, tie, causes);
    if (causes.empty() || !circuit::tells_apart(healthy, would)) continue;
    page.item("-", assessment.title_of(explanation) + ": " + expected_words(would, unit), 4);
    ++named;
  }
}

}  // namespace

Page sizes_page(const Assessment& assessment, std::size_t explanation, std::size_t width) {
  Page page(width);
  const diagnosis::TiedReadings tied(assessment.boat().model, assessment.diagnosis().tied);
  if (tied.empty()) return page;
  const auto sizes = tied.sizes_of(assessment.base(), assessment.diagnosis().explanations[explanation].causes);
  if (sizes.empty()) return page;
  page.line("How big it is, from the readings (in brackets: nine chances of ten lie there):");
  for (const auto& size : sizes) {
    add_changes(page, assessment.record().installation, size.ways);
  }
  add_cable_advice(page, assessment, sizes);
  return page;
}

Page expected_readings_page(const Assessment& assessment, const knowledge::Check& check, std::size_t width) {
  Page page(width);
  for (const auto finding : check.observes) {
    const auto tie = assessment.boat().finding_applies[finding.index] ? assessment.boat().expectation->tie_of(finding.index) : std::nullopt;
    if (!tie) continue;
    if (page.empty()) page.line("What it should read here:");
    add_expected(page, assessment, finding.index, *tie);
  }
  return page;
}

}  // namespace leadline::cli
