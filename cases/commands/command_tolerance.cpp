#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/progress.hpp"
#include "cases/compare/tolerance.hpp"
#include "cases/read/read_case.hpp"
#include "cases/read/reading.hpp"

namespace cw::cases {

namespace {

int tolerance(const CaseArgument& argument, bool with_time) {
  const Case subject = read_and_check(argument);
  require_supply(subject, "tolerances are computed only for a");
  if (with_time && !(subject.heat && subject.heat->target))
    throw CaseError(
        {as_line(subject.file.string(),
                 {subject.where.of("heat"), "heat.target",
                  "found no target, so there is no time to compute; write target = \"820 degC\" "
                  "in [heat], or leave --time out"})});
  const auto progress = progress_on_terminal();
  std::vector<ToleranceBands> bands;
  for (const ToleranceState& state : tolerance_states(subject)) {
    const auto tell = [&](int done, int total) {
      if (progress) progress(done, total, state.name);
    };
    bands.push_back(tolerance_bands(subject, state, tell));
  }
  std::string text = tolerance_text(subject, bands);
  if (with_time) {
    const auto tell = [&](int done, int total) {
      if (progress) progress(done, total, "heating run");
    };
    text += time_text(time_band(subject, tell));
  }
  say(text + care_lines());
  return solved;
}

}  // namespace

void add_tolerance(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand(
      "tolerance", "effect of the tolerances of the parts, and which part matters most");
  command->group("Choose a design");
  add_examples(*command,
               {"coilwright tolerance heater.toml", "coilwright tolerance heater.toml --time"});
  const auto file = std::make_shared<CaseArgument>();
  add_case(*command, *file);
  const auto with_time = std::make_shared<bool>(false);
  command->add_flag("--time", *with_time,
                    "compute the time to target too: ten heating runs, some minutes");
  command->callback([file, with_time, &work] {
    work = [file, with_time] { return tolerance(*file, *with_time); };
  });
}

}  // namespace cw::cases
