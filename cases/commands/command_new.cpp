#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/starter.hpp"

namespace cw::cases {

void add_new(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand("new", "print a commented starter case");
  const auto kind = std::make_shared<std::string>("bar");
  command->add_option("kind", *kind, fmt::format("{}", fmt::join(starter_kinds(), ", ")));
  command->callback([kind, &work] {
    work = [kind] {
      hand_over(starter_case(*kind));
      return solved;
    };
  });
}

}  // namespace cw::cases
