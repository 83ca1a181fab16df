#include "cases/commands/command.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>

#include "cases/check/check_case.hpp"
#include "cases/commands/output.hpp"
#include "cases/read/read_case.hpp"

namespace cw::cases {

Case read_and_check(const std::filesystem::path& file) {
  return check_text(case_bytes(file), file);
}

Case check_text(const std::string& text, const std::filesystem::path& file) {
  Case subject = read_case_text(text, file);
  const CheckResult found = check_case(subject);
  for (const std::string& line : found.warnings) tell(fmt::format("warning: {}\n", line));
  if (!found.errors.empty()) throw CaseError(found.errors);
  return subject;
}

std::string CommonArguments::directory_or(const std::string& ending) const {
  return directory.empty() ? std::filesystem::path(file).stem().string() + ending : directory;
}

Effort CommonArguments::effort() const {
  return accuracy == "fast" ? Effort::fast : accuracy == "fine" ? Effort::fine : Effort::normal;
}

void add_case(CLI::App& command, std::string& file) {
  command.add_option("case", file, "case file (TOML)")->required();
}

void add_accuracy(CLI::App& command, std::string& accuracy) {
  command.add_option("--accuracy", accuracy, "fast, normal or fine")
      ->check(CLI::IsMember({"fast", "normal", "fine"}));
}

}  // namespace cw::cases
