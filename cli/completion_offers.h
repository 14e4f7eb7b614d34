#pragma once
// What may stand where an option or a command wants a word: the part of completion that is the same in every shell.
#include <string>
#include <string_view>
#include <vector>

#include "cli/command_line.h"

namespace leadline::cli {

struct Offer {
  enum class Kind { nothing, file, folder, words, ids, id_list } kind = Kind::nothing;
  std::vector<std::string> words;  // Kind::words: these; ids and id_list: kinds for 'leadline list'. An id_list has commas between
};

// `command` is null for the options of every command.
Offer offer_for(const OptionSpec& option, const CommandSpec* command);
Offer offer_for_operands(const CommandSpec& command);

std::string joined(const std::vector<std::string>& words, std::string_view between = " ");
std::string option_names(const std::vector<OptionSpec>& options);  // "--json --all"

}  // namespace leadline::cli
