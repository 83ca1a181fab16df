#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <filesystem>
#include <iostream>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/progress.hpp"
#include "cases/design/answer_shelf.hpp"
#include "cases/design/ask_shelf.hpp"
#include "cases/design/design_case.hpp"
#include "cases/design/design_text.hpp"
#include "cases/design/write_designs.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/result_directory.hpp"

namespace cw::cases {

namespace {

/// Where the designs are and what to do next.
std::string files_text(const FoundDesigns& found, const std::string& directory) {
  const auto& designs = found.offered.empty() ? found.nearest : found.offered;
  if (designs.empty()) return "";
  std::string text;
  for (const OfferedDesign& design : designs)
    text += fmt::format("{}{}/{}\n", text.empty() ? "Cases     " : "          ", directory,
                        file_of(design));
  return text + fmt::format("Page      {}/report.html\n", directory);
}

struct DesignArguments : CommonArguments {
  bool ask = false;
};

/// Asks the user for the contents of a shelf file and writes it. Never overwrites a file.
void write_asked(const std::string& file) {
  if (file == standard_input || std::filesystem::exists(file))
    throw CaseError(
        {fmt::format("{}: --ask writes a new file, and this one is there; give "
                     "another name, or leave --ask out",
                     file)});
  replace_file(file, ask_shelf(std::cin, [](const std::string& text) {
                 say(text);
                 std::fflush(stdout);
               }));
  say(fmt::format("Written to {}.\n", file));
}

int design(const DesignArguments& arguments) {
  if (arguments.ask) write_asked(arguments.file);
  const ShelfCase shelf =
      read_shelf_case({arguments.file, case_bytes(arguments.file), arguments.changes()});
  const std::string directory = arguments.directory_or("-designs");
  require_result_directory(directory);
  DesignSearchOptions options;
  if (const auto show = progress_on_terminal())
    options.progress = [show](const std::string& stage, int done, int of) {
      show(done, of, stage);
    };
  const auto [full, found] = answer_shelf(shelf, options);
  write_designs(full, found, directory);
  say(design_text(full, found) + "\n" + files_text(found, directory) + care_lines());
  return solved;
}

}  // namespace

void add_design(CLI::App& app, Work& work) {
  auto* command =
      app.add_subcommand("design", "find turns, spacing and bank from what is on the shelf");
  command->group("Choose a design");
  add_examples(*command,
               {"coilwright new shelf > shelf.toml", "coilwright design shelf.toml --out bolt",
                "coilwright design bolt.toml --ask"});
  const auto arguments = std::make_shared<DesignArguments>();
  add_case(*command, *arguments);
  command->add_option("--out", arguments->directory,
                      "directory for the designs (default: CASE-designs)");
  command->add_flag("--ask", arguments->ask,
                    "ask for what is on the shelf and write the case file first");
  command->callback([arguments, &work] { work = [arguments] { return design(*arguments); }; });
}

}  // namespace cw::cases
