// The thruster bank: its make-up, its size for the motor, its minus, and how it is cut off.
#include <cmath>

#include "engine/circuit/battery.h"
#include "engine/circuit/review_run.h"

namespace leadline::circuit {

namespace {

constexpr double block_v = 12;
constexpr double doubtful_block_v = 9.5, dropout_block_v = 9.0;  // 19 and 18 V of a 24 V bank: contactors drop out, controllers stop
constexpr double most_amps_per_ah = 10.0 / 3;                    // the rule of thumb also behind the book's bank-too-small
constexpr double most_lithium_amps_per_ah = 1;                   // usual limit of a battery management

void judge_blocks(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double volts = facts.number("bank/@volts");
  const double blocks = volts / block_v;
  if (std::isnan(blocks)) return;
  const bool whole = blocks == std::floor(blocks) && blocks >= 1;
  const auto chemistry = facts.detail_word("bank/@chemistry"), arrangement = facts.word("bank/@arrangement");
  const bool large_block = blocks > 1 && chemistry != "lithium" && (arrangement == "single" || arrangement == "parallel");
  const bool series_of_12 = blocks == 1 && (arrangement == "series" || arrangement == "series-parallel");
  if (whole && !large_block && !series_of_12) return;
  const auto bank = shown(volts, 1, "V");
  const auto what = !whole        ? "No whole number of 12 V blocks makes a bank of " + bank
                    : large_block ? "A bank of " + bank + " without batteries in series: lead-acid blocks are made with 12 V as a rule"
                                  : "A series bank of 12 V: only blocks of 6 V make that";
  auto made = remark(facts, "bank-blocks", whole ? Severity::doubtful : Severity::wrong, what,
                     "count the batteries and read their volts; correct the record");
  made.figures = {{"blocks of 12 V", blocks, 2, "", bank + " divided by 12 V"}};
  remarks.push_back(std::move(made));
}

void judge_ampere_hours(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const double ampere_hours = facts.number("bank/@amp-hours"), amps = facts.number("thruster/@amps");
  const bool lithium = facts.word("bank/@chemistry") == "lithium";
  const double most = lithium ? most_lithium_amps_per_ah : most_amps_per_ah;
  if (!(amps > most * ampere_hours)) return;
  const auto asked = "The motor asks " + shown(amps, 0, "A") + " of " + shown(ampere_hours, 0, "Ah") + ": ";
  auto made = lithium
                  ? remark(facts, "lithium-current", Severity::doubtful,
                           asked + "the management of many lithium banks stops at about 1 A for each Ah, and then the bank goes dead for a moment",
                           "read the discharge limit on the bank and hold it against the motor's current")
                  : remark(facts, "bank-ampere-hours", Severity::doubtful, asked + "more than some 3.3 A for each Ah, so a sound bank sags far",
                           "a bank of " + shown(std::ceil(amps / most / 10) * 10, 0, "Ah") + " or more");
  made.figures = {{"asked for each Ah", amps / ampere_hours, 2, "A", shown(amps, 0, "A") + " divided by " + shown(ampere_hours, 0, "Ah")},
                  {"rule of thumb", most, 1, "A", "for each Ah at most"}};
  remarks.push_back(std::move(made));
}

struct Sag {
  double blocks = 0, emf_v = 0, bank_ohm = 0, cable_ohm = 0, amps = 0;
  double at_bank_v() const { return emf_v - amps * bank_ohm; }
  double at_thruster_v() const { return at_bank_v() - amps * cable_ohm; }
};

// Of a healthy bank of its age at the motor's rated current, which itself falls a little with the volts: the dark side. No answer for
// lithium: its management cuts out before it sags.
std::optional<Sag> sag_of(Facts& facts) {
  const auto chemistry = chemistry_of(facts.detail_word("bank/@chemistry"));
  if (!chemistry || *chemistry == Chemistry::lithium) return std::nullopt;
  Sag sag;
  sag.blocks = facts.number("bank/@volts") / block_v;
  sag.amps = facts.number("thruster/@amps");
  const double cold_cranking = facts.detail("bank/@cold-cranking");
  const auto emf = emf_v(*chemistry, facts.detail("bank/@charge") / 100);
  const auto aged = ageing_factor(facts.detail("bank/@age"), facts.detail("bank/@temperature"));
  const auto by_cca = healthy_internal_ohm_of_cca(cold_cranking), by_ah = healthy_internal_ohm_of_capacity(facts.number("bank/@amp-hours"));
  const auto arrangement = facts.detail_word("bank/@arrangement");
  const double strings = arrangement == "parallel" || arrangement == "series-parallel" ? 2 : 1;  // the amp-hours are those of all strings together
  const auto& ohm = value_of(by_cca) ? by_cca : by_ah;
  const auto cable = ohm_of(heavy_run(facts));
  if (trouble_of(emf) || trouble_of(ohm) || trouble_of(aged) || !cable) return std::nullopt;
  sag.emf_v = sag.blocks * *value_of(emf);
  sag.bank_ohm = sag.blocks * *value_of(ohm) / (value_of(by_cca) ? strings : 1) * *value_of(aged);
  sag.cable_ohm = *cable;
  return sag;
}

// What loses most comes first: a larger bank behind a thin cable is money thrown away.
std::string way_out_of(const Sag& sag, double left_ohm, double enough_ah) {
  if (!(left_ohm > 0)) return "the cable first: it alone takes too much";
  const auto bank = "a bank of about " + shown(std::ceil(enough_ah / 10) * 10, 0, "Ah");
  return sag.cable_ohm > sag.bank_ohm ? "less lost in the cable first; else " + bank : bank + ", or less lost in the cable";
}

void judge_sag(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  const auto sag = sag_of(facts);
  if (!sag || !(sag->at_thruster_v() < doubtful_block_v * sag->blocks)) return;
  const bool drops_out = sag->at_thruster_v() < dropout_block_v * sag->blocks;
  const double limit = (drops_out ? dropout_block_v : doubtful_block_v) * sag->blocks;
  const double left_ohm = (sag->emf_v - doubtful_block_v * sag->blocks) / sag->amps - sag->cable_ohm;
  const double enough_ah = facts.number("bank/@amp-hours") * sag->bank_ohm / left_ohm;  // resistance falls as 1 / Ah
  auto made = remark(facts, "bank-sag", drops_out ? Severity::wrong : Severity::doubtful,
                     "Healthy, the bank sags to " + shown(sag->at_bank_v(), 1, "V") + " if the motor draws its full " + shown(sag->amps, 0, "A") +
                         ", and the thruster is left with " + shown(sag->at_thruster_v(), 1, "V") + ", joints not counted: " +
                         (drops_out ? "contactors drop out and controllers stop below some " + shown(limit, 0, "V")
                                    : "little above where contactors drop out and controllers stop"),
                     way_out_of(*sag, left_ohm, enough_ah));
  made.figures = {
      {"bank at rest", sag->emf_v, 2, "V", ""},
      {"its resistance", sag->bank_ohm * 1000, 1, "mΩ", "healthy, of its age: 3 V over the cranking current, else 5 mΩ a block at 100 Ah"},
      {"cable", sag->cable_ohm * 1000, 2, "mΩ", "out and back"},
      {"at the thruster", sag->at_thruster_v(), 1, "V", "at " + shown(sag->amps, 0, "A")},
      {"limit", limit, 1, "V", shown(limit / sag->blocks, 1, "V") + " for each 12 V"}};
  remarks.push_back(std::move(made));
}

void judge_minus(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  if (facts.word("power/@common-negative") != "no") return;
  const auto supply = facts.detail_word("network/@supply");
  const double volts = facts.detail("bank/@volts");
  const bool from_elsewhere = supply == "house" || supply == "starter";
  const bool step_up = facts.detail_word("charging/@step-up") == "yes";
  if (!from_elsewhere && !step_up && !(supply == "converter")) return;
  auto made = remark(facts, "common-negative", supply == "converter" && !step_up ? Severity::doubtful : Severity::wrong,
                     std::string("The minus of the thruster bank is not joined with the minus of the 12 V side") +
                         (from_elsewhere ? ": the network has no common reference with the thruster"
                          : step_up      ? ""
                                         : ": the converter must then join them") +
                         (step_up ? "; most step-up chargers have no return without it" : ""),
                     "one stout join between the two minus posts, fused or sized as the local rules ask");
  made.figures = {{"thruster bank", volts, 0, "V", "the record"}};
  remarks.push_back(std::move(made));
}

void judge_isolator(const installation::Installation& boat, Remarks& remarks) {
  Facts facts(boat);
  if (facts.word("power/@isolator") != "none") return;
  const double amps = facts.detail("thruster/@amps");
  auto made = remark(facts, "no-isolator", Severity::doubtful,
                     "No isolator: the heavy cable cannot be cut off from the bank when a contactor welds or a cable burns, and nobody can make it dead for work",
                     "an isolator in the plus by the bank that opens the motor's current; until then undo the bank's minus before any work on the heavy path");
  made.figures = {{"to be opened", amps, 0, "A", "the motor's current"}};
  remarks.push_back(std::move(made));
}

}  // namespace

void review_bank(const installation::Installation& boat, Remarks& remarks) {
  judge_blocks(boat, remarks);
  judge_ampere_hours(boat, remarks);
  judge_sag(boat, remarks);
  judge_minus(boat, remarks);
  judge_isolator(boat, remarks);
}

}  // namespace leadline::circuit
