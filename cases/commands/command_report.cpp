#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "postproc/report/sweep_page.hpp"
#include "postproc/report/write_report.hpp"

namespace cw::cases {

void add_report(CLI::App& app, Work& work) {
  auto* command =
      app.add_subcommand("report", "write report.html again from the files of a result or a sweep");
  command->group("Solve it");
  add_examples(*command, {"coilwright report bar-results"});
  const auto directory = std::make_shared<std::string>();
  command->add_option("dir", *directory, "directory of a result or a sweep")->required();
  command->callback([directory, &work] {
    work = [directory] {
      if (std::filesystem::exists(std::filesystem::path(*directory) / "tables/metals.csv"))
        throw CaseError(
            {fmt::format("{}: found a comparison of metals; its page is written only by "
                         "`coilwright metals`; allowed: the directory "
                         "of a result or of a sweep; run `coilwright metals CASE.toml` again",
                         *directory)});
      if (is_sweep_directory(*directory))
        write_sweep_report(*directory);
      else
        write_report(*directory);
      say(fmt::format("Report    {}/report.html\n", *directory));
      return solved;
    };
  });
}

}  // namespace cw::cases
