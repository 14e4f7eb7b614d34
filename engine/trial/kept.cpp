#include "engine/trial/kept.h"

#include <nlohmann/json.hpp>

namespace leadline::trial {

using nlohmann::json;

// In the namespace of the types: there the library looks for them. All names of the form are these, `policy`, `place` and `named`.
static void to_json(json& pair, const Forecast& forecast) { pair = {forecast.chance, forecast.happened}; }
static void from_json(const json& pair, Forecast& forecast) { forecast = {pair.at(0).get<double>(), pair.at(1).get<bool>()}; }
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Played, number, boat, truth, led_by, proved, minutes, checks, remedies, hazards, beliefs, leader)

namespace {

constexpr int form = 2;  // 1 did not say what was named in the end

json head_of(const TrialIdentity& identity) {
  return {{"trial", form}, {"program", identity.program}, {"book", identity.book}, {"seed", identity.seed}, {"boats", identity.boats}};
}

std::pair<Policy, Played> played_of(const json& body) {
  const auto policy = policy_of(body.at("policy").get<std::string>());
  if (!policy) throw std::invalid_argument("no such policy");
  auto played = body.get<Played>();
  if (body.contains("place")) played.place = body.at("place").get<std::size_t>();
  if (body.contains("named")) played.named = body.at("named").get<std::size_t>();
  return {*policy, std::move(played)};
}

std::string differs_in(const json& head, const TrialIdentity& identity) {
  const auto wanted = head_of(identity);
  for (const auto& [name, words] : {std::pair{"trial", "form of the file"}, {"program", "version of the program"}, {"book", "knowledge base"}, {"seed", "--seed"}, {"boats", "--boats"}}) {
    if (!head.is_object() || !head.contains(name) || head.at(name) != wanted.at(name)) return words;
  }
  return "";
}

}  // namespace

std::string line_of(const TrialIdentity& identity) { return head_of(identity).dump() + "\n"; }

std::string line_of(Policy policy, const Played& played) {
  json body = played;
  body["policy"] = to_string(policy);
  if (played.place) body["place"] = *played.place;
  if (played.named) body["named"] = *played.named;
  return body.dump() + "\n";
}

std::variant<KeptTrial, NotThisTrial> kept_trial(std::string_view text, const TrialIdentity& identity) {
  KeptTrial kept;
  for (std::size_t number = 1; kept.whole < text.size(); ++number) {
    const auto end = text.find('\n', kept.whole);
    const bool torn = end == std::string_view::npos;
    if (torn && number == 1 && !line_of(identity).starts_with(text)) return NotThisTrial{"it was not kept by a trial", number};
    if (torn) break;
    const auto body = json::parse(text.substr(kept.whole, end - kept.whole), nullptr, false);
    if (number == 1) {
      const auto other = differs_in(body, identity);
      if (!other.empty()) return NotThisTrial{"it was kept by a trial with another " + other, number};
    } else {
      try {
        auto [policy, played] = played_of(body);
        kept.played.insert_or_assign({policy, played.number}, std::move(played));
      } catch (const std::exception&) {   // of the JSON library, or of played_of
        return NotThisTrial{"this line is no call-out of a trial", number};
      }
    }
    kept.whole = end + 1;
  }
  return kept;
}

}  // namespace leadline::trial
