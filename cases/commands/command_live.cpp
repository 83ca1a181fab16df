#include <fmt/format.h>
#include <spawn.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <filesystem>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/starter.hpp"
#include "cases/live/serve_case.hpp"

extern char** environ;

namespace cw::cases {

namespace {

struct LiveArguments {
  std::string file;
  int port = 0;
  bool open = false;
};

/// Shows the address in the user's browser; nothing happens where there is none.
void open_in_browser(std::string address) {
  std::string program = "xdg-open";
  char* words[] = {program.data(), address.data(), nullptr};
  pid_t process = 0;
  if (::posix_spawnp(&process, program.c_str(), nullptr, nullptr, words, environ) != 0)
    tell("xdg-open was not found: open the address yourself\n");
}

/// The text of the file; without one the first starter case, for a new file.
LiveOptions live_options_of(const LiveArguments& arguments) {
  constexpr const char* new_file = "heater.toml";
  if (arguments.file == standard_input)
    throw CaseError({"live: found -; allowed: a case file, which it can save; write its path"});
  if (!arguments.file.empty()) return {arguments.file, case_bytes(arguments.file), arguments.port};
  if (std::filesystem::exists(new_file))
    throw CaseError({fmt::format(
        "{0}: without a case, live begins a new one of this name, and it is there; write "
        "`coilwright live {0}`",
        new_file)});
  return {new_file, starter_case("harden"), arguments.port};
}

int live(const LiveArguments& arguments) {
  serve_case(live_options_of(arguments), [&](const std::string& address) {
    say(fmt::format("{}\nCtrl-C ends\n", address));
    std::fflush(stdout);
    if (arguments.open) open_in_browser(address);
  });
  return solved;
}

}  // namespace

void add_live(CLI::App& app, Work& work) {
  auto* command =
      app.add_subcommand("live", "open a page on which every change of the case is solved at once");
  command->group("Solve it");
  add_examples(*command, {"coilwright live bar.toml", "coilwright live bar.toml --open"});
  const auto arguments = std::make_shared<LiveArguments>();
  command->add_option("case", arguments->file,
                      "case file (TOML); left out: a new case, saved as heater.toml");
  command->add_option("--port", arguments->port, "port on 127.0.0.1 (default: any free one)")
      ->check(CLI::Range(1024, 65535));
  command->add_flag("--open", arguments->open, "show the page in the browser (xdg-open)");
  command->callback([arguments, &work] { work = [arguments] { return live(*arguments); }; });
}

}  // namespace cw::cases
