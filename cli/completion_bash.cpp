#include "cli/completion.h"
#include "cli/completion_offers.h"

namespace leadline::cli {

namespace {

// Needs no package beside bash. The program that is being completed is asked for ids, so that another --knowledge of tomorrow needs no new script.
constexpr std::string_view opening = R"script(# bash completion for leadline: written by 'leadline completion bash' from its table of commands.
_leadline_ids() { "${COMP_WORDS[0]}" list "$@" 2>/dev/null | cut -f 2; }
_leadline_offer() { mapfile -t COMPREPLY < <(compgen "$@" -- "$cur"); }
_leadline() {
  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} command= head= i
  COMPREPLY=()
  if [[ $cur == = ]]; then cur=; elif [[ $prev == = ]]; then prev=${COMP_WORDS[COMP_CWORD-2]}; fi
  for ((i = 1; i < COMP_CWORD; i++)); do
    case ${COMP_WORDS[i]} in
)script";

std::string offered(const Offer& offer) {
  switch (offer.kind) {
    case Offer::Kind::file: return "compopt -o filenames 2>/dev/null; _leadline_offer -f";
    case Offer::Kind::folder: return "compopt -o filenames 2>/dev/null; _leadline_offer -d";
    case Offer::Kind::words: return "_leadline_offer -W \"" + joined(offer.words) + "\"";
    case Offer::Kind::ids: return "_leadline_offer -W \"$(_leadline_ids " + joined(offer.words) + ")\"";
    case Offer::Kind::id_list:
      return "[[ $cur == *,* ]] && head=${cur%,*},; cur=${cur##*,}; _leadline_offer -P \"$head\" -W \"$(_leadline_ids " + joined(offer.words) + ")\"";
    case Offer::Kind::nothing: break;
  }
  return ":";
}

// "      'diagnose --role') …; return ;;" for every option that takes a word.
std::string value_cases(const std::vector<OptionSpec>& options, const CommandSpec* command) {
  std::string out;
  for (const auto& option : options) {
    if (option.argument.empty()) continue;
    out += "    " + (command != nullptr ? "'" + command->name + " --" : "*' --") + option.name + "') " + offered(offer_for(option, command)) + "; return ;;\n";
  }
  return out;
}

std::string with_argument() {
  std::vector<std::string> names;
  for (const auto& option : global_options()) {
    if (!option.argument.empty()) names.push_back("--" + option.name);
  }
  return joined(names, "|");
}

}  // namespace

std::string bash_completion() {
  std::string script(opening);
  script += "      " + with_argument() + ") ((i++)); if [[ ${COMP_WORDS[i]} == = ]]; then ((i++)); fi ;;\n      -*|=) ;;\n";
  script += "      *) command=${COMP_WORDS[i]}; break ;;\n    esac\n  done\n  case \"$command $prev\" in\n" + value_cases(global_options(), nullptr);
  for (const auto& command : command_specs()) script += value_cases(command.options, &command);
  script += "  esac\n  local options='" + option_names(global_options()) + "' commands=\n";
  script += "  case $command in\n";
  for (const auto& command : command_specs()) {
    script += "    " + command.name + ") if [[ $cur == -* ]]; then options+=' " + option_names(command.options) + "'; else " + offered(offer_for_operands(command)) + "; return; fi ;;\n";
  }
  script += "    '') commands='" + joined(command_names()) + "' ;;\n  esac\n";
  script += "  if [[ $cur == -* ]]; then _leadline_offer -W \"$options\"; else _leadline_offer -W \"$commands\"; fi\n}\ncomplete -F _leadline leadline\n";
  return script;
}

}  // namespace leadline::cli
