#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/list_materials.hpp"
#include "cases/commands/output.hpp"

namespace cw::cases {

void add_materials(CLI::App& app, Work& work) {
  auto* command =
      app.add_subcommand("materials", "list the materials, or one with every value and source");
  const auto name = std::make_shared<std::string>();
  command->add_option("name", *name, "material, or path of a material file");
  command->callback([name, &work] {
    work = [name] {
      say(name->empty() ? material_table() : material_sheet(*name));
      return solved;
    };
  });
}

}  // namespace cw::cases
