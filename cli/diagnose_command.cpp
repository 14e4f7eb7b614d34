// leadline diagnose: a call-out from the complaint to the remedies. Tested by tests/cli/commands_test.cpp and the golden call-outs.
#include <algorithm>
#include <sstream>

#include "cli/dialogue.h"
#include "cli/files.h"
#include "cli/final_page.h"
#include "cli/question_page.h"
#include "cli/ranking_page.h"
#include "cli/session.h"
#include "cli/step_page.h"
#include "engine/callout/case_file.h"
#include "engine/markup/element.h"
#include "engine/text/spelling.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

// The tools an option names, with commas between.
std::vector<std::size_t> tools_of(const knowledge::KnowledgeBase& base, const CommandLine& line, const std::string& option) {
  std::istringstream words(line.value(option).value_or(""));
  std::vector<std::size_t> named;
  for (std::string word; std::getline(words, word, ',');) {
    const auto id = markup::fold_blanks(word);
    const auto tool = knowledge::find_id(base.tools, id);
    const auto ids = knowledge::ids_of(base.tools);
    if (!tool) throw Failure(bad_usage, "no tool '" + text::printable(id) + "' for --" + option + "; " + text::suggestion(id, ids, ids.size()));
    named.push_back(tool->index);
  }
  return named;
}

void mark_tools(const knowledge::KnowledgeBase& base, const CommandLine& line, planning::Bounds& bounds) {
  for (const auto& tool : base.tools) bounds.missing.push_back(!tool.usual);
  const auto with = tools_of(base, line, "with"), without = tools_of(base, line, "without");
  for (const auto tool : with) bounds.missing[tool] = false;
  for (const auto tool : without) {
    const bool both = std::find(with.begin(), with.end(), tool) != with.end();
    if (both) throw Failure(bad_usage, "--with and --without both name '" + base.tools[tool].id + "'; give one");
    bounds.missing[tool] = true;
  }
}

planning::Bounds bounds_of(const knowledge::KnowledgeBase& base, const CommandLine& line) {
  planning::Bounds bounds;
  mark_tools(base, line, bounds);
  if (line.has("afloat") && line.has("hauled")) throw Failure(bad_usage, "--afloat and --hauled contradict each other; give one");
  if (line.has("alone") && line.has("helper")) throw Failure(bad_usage, "--alone and --helper contradict each other; give one");
  if (line.has("hauled")) bounds.water = knowledge::Water::ashore;
  if (line.has("alone")) bounds.hands = planning::Hands::alone;
  if (line.has("helper")) bounds.hands = planning::Hands::helper;
  bounds.daylight = !line.has("dark");
  bounds.engine_may_run = !line.has("no-engine");
  return bounds;
}

Setup setup_of(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  Setup setup;
  setup.bounds = bounds_of(base, line);
  if (line.value("role") == "owner") setup.role = knowledge::Who::owner;
  setup.instrument = diagnosis::instrument_class_of(line.value("instrument").value_or("pocket")).value_or(setup.instrument);
  const auto file = line.value("installation");
  if (!file) return setup;
  if (*file == "-") throw Failure(bad_usage, "--installation needs a file: standard input is for the answers");
  const auto source = read_file(*file);
  auto loaded = installation::read_installation(base, source);
  const auto rendered = text::render(loaded.problems, std::span(&source, 1));
  if (!loaded.value) throw Failure(bad_data, rendered);
  if (!rendered.empty()) session.log->warn("{}", rendered);
  setup.installation = std::move(*loaded.value);
  return setup;
}

void save(const Session& session, const Conversation& conversation, const std::optional<std::string>& file) {
  if (!file) return;
  write_file(*file, callout::to_xml(conversation.base(), conversation.record()));
  session.complain("leadline: saved as " + text::printable(*file) + "; rank it with: leadline rank " + text::printable(*file));
}

// Without questions: what the boat alone says, and the first check.
ExitCode without_questions(const Session& session, const Conversation& conversation, const std::optional<std::string>& record) {
  const auto& assessment = conversation.assessment();
  auto page = session.page();
  page.append(safety_page(conversation.record().role, session.width));
  page.blank().append(ranking_page(assessment, shown_explanations, session.width));
  const auto advice = planning::advise(conversation.job());
  page.blank().append(step_page(assessment, advice.proposals.front(), advice, "First check: ", session.width));
  session.print(page);
  save(session, conversation, record);
  return done;
}

ExitCode closing(const Session& session, const Conversation& conversation, const std::optional<std::string>& record) {
  const bool nothing_said = conversation.ending() == Ending::input_ended && conversation.record().answers.empty();
  session.print(session.page().append(final_page(conversation, session.width)));
  save(session, conversation, record);
  if (nothing_said) {
    session.complain("leadline: the input ended before any answer; type answers, pipe them in one a line, or use --no-input");
    return input_missing;
  }
  return disagree(conversation.assessment()) ? done_with_findings : done;
}

}  // namespace

ExitCode run_diagnose(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  const auto record = line.value("record");
  if (record) {
    const auto why = why_not_writable(*record);  // before the first question, not after the last
    if (!why.empty()) throw Failure(input_output_failed, why);
  }
  Conversation conversation(base, setup_of(session, base, line));
  if (line.has("no-input")) return without_questions(session, conversation, record);
  auto opening = session.page();
  opening.append(safety_page(conversation.record().role, session.width)).blank().append(hint_page(session.width));
  session.print(opening);
  Dialogue dialogue(session, conversation);
  if (!dialogue.hold()) {
    save(session, conversation, record);
    session.complain(record ? "leadline: stopped; the answers so far are kept" : "leadline: stopped; the answers were not kept (--record FILE keeps them)");
    return interrupted;
  }
  session.print("\n");
  return closing(session, conversation, record);
}

}  // namespace leadline::cli
