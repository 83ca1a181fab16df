#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <sstream>

#include "cases/commands/command.hpp"
#include "cases/commands/option_table.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/starter.hpp"
#include "cases/run/build_info.hpp"
#include "materials/library.hpp"

namespace cw::cases {

namespace {

/// The words in a validator's description, "...{fast,normal,fine}".
std::vector<std::string> words_of(const std::string& type) {
  const std::size_t open = type.find('{'), close = type.find('}');
  std::vector<std::string> words;
  if (open == std::string::npos || close == std::string::npos) return words;
  std::istringstream list(type.substr(open + 1, close - open - 1));
  for (std::string word; std::getline(list, word, ',');) words.push_back(word);
  return words;
}

OptionEntry entry_of(const CLI::App& command, const CLI::Option& option) {
  OptionEntry entry;
  entry.place = option.get_positional();
  entry.name = option.get_name(entry.place);
  entry.about = option.get_description();
  entry.required = option.get_required();
  entry.repeats = option.get_multi_option_policy() == CLI::MultiOptionPolicy::TakeAll;
  entry.values = entry.repeats ? 1 : option.get_items_expected_max();
  entry.choices = words_of(option.get_type_name());
  // The command checks the name itself, and suggests the nearest.
  if (command.get_name() == "materials") entry.choices = material_names();
  if (command.get_name() == "new")
    for (const std::string_view kind : starter_kinds()) entry.choices.emplace_back(kind);
  return entry;
}

}  // namespace

CommandEntry command_entry(const CLI::App& command) {
  CommandEntry entry{
      command.get_name(), command.get_description(), command.get_group(), examples_of(command), {}};
  for (const CLI::Option* option : command.get_options())
    if (option != command.get_help_ptr()) entry.options.push_back(entry_of(command, *option));
  return entry;
}

CommandTable command_table(const CLI::App& app) {
  CommandTable table{app.get_name(), build_info().version, app.get_description(), {}};
  for (const CLI::App* command :
       app.get_subcommands([](const CLI::App* c) { return !c->get_group().empty(); })) {
    table.commands.push_back(command_entry(*command));
  }
  return table;
}

void add_manual(CLI::App& app, Work& work) {
  auto* command =
      app.add_subcommand("manual", "print the manual page or the completion for a shell");
  command->group("");  // for the package, not for users
  const auto form = std::make_shared<std::string>();
  allow(*command->add_option("form", *form, "man, bash, zsh or fish")->required(),
        {"man", "bash", "zsh", "fish"});
  command->callback([form, &app, &work] {
    work = [form, &app] {
      const CommandTable table = command_table(app);
      hand_over(*form == "man"    ? manual_page(table)
                : *form == "bash" ? bash_completion(table)
                : *form == "zsh"  ? zsh_completion(table)
                                  : fish_completion(table));
      return solved;
    };
  });
}

}  // namespace cw::cases
