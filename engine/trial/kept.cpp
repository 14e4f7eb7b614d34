#include "engine/trial/kept.h"

#include <nlohmann/json.hpp>

namespace leadline::trial {

namespace {

using nlohmann::json;

constexpr int form = 1;

json of(const Forecast& forecast) { return {forecast.chance, forecast.happened}; }

Forecast forecast_of(const json& pair) { return {pair.at(0).get<double>(), pair.at(1).get<bool>()}; }

json head_of(const TrialIdentity& identity) {
  return {{"trial", form}, {"program", identity.program}, {"book", identity.book}, {"seed", identity.seed}, {"boats", identity.boats}};
}

std::pair<Policy, Played> played_of(const json& body) {
  const auto policy = policy_of(body.at("policy").get<std::string>());
  if (!policy) throw std::invalid_argument("no such policy");
  Played played;
  body.at("number").get_to(played.number);
  body.at("boat").get_to(played.boat);
  body.at("truth").get_to(played.truth);
  if (body.contains("place")) played.place = body.at("place").get<std::size_t>();
  body.at("led_by").get_to(played.led_by);
  body.at("proved").get_to(played.proved);
  body.at("minutes").get_to(played.minutes);
  body.at("checks").get_to(played.checks);
  body.at("remedies").get_to(played.remedies);
  body.at("hazards").get_to(played.hazards);
  for (const auto& belief : body.at("beliefs")) played.beliefs.push_back(forecast_of(belief));
  played.leader = forecast_of(body.at("leader"));
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
  json beliefs = json::array();
  for (const auto& belief : played.beliefs) beliefs.push_back(of(belief));
  json body{{"policy", to_string(policy)}, {"number", played.number}, {"boat", played.boat}, {"truth", played.truth}, {"led_by", played.led_by}, {"proved", played.proved},
            {"minutes", played.minutes}, {"checks", played.checks}, {"remedies", played.remedies}, {"hazards", played.hazards}, {"beliefs", beliefs}, {"leader", of(played.leader)}};
  if (played.place) body["place"] = *played.place;
  return body.dump() + "\n";
}

std::variant<KeptTrial, NotThisTrial> kept_trial(std::string_view text, const TrialIdentity& identity) {
  KeptTrial kept;
  for (std::size_t number = 1; kept.whole < text.size(); ++number) {
    const auto end = text.find('\n', kept.whole);
    if (end == std::string_view::npos) break;
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
