#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/progress.hpp"
#include "cases/compare/tolerance.hpp"
#include "cases/read/read_case.hpp"
#include "cases/read/reading.hpp"

namespace cw::cases {

namespace {

int tolerance(const std::string& file) {
  const Case subject = read_and_check(file);
  if (!std::holds_alternative<PushPullDrive>(subject.drive))
    throw CaseError(
        {as_line(subject.file.string(),
                 {subject.where.of("drive.kind"), "drive.kind",
                  "found a drive of fixed frequency; tolerances move a push-pull: write "
                  "kind = \"push-pull\", a supply and a [tank]"})});
  const auto progress = progress_on_terminal();
  std::vector<ToleranceBands> bands;
  for (const ToleranceState& state : tolerance_states(subject)) {
    const auto tell = [&](int done, int total) {
      if (progress) progress(done, total, state.name);
    };
    bands.push_back(tolerance_bands(subject, state, tell));
  }
  fmt::print("{}", tolerance_text(subject, bands));
  return solved;
}

}  // namespace

void add_tolerance(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand(
      "tolerance",
      "how far parts off their written values move the heater, and which matters most");
  const auto file = std::make_shared<std::string>();
  add_case(*command, *file);
  command->callback([file, &work] { work = [file] { return tolerance(*file); }; });
}

}  // namespace cw::cases
