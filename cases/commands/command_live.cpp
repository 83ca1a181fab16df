#include <fmt/format.h>
#include <spawn.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <filesystem>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/starter.hpp"
#include "cases/live/case_fields.hpp"
#include "cases/live/serve_case.hpp"

extern char** environ;

namespace cw::cases {

namespace {

struct LiveArguments : CaseArgument {
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

/// The starter cases that describe a heater.
std::vector<LiveStarter> live_starters() {
  std::vector<LiveStarter> starters;
  for (const std::string_view kind : starter_kinds()) {
    if (kind == "shelf" || kind == "sweep" || kind == "empty") continue;
    const std::string text = starter_case(kind);
    starters.push_back({std::string(kind), read_case_text(text, "new.toml").title, text});
  }
  return starters;
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

/// The text with the values of --set. Throws CaseError that lists those that cannot be written.
std::string with_changes(std::string text, const std::vector<Change>& changes) {
  std::vector<std::string> wrong;
  for (const Change& change : changes) {
    if (auto changed = with_value(text, change.key, change.value))
      text = std::move(*changed);
    else
      wrong.push_back(fmt::format(
          "--set: {}={} cannot be written into the text of the case; allowed: a value of a section "
          "of the case, no element of a list; write it into the file",
          change.key, change.value));
  }
  if (!wrong.empty()) throw CaseError(wrong);
  return text;
}

int live(const LiveArguments& arguments) {
  LiveOptions options = live_options_of(arguments);
  options.text = with_changes(std::move(options.text), arguments.changes());
  options.starters = live_starters();
  serve_case(options, [&](const std::string& address) {
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
  add_examples(*command, {"coilwright live bar.toml", "coilwright live bar.toml --open",
                          "coilwright live bar.toml --set coil.turns=9"});
  const auto arguments = std::make_shared<LiveArguments>();
  command->add_option("case", arguments->file,
                      "case file (TOML); left out: a new case, saved as heater.toml");
  add_set(*command, *arguments, "KEY=VALUE: begin with this value in the text; repeatable");
  command->add_option("--port", arguments->port, "port on 127.0.0.1 (default: any free one)")
      ->check(CLI::Range(1024, 65535));
  command->add_flag("--open", arguments->open, "show the page in the browser (xdg-open)");
  command->callback([arguments, &work] { work = [arguments] { return live(*arguments); }; });
}

}  // namespace cw::cases
