#include <fmt/format.h>

#include "cases/commands/option_table.hpp"
#include "postproc/result/cautions.hpp"

namespace cw::cases {

namespace {

/// Text for roff: its special characters escaped, hyphens kept as typed.
std::string roff(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\') {
      out += "\\e";
    } else if (c == '-') {
      out += "\\-";
    } else {
      out += c;
    }
  }
  return !out.empty() && (out[0] == '.' || out[0] == '\'') ? fmt::format("\\&{}", out) : out;
}

/// "--out VALUE", in bold and italics.
std::string shown(const OptionEntry& option) {
  if (option.place) return fmt::format("\\fI{}\\fR", roff(upper(option.name)));
  std::string text = fmt::format("\\fB{}\\fR", roff(option.name));
  for (int k = 0; k < option.values; ++k) text += " \\fIVALUE\\fR";
  return text;
}

std::string usage(const std::string& program, const CommandEntry& command) {
  std::string text = fmt::format("\\fB{} {}\\fR", program, command.name);
  for (const OptionEntry& option : command.options)
    text += fmt::format("{}{}{}", option.required ? " " : " [", shown(option),
                        option.required ? "" : "]");
  return text;
}

std::string listed(const OptionEntry& option) {
  std::string text = fmt::format(".TP\n{}\n{}", shown(option), roff(option.about));
  if (!option.choices.empty() && option.choices.size() < 8) {
    std::string words;
    for (const std::string& word : option.choices)
      words += fmt::format("{}\\fB{}\\fR", words.empty() ? "" : ", ", roff(word));
    text += fmt::format("\n(one of {})", words);
  }
  return fmt::format("{}\n", text);
}

constexpr const char* after = R"roff(.SH FILES
A case is a TOML file; every quantity in it carries its unit. \fBcoilwright new\fR prints a commented one.
.TP
\fI/usr/share/coilwright/examples\fR
example cases
.TP
\fI/usr/share/coilwright/*.schema.json\fR
every key of case and result files, for editors
.SH EXIT STATUS
.TP
.B 0
solved
.TP
.B 2
the input is wrong: one message for each mistake, with file and line
.TP
.B 3
it could not be solved
.TP
.B 4
out of memory or disk
.TP
.B 130
stopped by the user; the files left are valid, and the run can be resumed
.SH ENVIRONMENT
.TP
.B NO_COLOR
set to any value: no colours, even on a terminal
.SH CAUTION
)roff";

}  // namespace

std::string manual_page(const CommandTable& table) {
  std::string text = fmt::format(
      ".\\\" Made from the option table of the program; not to be edited.\n"
      ".TH {} 1 \"\" \"{} {}\" \"User Commands\"\n.SH NAME\n{} \\- {}\n.SH SYNOPSIS\n",
      upper(table.program), table.program, table.version, table.program,
      roff("calculate work coils for induction heating before you bend copper"));
  for (const CommandEntry& command : table.commands)
    text += fmt::format("{}\n.br\n", usage(table.program, command));
  text += fmt::format(".SH DESCRIPTION\n{}.\n.SH COMMANDS\n", roff(table.about));
  for (const CommandEntry& command : table.commands) {
    text += fmt::format(".SS {}\n{}\n", command.name, roff(command.about));
    for (const OptionEntry& option : command.options) text += listed(option);
    if (command.examples.empty()) continue;
    text += ".PP\nExamples:\n.nf\n";
    for (const std::string& line : command.examples) text += fmt::format("{}\n", roff(line));
    text += ".fi\n";
  }
  return text + after + fmt::format("{}\n.PP\n{}\n", roff(voltage_rule()), roff(standing_line()));
}

}  // namespace cw::cases
