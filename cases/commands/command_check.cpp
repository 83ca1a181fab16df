#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "cases/check/check_case.hpp"
#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"

namespace cw::cases {

namespace {

using MistakeJson = nlohmann::ordered_json;

struct CheckArguments : CaseArgument {
  bool json = false, quiet = false;
};

/// The value found, as a message states it: up to the first ';' or ',' outside quotes; empty if it
/// states none.
std::string found_in(const std::string& text) {
  constexpr std::string_view start = "found ";
  const std::size_t at = text.find(start);
  if (at == std::string::npos) return "";
  bool quoted = false;
  std::size_t end = at + start.size();
  for (; end < text.size(); ++end) {
    if (text[end] == '"') quoted = !quoted;
    if (!quoted && (text[end] == ';' || text.compare(end, 2, ", ") == 0)) break;
  }
  return text.substr(at + start.size(), end - at - start.size());
}

MistakeJson mistake(const std::string& file, const Complaint& complaint) {
  MistakeJson json;
  const bool in_file = complaint.at.line > 0;
  json["file"] = in_file ? MistakeJson(file) : MistakeJson();
  json["line"] = in_file ? MistakeJson(complaint.at.line) : MistakeJson();
  json["column"] = in_file ? MistakeJson(complaint.at.column) : MistakeJson();
  json["key"] = complaint.key;
  json["found"] = found_in(complaint.text);
  json["message"] = complaint.text;
  return json;
}

MistakeJson mistakes(const std::string& file, const std::vector<Complaint>& complaints) {
  MistakeJson list = MistakeJson::array();
  for (const Complaint& complaint : complaints) list.push_back(mistake(file, complaint));
  return list;
}

/// A mistake without a place: a missing file, an option.
MistakeJson unplaced(const std::string& message) {
  return {{"file", nullptr}, {"line", nullptr}, {"column", nullptr},
          {"key", ""},       {"found", ""},     {"message", message}};
}

int check_as_json(const CheckArguments& arguments) {
  MistakeJson answer{{"file", arguments.file},
                     {"mistakes", MistakeJson::array()},
                     {"warnings", MistakeJson::array()}};
  int code = solved;
  try {
    const auto changes = arguments.changes();
    const std::string text = case_bytes(arguments.file);
    const LocatedFindings found = findings_of(read_set_case(text, arguments.file, changes));
    answer["mistakes"] = mistakes(arguments.file, found.errors);
    answer["warnings"] = mistakes(arguments.file, found.warnings);
    if (!found.errors.empty()) code = input_wrong;
  } catch (const LocatedCaseError& error) {
    code = input_wrong;
    answer["mistakes"] = mistakes(arguments.file, error.complaints());
  } catch (const CaseError& error) {
    code = input_wrong;
    for (const std::string& line : error.messages()) answer["mistakes"].push_back(unplaced(line));
  }
  hand_over(answer.dump(2, ' ', false, MistakeJson::error_handler_t::replace) + "\n");
  return code;
}

int check(const CheckArguments& arguments) {
  if (arguments.json) return check_as_json(arguments);
  const Case subject = read_and_check(arguments);
  const bool from_input = arguments.file == standard_input;
  if (!arguments.quiet)
    say(fmt::format("{}: nothing wrong found\n", from_input ? "standard input" : arguments.file));
  return solved;
}

}  // namespace

void add_check(CLI::App& app, Work& work) {
  auto* command =
      app.add_subcommand("check", "check a case without solving it: every mistake with its line");
  command->group("Write a case");
  add_examples(*command, {"coilwright check bar.toml", "coilwright check bar.toml --json",
                          "coilwright new | coilwright check -"});
  const auto arguments = std::make_shared<CheckArguments>();
  add_case(*command, *arguments);
  command->add_flag("--json", arguments->json,
                    "all mistakes as JSON: file, line, column, key, found, message");
  command->add_flag("--quiet", arguments->quiet, "print nothing if the case is correct");
  command->callback([arguments, &work] { work = [arguments] { return check(*arguments); }; });
}

}  // namespace cw::cases
