#include "cli/completion_offers.h"

#include <algorithm>

namespace leadline::cli {

namespace {

bool mentions(std::string_view words, std::string_view part) { return words.find(part) != std::string_view::npos; }

// Of a command that takes ids: the kinds its --kind allows.
std::vector<std::string> kinds_of(const CommandSpec* command) {
  if (command == nullptr) return {};
  const auto found = std::find_if(command->options.begin(), command->options.end(), [](const auto& option) { return option.name == "kind"; });
  return found == command->options.end() ? std::vector<std::string>{} : found->choices;
}

// By the word the help uses for it.
Offer offer_by_name(const std::string& argument, const CommandSpec* command) {
  if (mentions(argument, "FILE") || mentions(argument, ".xml") || mentions(argument, "JOB")) return {Offer::Kind::file, {}};
  if (mentions(argument, "DIR")) return {Offer::Kind::folder, {}};
  if (argument == "TOOLS") return {Offer::Kind::id_list, {"tool"}};
  if (argument == "ID") return {Offer::Kind::ids, kinds_of(command)};
  return {};
}

}  // namespace

Offer offer_for(const OptionSpec& option, const CommandSpec* command) {
  if (!option.choices.empty()) return {Offer::Kind::words, option.choices};
  const auto& kinds = listed_kinds();
  const bool names_kind = option.argument == "ID" && std::find(kinds.begin(), kinds.end(), option.name) != kinds.end();
  return names_kind ? Offer{Offer::Kind::ids, {option.name}} : offer_by_name(option.argument, command);
}

Offer offer_for_operands(const CommandSpec& command) {
  if (!command.words.empty()) return {Offer::Kind::words, command.words};
  if (!mentions(command.operands, "COMMAND")) return offer_by_name(command.operands, &command);
  return {Offer::Kind::words, command_names()};
}

std::string joined(const std::vector<std::string>& words, std::string_view between) {
  std::string out;
  for (const auto& word : words) out += (out.empty() ? "" : std::string(between)) + word;
  return out;
}

std::string option_names(const std::vector<OptionSpec>& options) {
  std::string names;
  for (const auto& option : options) names += (names.empty() ? "--" : " --") + option.name;
  return names;
}

}  // namespace leadline::cli
