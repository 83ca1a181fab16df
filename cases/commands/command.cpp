#include "cases/commands/command.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <sstream>

#include "cases/check/check_case.hpp"
#include "cases/commands/output.hpp"
#include "materials/nearest.hpp"
#include "postproc/result/cautions.hpp"
#include "postproc/text/wrap.hpp"

namespace cw::cases {

namespace {

constexpr const char* examples_heading = "Examples:";

CheckedCase checked(const CaseText& text) {
  Case subject = read_set_case(text.text, text.file, text.set);
  const LocatedFindings found = findings_of(subject);
  const std::string file = subject.file.string();
  if (!found.errors.empty()) throw LocatedCaseError(file, found.errors);
  return {std::move(subject), as_lines(file, found.warnings)};
}

Case with_warnings_told(CheckedCase checked) {
  for (const std::string& line : checked.warnings) tell(fmt::format("warning: {}\n", line));
  return std::move(checked.subject);
}

}  // namespace

std::vector<Change> CaseArgument::changes() const {
  std::vector<Change> changes;
  std::vector<std::string> wrong;
  for (const std::string& text : set) {
    const std::size_t equals = text.find('=');
    if (equals == 0 || equals == std::string::npos || equals + 1 == text.size())
      wrong.push_back(fmt::format(
          "--set: found \"{}\"; allowed: KEY=VALUE; write for example --set coil.turns=9", text));
    else
      changes.push_back({text.substr(0, equals), text.substr(equals + 1)});
  }
  if (!wrong.empty()) throw CaseError(wrong);
  return changes;
}

CheckedCase checked_case(const CaseArgument& argument) {
  const std::vector<Change> changes = argument.changes();
  return checked({argument.file, case_bytes(argument.file), changes});
}

Case read_and_check(const CaseArgument& argument) {
  return with_warnings_told(checked_case(argument));
}

Case check_text(const CaseText& text) {
  return with_warnings_told(checked(text));
}

std::string CommonArguments::directory_or(const std::string& ending) const {
  if (!directory.empty()) return directory;
  const bool from_input = file == standard_input;
  return (from_input ? "stdin" : std::filesystem::path(file).stem().string()) + ending;
}

Effort CommonArguments::effort() const {
  return accuracy == "fast" ? Effort::fast : accuracy == "fine" ? Effort::fine : Effort::normal;
}

void add_case(CLI::App& command, CaseArgument& argument) {
  command.add_option("case", argument.file, "case file (TOML), or - for standard input")
      ->required();
  add_set(command, argument,
          "KEY=VALUE: change one key for this run, as in coil.turns=9; repeatable");
}

void add_set(CLI::App& command, CaseArgument& argument, const std::string& about) {
  command.add_option("--set", argument.set, about)
      ->expected(1)
      ->allow_extra_args(false)
      ->take_all();
}

void add_accuracy(CLI::App& command, std::string& accuracy) {
  allow(*command.add_option("--accuracy", accuracy, "fast, normal or fine"),
        {"fast", "normal", "fine"});
}

void allow(CLI::Option& option, const std::vector<std::string>& words) {
  const auto refuse = [words](const std::string& found) {
    if (std::ranges::find(words, found) != words.end()) return std::string();
    return fmt::format("found \"{}\"; allowed: {}; write {}", found, fmt::join(words, ", "),
                       nearest(found, words).value_or(words.front()));
  };
  option.check(CLI::Validator(refuse, fmt::format("{{{}}}", fmt::join(words, ","))));
}

void add_examples(CLI::App& command, const std::vector<std::string>& lines) {
  command.footer(fmt::format("{}\n  {}", examples_heading, fmt::join(lines, "\n  ")));
}

std::vector<std::string> examples_of(const CLI::App& command) {
  std::istringstream footer(command.get_footer());
  std::vector<std::string> lines;
  for (std::string line; std::getline(footer, line);)
    if (line != examples_heading && line.size() > 2) lines.push_back(line.substr(2));
  return lines;
}

std::string care_lines() {
  return fmt::format("\n{}{}", wrapped(voltage_rule(), {80, 0, 2}),
                     wrapped(standing_line(), {80, 0, 2}));
}

}  // namespace cw::cases
