#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"

namespace cw::cases {

void add_check(CLI::App& app, Work& work) {
  auto* command =
      app.add_subcommand("check", "report every mistake in a case with its line; solves nothing");
  const auto file = std::make_shared<std::string>();
  add_case(*command, *file);
  command->callback([file, &work] {
    work = [file] {
      read_and_check(*file);
      say(fmt::format("{}: nothing wrong found\n", *file));
      return solved;
    };
  });
}

}  // namespace cw::cases
