// Manual page and completion for bash, zsh and fish, generated from the program's own option table.
#include <gtest/gtest.h>

#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "tests/shell.hpp"

namespace {

cw::Shell shell(const std::string& line) {
  return cw::shell("P='" COILWRIGHT_PROGRAM "'; " + line);
}

/// Commands in the order of the help, by task.
std::set<std::string> commands() {
  const std::string help = shell("$P --help").text;
  const std::size_t start = help.find("\nWrite a case\n");
  std::set<std::string> found;
  std::istringstream lines(help.substr(start, help.find("\nExamples\n") - start));
  const std::regex name("^  ([a-z]+) .*");
  std::smatch match;
  for (std::string line; std::getline(lines, line);)
    if (std::regex_match(line, match, name)) found.insert(match[1]);
  return found;
}

/// The completions after these words; the last is incomplete.
std::set<std::string> offered(const std::vector<std::string>& typed) {
  static const std::string script = shell("$P manual bash").text;
  std::string words;
  for (const std::string& word : typed) words += " '" + word + "'";
  const cw::Shell said = shell("bash /dev/stdin" + words + " << 'END'\n" + script +
                               "COMP_WORDS=(coilwright \"$@\"); COMP_CWORD=$#; _coilwright\n"
                               "printf '%s\\n' \"${COMPREPLY[@]}\"\nEND\n");
  std::istringstream lines(said.text);
  std::set<std::string> found;
  for (std::string line; std::getline(lines, line);)
    if (!line.empty()) found.insert(line);
  return found;
}

using Words = std::set<std::string>;

// The manual page and the completion contain every command, and every option in the help of a
// command; not the command that generates them.
TEST(Manual, ListsEveryOption) {
  const Words all = commands();
  ASSERT_GE(all.size(), 11U);
  EXPECT_FALSE(all.contains("manual"));
  const cw::Shell page = shell("$P manual man");
  ASSERT_EQ(page.code, 0);
  const std::regex long_option("--[a-z][a-z-]*");
  std::size_t options = 0;
  for (const std::string& command : all) {
    EXPECT_NE(page.text.find(".SS " + command + "\n"), std::string::npos) << command;
    const Words completed = offered({command, "--"});
    const std::string help = shell("$P " + command + " --help").text;
    for (std::sregex_iterator at(help.begin(), help.end(), long_option), end; at != end; ++at) {
      const std::string name = at->str();
      ++options;
      EXPECT_TRUE(completed.contains(name)) << command << " " << name;
      if (name == "--help") continue;
      EXPECT_NE(page.text.find("\\fB" + std::regex_replace(name, std::regex("-"), "\\-") + "\\fR"),
                std::string::npos)
          << command << " " << name;
    }
  }
  EXPECT_GT(options, 25U);
  EXPECT_EQ(page.text.find("manual man"), std::string::npos);
}

// The formatter gives no warnings for the page.
TEST(Manual, IsSoundRoff) {
  if (shell("command -v groff").code != 0) GTEST_SKIP() << "groff is not installed";
  const cw::Shell warned = shell("$P manual man | groff -man -ww -z -Tutf8");
  EXPECT_EQ(warned.code, 0);
  EXPECT_EQ(warned.text, "");
  const cw::Shell shown = shell("$P manual man | groff -man -Tascii -P-cbou");
  EXPECT_NE(shown.text.find("EXIT STATUS"), std::string::npos) << shown.text;
  EXPECT_NE(shown.text.find("--accuracy"), std::string::npos) << shown.text;
}

// The completion offers commands first, then the values of an option or a positional argument, else
// files.
TEST(Manual, CompletesInBash) {
  Words all = commands();
  all.insert({"--help", "--version"});
  EXPECT_EQ(offered({""}), all);
  EXPECT_EQ(offered({"ma"}), (Words{"materials"}));
  EXPECT_EQ(offered({"run", "case.toml", "--accuracy", ""}), (Words{"fast", "normal", "fine"}));
  EXPECT_EQ(offered({"run", "case.toml", "--re"}), (Words{"--resume"}));
  EXPECT_EQ(offered({"new", "p"}), (Words{"pan"}));
  EXPECT_EQ(offered({"materials", "copper-t"}), (Words{"copper-tube"}));
  EXPECT_EQ(offered({"run", ""}), Words{});
}

// The completions for zsh and fish hold every command and every option that the one for bash
// offers; where the shells are installed they find no fault in them.
TEST(Manual, CompletesInZshAndFish) {
  const std::string zsh = shell("$P manual zsh").text, fish = shell("$P manual fish").text;
  EXPECT_TRUE(zsh.starts_with("#compdef coilwright\n"));
  for (const std::string& command : commands()) {
    const std::size_t at = zsh.find("\n    " + command + ") _arguments");
    ASSERT_NE(at, std::string::npos) << command;
    const std::string own = zsh.substr(at, zsh.find(";;", at) - at);
    const std::string seen = "'__fish_seen_subcommand_from " + command + "' -l ";
    const Words options = offered({command, "--"});
    EXPECT_FALSE(options.empty()) << command;
    for (const std::string& option : options) {
      EXPECT_NE(own.find(option + "["), std::string::npos) << command << " " << option;
      EXPECT_NE(fish.find(seen + option.substr(2) + " "), std::string::npos)
          << command << " " << option;
    }
  }
  EXPECT_NE(zsh.find("--accuracy[fast, normal or fine]:value:(fast normal fine)"),
            std::string::npos);
  const std::vector<std::pair<std::string, std::string>> checks = {
      {"zsh", "zsh -n /dev/stdin"}, {"fish", "fish --no-execute /dev/stdin"}};
  for (const auto& [name, check] : checks) {
    if (shell("command -v " + name).code != 0) continue;
    EXPECT_EQ(shell("$P manual " + name + " | " + check).text, "") << name;
  }
}

}  // namespace
