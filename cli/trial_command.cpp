// leadline trial: how good it is, on simulated call-outs. Tested by tests/cli/trial_test.cpp.
#include <filesystem>
#include <fstream>
#include <memory>
#include <span>
#include <sstream>

#include "cli/files.h"
#include "cli/run.h"
#include "cli/session.h"
#include "cli/trial_page.h"
#include "engine/callout/case_file.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

constexpr std::size_t most_calls = 1'000'000, most_boats = 1000;

std::vector<trial::Policy> policies_of(const CommandLine& line) {
  std::istringstream words(line.value("policies").value_or("ours"));
  std::vector<trial::Policy> policies;
  for (std::string word; std::getline(words, word, ',');) {
    const auto policy = trial::policy_of(word);
    if (!policy) throw Failure(bad_usage, "no policy '" + text::printable(word) + "'; expected ours, information, frequency or chart, with commas between");
    policies.push_back(*policy);
  }
  if (policies.empty()) throw Failure(bad_usage, "--policies names none");
  return policies;
}

trial::TrialPlan plan_of(const CommandLine& line) {
  trial::TrialPlan plan;
  plan.seed = whole_number(line, "seed", 1, 0, 1'000'000'000);
  plan.calls = whole_number(line, "calls", 200, 1, most_calls);
  plan.policies = policies_of(line);
  plan.threads = static_cast<unsigned>(whole_number(line, "cores", 0, 0, 256));
  return plan;
}

// The file a trial is kept in, at the end of what it holds.
struct KeptIn {
  trial::PlayedBefore before;
  std::ofstream file;
  trial::Keeping keeping{before, [this](trial::Policy policy, const trial::Played& played) { file << trial::line_of(policy, played) << std::flush; }};
};

std::unique_ptr<KeptIn> kept_in(const std::optional<std::string>& path, const trial::TrialIdentity& identity) {
  if (!path) return nullptr;
  std::error_code error;
  const bool there = std::filesystem::exists(*path, error);
  const text::Source source = there ? read_file(*path) : text::Source{*path, ""};
  auto read = trial::kept_trial(source.content, identity);
  if (const auto* wrong = std::get_if<trial::NotThisTrial>(&read)) {
    throw Failure(bad_data, text::printable(*path) + ":" + std::to_string(wrong->line) + ": error: " + wrong->why + "; name another file, or begin it anew by removing this one");
  }
  auto& trial = std::get<trial::KeptTrial>(read);
  auto kept = std::make_unique<KeptIn>();
  kept->before = std::move(trial.played);
  if (there) std::filesystem::resize_file(*path, trial.whole, error);
  kept->file.open(*path, std::ios::binary | std::ios::app);
  if (trial.whole == 0) kept->file << trial::line_of(identity) << std::flush;
  if (error || !kept->file) throw Failure(input_output_failed, "cannot write to " + text::printable(*path));
  return kept;
}

// Every folder of `folder` that holds a callout.xml, by name.
std::vector<trial::Replayed> replay_all(const Session& session, const knowledge::KnowledgeBase& base, const std::string& folder) {
  std::vector<trial::Replayed> replayed;
  for (const auto& source : read_folders(folder, "callout.xml")) {
    const auto loaded = callout::read_case(base, source);
    if (!loaded.value) throw Failure(bad_data, text::render(loaded.problems, std::span(&source, 1)));
    replayed.push_back(trial::replay(base, *loaded.value));
    if (told_to_stop(session.around)) throw Failure(stopping_code(session.around), "stopped");
  }
  return replayed;
}

}  // namespace

ExitCode run_trial(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  if (const auto folder = line.value("cases")) {
    const auto replayed = replay_all(session, base, *folder);
    if (line.has("json")) session.out << replays_json(replayed);
    else session.print(replays_page(replayed, session.width));
    return done;
  }
  const auto plan = plan_of(line);
  const auto replay = line.value("replay");
  const auto number = whole_number(line, "replay", 0, 1, most_calls);
  const auto boats = trial::drawn_boats(base, whole_number(line, "boats", 24, 1, most_boats), plan.seed);
  if (replay) {
    for (const auto policy : plan.policies) {
      session.print(story_page(base, boats, trial::play(base, boats, policy, plan.seed, number, plan.play, true), policy, session.width));
    }
    return done;
  }
  auto kept = kept_in(line.value("keep"), {program_version(), base.digest, plan.seed, boats.size()});
  std::size_t told = 0;
  const auto progress = [&](std::size_t played, std::size_t all) {
    const auto tenths = 10 * played / all;
    if (tenths > told) session.complain("leadline: " + std::to_string(played) + " of " + std::to_string(all) + " played");
    told = tenths;
    return !told_to_stop(session.around);
  };
  const TrialResult result{base, boats, plan, trial::run_trial(base, boats, plan, progress, kept ? &kept->keeping : nullptr)};
  if (kept && !kept->file) throw Failure(input_output_failed, "cannot write to " + text::printable(*line.value("keep")));
  if (result.played.empty()) {
    session.tell(kept ? "leadline: stopped; what was played is kept, the same command goes on from there" : "leadline: stopped; nothing of the trial is kept (--keep FILE would)");
    return stopping_code(session.around);
  }
  if (line.has("json")) session.out << trial_json(result);
  else session.print(trial_page(result, session.width));
  return done;
}

}  // namespace leadline::cli
