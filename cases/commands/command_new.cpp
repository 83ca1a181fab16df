#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/starter.hpp"

namespace cw::cases {

namespace {

/// Address of the schema of case files for editors: the installed one, else the one in the build.
/// Empty if neither exists.
std::string schema_address() {
  std::error_code failure;
  const auto program = std::filesystem::read_symlink("/proc/self/exe", failure);
  if (failure) return "";
  const auto folder = program.parent_path();
  for (const char* place : {"../share/coilwright", "../../cases"}) {
    const auto file = (folder / place / "case.schema.json").lexically_normal();
    std::error_code absent;
    if (std::filesystem::is_regular_file(file, absent)) return "file://" + file.string();
  }
  return "";
}

}  // namespace

void add_new(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand("new", "print a commented case to start from");
  command->group("Write a case");
  add_examples(*command, {"coilwright new > bar.toml", "coilwright new melt > cup.toml"});
  const auto kind = std::make_shared<std::string>("bar");
  command->add_option("kind", *kind, fmt::format("{}", fmt::join(starter_kinds(), ", ")));
  command->callback([kind, &work] {
    work = [kind] {
      const std::string starter = starter_case(*kind);
      const std::string schema = schema_address();
      hand_over(schema.empty() ? starter : fmt::format("#:schema {}\n{}", schema, starter));
      return solved;
    };
  });
}

}  // namespace cw::cases
