#include "cli/completion.h"
#include "cli/completion_offers.h"

namespace leadline::cli {

namespace {

std::string in_quotes(std::string_view words) {
  std::string out = "'";
  for (const char c : words) {
    if (c == '\'' || c == '\\') out += '\\';
    out += c;
  }
  return out + "'";
}

// -r: a word must follow; -F: files; -f: no files; -a: these.
std::string offered(const Offer& offer) {
  switch (offer.kind) {
    case Offer::Kind::file: return " -F";
    case Offer::Kind::folder: return " -f -a '(__fish_complete_directories (commandline -ct))'";
    case Offer::Kind::words: return " -f -a " + in_quotes(joined(offer.words));
    case Offer::Kind::ids: return " -f -a '(leadline list " + joined(offer.words) + " 2>/dev/null | string replace -r \"^\\\\S+\\\\t\" \"\")'";
    case Offer::Kind::id_list: return " -f -a '(__fish_append , (leadline list " + joined(offer.words) + " 2>/dev/null | string split -f 2 \\t))'";
    case Offer::Kind::nothing: break;
  }
  return " -f";
}

std::string option_line(const OptionSpec& option, const CommandSpec* command) {
  auto line = std::string("complete -c leadline") + (command != nullptr ? " -n '__fish_seen_subcommand_from " + command->name + "'" : "") + " -l " + option.name;
  if (option.letter != 0) line += std::string(" -s ") + option.letter;
  if (!option.argument.empty()) line += " -r" + offered(offer_for(option, command));
  return line + " -d " + in_quotes(option.help) + "\n";
}

}  // namespace

std::string fish_completion() {
  std::string script = "# fish completion for leadline: written by 'leadline completion fish' from its table of commands.\ncomplete -c leadline -f\n";
  for (const auto& option : global_options()) script += option_line(option, nullptr);
  for (const auto& command : command_specs()) {
    script += "complete -c leadline -n __fish_use_subcommand -a " + command.name + " -d " + in_quotes(command.summary) + "\n";
    for (const auto& option : command.options) script += option_line(option, &command);
    const auto offer = offer_for_operands(command);
    if (offer.kind != Offer::Kind::nothing) script += "complete -c leadline -n '__fish_seen_subcommand_from " + command.name + "'" + offered(offer) + "\n";
  }
  return script;
}

}  // namespace leadline::cli
