#include <fmt/format.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <thread>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/progress.hpp"
#include "cases/read/case_file.hpp"
#include "cases/read/reading.hpp"
#include "cases/run/stop_signal.hpp"
#include "cases/sweep/plan.hpp"
#include "cases/sweep/sheet.hpp"
#include "cases/sweep/solve_design.hpp"
#include "cases/sweep/sweep_run.hpp"
#include "postproc/result/write_error.hpp"
#include "postproc/text/design_table.hpp"

namespace cw::cases {

namespace {

struct SweepArguments : CommonArguments {
  std::string method = "plain";
  int jobs = 0;  ///< 0: left out
  std::size_t lines = 10;
  std::vector<std::size_t> compare;
  std::optional<std::string> rank, against;
  bool optimise = false;
};

SweepOptions options_of(const SweepArguments& arguments, bool launched) {
  SweepOptions options;
  options.effort = arguments.effort();
  options.means.method = method_of(arguments.method);
  // A launcher starts one process for each core.
  const int all = launched ? 1 : static_cast<int>(std::thread::hardware_concurrency());
  options.jobs = arguments.jobs > 0 ? arguments.jobs : std::max(1, all);
  return options;
}

/// Compares the best designs of the fast method with their full solutions.
void print_checked(const std::vector<CheckedDesign>& checked) {
  if (checked.empty()) return;
  say(fmt::format("Solved in full as well: fast / full - 1\n{:>7}{:>12}{:>12}{:>12}\n", "place",
                  "work", "coil loss", "inductance"));
  for (const CheckedDesign& d : checked)
    say(fmt::format("{:>7}{:>+10.3f} %{:>+10.3f} %{:>+10.3f} %\n", d.place, 100 * d.work,
                    100 * d.coil, 100 * d.inductance));
  say("\n");
}

void require_sweep(const Case& subject) {
  if (subject.sweep) return;
  throw CaseError({fmt::format(
      "{}: found no [sweep]; write [sweep] with vary = [{{ key = \"coil.turns\", values = [6, 7, "
      "8] }}] and rank = \"-states.cold.power.workpiece_W\" (`coilwright new sweep` prints an "
      "example)",
      subject.file.string())});
}

/// Reports mistakes in the varied keys before anything is solved: if no design can be read, those
/// of the first.
void require_readable(const Case& subject, const CaseText& text) {
  const auto designs = plan_designs(subject);
  const std::size_t step = std::max<std::size_t>(1, designs.size() / 50);
  std::optional<CaseError> first;
  for (std::size_t k = 0; k < designs.size(); k += step) {
    try {
      static_cast<void>(read_set_case(text.text, text.file, text.set, designs[k]));
      return;
    } catch (const CaseError& error) {
      if (!first) first = error;
    }
  }
  if (first) throw CaseError(*first);
}

/// Reports unknown result keys before anything is solved.
void require_known_keys(const Case& subject, const SweepArguments& arguments) {
  std::vector<std::string> lines;
  const auto look = [&](const std::string& key, const std::string& place, const char* option) {
    const std::string found = unknown_key(subject, key);
    if (found.empty()) return;
    lines.push_back(option != nullptr
                        ? fmt::format("{}: {}", option, found)
                        : as_line(subject.file.string(), {subject.where.of(place), place, found}));
  };
  const Sweep& sweep = *subject.sweep;
  look(sweep.rank, "sweep.rank", arguments.rank ? "--rank" : nullptr);
  look(sweep.against, "sweep.against", arguments.against ? "--against" : nullptr);
  for (std::size_t k = 0; k < sweep.require.size(); ++k)
    look(sweep.require[k].key, fmt::format("sweep.require.{}.key", k), nullptr);
  if (!lines.empty()) throw CaseError(lines);
}

/// A heating run that ranks designs must be part of the case.
void require_heat(const Case& subject) {
  const auto& vary = subject.sweep->vary;
  if (!asks_for_heating(*subject.sweep) || subject.heat ||
      std::ranges::any_of(vary, [](const SweepAxis& a) { return a.key.starts_with("heat."); }))
    return;
  throw CaseError({fmt::format(
      "{}:{}: sweep: found a key of the heating run, but no [heat]; write for example [heat] with "
      "target = \"820 degC\", or rank by a state: \"-states.cold.power.workpiece_W\"",
      subject.file.string(), subject.where.of("sweep").line)});
}

int compare_designs(const SweepArguments& arguments, const Ranking& ranking,
                    const std::string& directory) {
  const std::size_t first = arguments.compare[0], second = arguments.compare[1];
  say(side_by_side(ranking, first, second));
  const std::string name = write_side_by_side(ranking, {first, second}, directory);
  say(fmt::format("Every figure of both: {}/{}\n", directory, name));
  return solved;
}

int lead(const SweepArguments& arguments, const SweepOptions& options, Hosts* hosts) {
  const std::vector<Change> changes = arguments.changes();
  const CaseText text{arguments.file, case_bytes(arguments.file), changes};
  Case subject = check_text(text);
  require_sweep(subject);
  if (arguments.rank) subject.sweep->rank = *arguments.rank;
  if (arguments.against) subject.sweep->against = *arguments.against;
  require_known_keys(subject, arguments);
  require_heat(subject);
  require_readable(subject, text);
  const std::string directory = arguments.directory_or("-sweep");
  if (hosts != nullptr) static_cast<void>(hosts->share(text.text));
  const StopSignal stop;
  if (arguments.optimise && subject.sweep->rank.empty())
    throw CaseError(
        {"sweep.rank: found none, but --optimise needs a figure to optimise; write for example "
         "rank = \"-states.cold.power.workpiece_W\""});
  const auto search = arguments.optimise ? run_optimiser : run_sweep;
  const SweepRun run = [&] {
    const SweepBarEnd wiped;
    return search(subject, text, options, {directory, hosts, sweep_progress()});
  }();
  if (run.stopped && is_empty(run.ranking)) {
    tell("Stopped before any design was solved; the same command continues from here.\n");
    return stopped_by_user;
  }
  write_sweep(subject, run.ranking, directory);
  if (!arguments.compare.empty()) return compare_designs(arguments, run.ranking, directory);
  say(fmt::format("{}\n", design_text(sheet_of(subject, run.ranking), arguments.lines)));
  print_checked(run.checked);
  if (const std::string complaint = complaint_of(run.ranking); !complaint.empty())
    tell(fmt::format("{}\n", complaint));
  say(
      fmt::format("Report    {0}/report.html\n"
                  "Store     {0}/designs.sqlite (to continue, run the same command again)\n"
                  "Numbers   {0}/tables/designs.csv, {0}/designs.json\n"
                  "Pictures  {0}/pictures/\n",
                  directory));
  say(care_lines());
  if (!run.stopped) return solved;
  tell("Stopped; the same command continues from here.\n");
  return stopped_by_user;
}

/// Under a launcher: rank 0 leads, the others work for it.
int launched_sweep(const SweepArguments& arguments) {
  Hosts hosts;
  const SweepOptions options = options_of(arguments, true);
  if (hosts.rank() > 0) {
    const CaseText text{arguments.file, hosts.share(""), arguments.changes()};
    serve(options.jobs, DesignSolver(text, options.effort), hosts);
    return solved;
  }
  try {
    return lead(arguments, options, &hosts);
  } catch (const std::exception& error) {
    // The other ranks would wait for ever.
    tell(fmt::format("{}\n", error.what()));
    Hosts::abandon(dynamic_cast<const WriteError*>(&error) != nullptr  ? out_of_means
                   : dynamic_cast<const CaseError*>(&error) != nullptr ? input_wrong
                                                                       : not_solved);
  }
}

int sweep(const SweepArguments& arguments) {
  if (Hosts::launched()) return launched_sweep(arguments);
  return lead(arguments, options_of(arguments, false), nullptr);
}

}  // namespace

void add_sweep(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand(
      "sweep", "try every design of [sweep] and rank them; resumes where it was stopped");
  command->group("Choose a design");
  add_examples(*command, {"coilwright sweep bar.toml", "coilwright sweep bar.toml --compare 1 2",
                          "coilwright sweep bar.toml --rank -efficiency --lines 5"});
  const auto arguments = std::make_shared<SweepArguments>();
  add_case(*command, *arguments);
  command->add_option("--out", arguments->directory, "directory (default: CASE-sweep)");
  add_accuracy(*command, arguments->accuracy);
  command->add_option("--jobs", arguments->jobs, "processes at once (default: one for each core)")
      ->check(CLI::Range(1, 1024));
  allow(*command->add_option(
            "--method", arguments->method,
            "plain, or fast: reuses the response of rings and workpiece between designs"),
        {"plain", "fast"});
  command->add_option("--lines", arguments->lines, "how many designs to print (default: 10)");
  command
      ->add_option("--compare", arguments->compare,
                   "two places of the ranking, to compare side by side")
      ->expected(2);
  command->add_option(
      "--rank", arguments->rank,
      "result key to rank by, in place of sweep.rank; with - in front, largest first");
  command->add_option("--against", arguments->against,
                      "second key, for the Pareto front, in place of sweep.against");
  command->add_flag("--optimise", arguments->optimise,
                    "search for the best between the ends of each key, without trying all");
  command->callback([arguments, &work] { work = [arguments] { return sweep(*arguments); }; });
}

}  // namespace cw::cases
