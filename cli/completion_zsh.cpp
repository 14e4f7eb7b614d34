#include "cli/completion.h"
#include "cli/completion_offers.h"

namespace leadline::cli {

namespace {

constexpr std::string_view opening = R"script(#compdef leadline
# zsh completion for leadline: written by 'leadline completion zsh' from its table of commands.
_leadline_ids() { local -a ids; ids=(${(f)"$(leadline list $@ 2>/dev/null | cut -f 2)"}); compadd -a ids }
_leadline_id_list() { local -a ids; ids=(${(f)"$(leadline list $1 2>/dev/null | cut -f 2)"}); compset -P '*,'; compadd -S '' -a ids }
_leadline() {
  local context state state_descr line
  typeset -A opt_args
  _arguments -C \
)script";

// Inside single quotes and between the signs that _arguments and _describe take apart.
std::string in_quotes(std::string_view words) {
  std::string out;
  for (const char c : words) {
    if (c == '\'') out += "'\\''";
    else if (c == '[' || c == ']' || c == ':' || c == '\\') out += std::string("\\") + c;
    else out += c;
  }
  return out;
}

std::string action(const Offer& offer) {
  switch (offer.kind) {
    case Offer::Kind::file: return "_files";
    case Offer::Kind::folder: return "_files -/";
    case Offer::Kind::words: return "(" + joined(offer.words) + ")";
    case Offer::Kind::ids: return "{_leadline_ids " + joined(offer.words) + "}";
    case Offer::Kind::id_list: return "{_leadline_id_list " + joined(offer.words) + "}";
    case Offer::Kind::nothing: break;
  }
  return " ";
}

std::string specs(const std::vector<OptionSpec>& options, const CommandSpec* command, const std::string& margin) {
  std::string out;
  for (const auto& option : options) {
    const auto help = "[" + in_quotes(option.help) + "]";
    const auto value = option.argument.empty() ? "" : ":" + option.argument + ":" + action(offer_for(option, command));
    out += margin + "'--" + option.name + (option.argument.empty() ? "" : "=") + help + value + "' \\\n";
    if (option.letter != 0) out += margin + "'-" + option.letter + help + value + "' \\\n";
  }
  return out;
}

}  // namespace

std::string zsh_completion() {
  std::string script(opening);
  script += specs(global_options(), nullptr, "    ") + "    '1:command:->command' '*::operand:->rest'\n  case $state in\n    command)\n      local -a commands=(\n";
  for (const auto& command : command_specs()) script += "        '" + in_quotes(command.name) + ":" + in_quotes(command.summary) + "'\n";
  script += "      )\n      _describe command commands ;;\n    rest)\n      case $words[1] in\n";
  for (const auto& command : command_specs()) {
    script += "        " + command.name + ")\n          _arguments \\\n" + specs(global_options(), nullptr, "            ") + specs(command.options, &command, "            ") + "            '*:operand:" +
              action(offer_for_operands(command)) + "' ;;\n";
  }
  return script + "      esac ;;\n  esac\n}\nif [ \"$funcstack[1]\" = _leadline ]; then _leadline \"$@\"; else compdef _leadline leadline; fi\n";
}

}  // namespace leadline::cli
