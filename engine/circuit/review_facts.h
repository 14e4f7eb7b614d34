#pragma once
// How a rule reads the record: it remembers what it read, so that a remark can say what nobody stated. Internal to the review.
#include "engine/circuit/review.h"

namespace leadline::circuit {

// One for each rule. Decisive facts carry the verdict: when one was assumed, the remark is doubtful at most. Details only shift its numbers.
class Facts {
 public:
  explicit Facts(const installation::Installation& boat) : boat_(&boat) {}

  // Of the first element of that name; not a number, or empty, when the record has no such fact. Paths as "bank/@volts".
  double number(const std::string& path);
  std::string word(const std::string& path);
  double detail(const std::string& path);
  std::string detail_word(const std::string& path);
  bool yes(const std::string& path) { return word(path) == "yes"; }
  // A fact or list of elements that the rule takes from somewhere else.
  void decisive(const std::string& path);

  bool stated(const std::string& path) const;
  bool decided_by_assumption() const { return decided_by_assumption_; }
  const std::vector<installation::Assumed>& assumed() const { return assumed_; }
  const installation::Installation& boat() const { return *boat_; }
  pugi::xml_node root() const { return boat_->root(); }

 private:
  bool note(const std::string& path);  // true when it was assumed

  const installation::Installation* boat_;
  std::vector<installation::Assumed> assumed_;
  bool decided_by_assumption_ = false;
};

// Of one element: not a number when absent.
double number_in(pugi::xml_node element, const char* fact);
std::string word_in(pugi::xml_node element, const char* fact);

// "0.72 V"
std::string shown(double value, int decimals, const std::string& unit);
// "helm", "helm and bow", "helm, wing and bow"; more than six: the first five "and 7 more".
std::string named(const std::vector<std::string>& names);

// A remark of that rule with its sources and causes; doubtful when a decisive fact was assumed. Requires: a rule of review_rules().
Remark remark(const Facts& facts, const std::string& rule, Severity severity, const std::string& what, const std::string& way_out);

using Remarks = std::vector<Remark>;

// The rooms of the review: each adds what it finds.
void review_cables(const installation::Installation& boat, Remarks& remarks);
void review_fuse(const installation::Installation& boat, Remarks& remarks);
void review_bank(const installation::Installation& boat, Remarks& remarks);
void review_charging(const installation::Installation& boat, Remarks& remarks);
void review_supply(const installation::Installation& boat, Remarks& remarks);
void review_string(const installation::Installation& boat, Remarks& remarks);
void review_branches(const installation::Installation& boat, Remarks& remarks);
void review_terminators(const installation::Installation& boat, Remarks& remarks);
void review_stations(const installation::Installation& boat, Remarks& remarks);

// A control network is fitted: its rules apply.
bool networked(const installation::Installation& boat);

}  // namespace leadline::circuit
