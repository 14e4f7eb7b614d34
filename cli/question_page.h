#pragma once
// Questions, lists and reasons of a conversation as text. Pure. Tested by tests/cli/golden_test.cpp.
#include "cli/conversation.h"
#include "cli/layout.h"

namespace leadline::cli {

Page safety_page(knowledge::Who role, bool by_phone, std::size_t width);
Page hint_page(std::size_t width);                                            // the words that work at every question, once
Page help_page(std::size_t width);                                            // '?'
// Words that cannot wait for the next question; by phone they are for the caller.
Page at_once_page(const std::string& words, bool by_phone, std::size_t width);
// Of words that were no answer, but may tell of a danger.
Page danger_page(const Conversation& conversation, const knowledge::AtOnce& told, std::size_t width);
// All of it that stands; empty when nothing does.
Page at_once_standing_page(const callout::Assessment& assessment, std::size_t width);
Page list_page(const Conversation& conversation, std::size_t width);          // 'list'
Page why_page(const Conversation& conversation, std::size_t width);           // 'why'
// Ranking, disagreement, and the check in hand with its precautions before its steps.
Page proposal_page(const Conversation& conversation, std::size_t width);
// The question itself, its choices or the form of its answer.
Page question_page(const Conversation& conversation, std::size_t width);

}  // namespace leadline::cli
