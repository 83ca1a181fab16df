#include <fmt/core.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/result/cautions.hpp"

namespace cw {

namespace {

using State = const StateResult&;

StateRow estimate(const char* name, std::optional<double> Accuracy::*member) {
  return {name, [=](State s) {
            const auto& relative = s.accuracy.*member;
            return relative ? "\u00b1\u00a0" + shown_percent(*relative)
                            : std::string("not estimated");
          }};
}

std::string bodies_estimate(State s) {
  std::string text;
  for (const auto& [name, relative] : s.accuracy.bodies_power)
    text += fmt::format("{}{}: \u00b1\u00a0{}", text.empty() ? "" : ", ", escaped(name),
                        shown_percent(relative));
  return text.empty() ? "none" : text;
}

/// How the errors were estimated; each method once, with its states if there are several methods.
std::string methods(const std::vector<StateResult>& states) {
  std::vector<std::pair<std::string, std::string>> ways;
  for (const StateResult& state : states) {
    const std::string& method = state.accuracy.method;
    const auto same = [&](const auto& way) { return way.first == method; };
    const auto known = std::ranges::find_if(ways, same);
    if (method.empty()) continue;
    if (known == ways.end())
      ways.emplace_back(method, state_words(state.name));
    else
      known->second += ", " + state_words(state.name);
  }
  std::string text;
  for (const auto& [method, where] : ways)
    text += fmt::format("<p>How{}: {}.</p>\n", ways.size() > 1 ? fmt::format(" ({})", where) : "",
                        escaped(method));
  return text;
}

/// Names and versions; those without a version are left as they are.
std::string joined(const std::vector<std::string>& names) {
  std::string text;
  for (std::string name : names) {
    while (name.ends_with(' ')) name.pop_back();
    text += (text.empty() ? "" : ", ") + escaped(name);
  }
  return text;
}

}  // namespace

PageSection accuracy_section(const Result& result) {
  if (result.states.empty()) return {};
  const StateGroup errors = {"Estimated error",
                             {estimate("Power in the workpiece", &Accuracy::workpiece_power),
                              {"Power in other bodies", bodies_estimate},
                              estimate("Power in the coil", &Accuracy::coil_power),
                              estimate("Inductance", &Accuracy::inductance)}};
  const StateGroup cost = {
      "Solution",
      {{"Unknowns", [](State s) { return std::to_string(s.accuracy.unknowns); }},
       {"Steps for the steel",
        [](State s) { return std::to_string(s.accuracy.nonlinear_iterations); }}}};
  return {"accuracy", "Accuracy",
          "<p>The estimates cover the error of the mesh. For what the model leaves out, see <a "
          "href=\"#cautions\">Cautions</a>; material values have their own uncertainty. The page "
          "prints three figures, <code>result.json</code> holds them all.</p>\n" +
              methods(result.states) +
              state_table("Accuracy by state", result.states, {errors, cost})};
}

PageSection cautions_section(const Result& result) {
  std::string text;
  for (const auto& caution : cautions(result))
    text += fmt::format("<li>{}</li>\n", shown_sentence(caution.text));
  return {"cautions", "Cautions", fmt::format("<ul class=\"cautions\">\n{}</ul>\n", text)};
}

PageSection sources_section(const Result& result) {
  std::string text;
  for (const auto& note : result.sources) {
    // A note that was read from a file is one text.
    const std::string of = note.of.empty() ? "" : escaped(note.of) + ": ";
    text +=
        fmt::format("<li>{}{}{}</li>\n", of, escaped(note.source),
                    note.provenance.empty() ? "" : fmt::format(" ({})", escaped(note.provenance)));
  }
  if (text.empty()) return {};
  return {"sources", "Sources",
          fmt::format("<p>Origin of the material values: read in the source or a copy of it, "
                      "recalled and not checked, or given by the user.</p>\n"
                      "<ul>\n{}</ul>\n",
                      text)};
}

PageSection making_section(const Result& result) {
  const Timing& timing = result.timing;
  std::vector<TableRow> rows = {
      {"Program", {"coilwright " + escaped(result.build.version)}},
      {"Compiler", {escaped(result.build.compiler)}},
      {"Libraries", {joined(result.build.libraries)}},
      {"Case file, SHA-256", {fmt::format("<code>{}</code>", escaped(result.case_sha256))}},
      {"Time for the mesh", {shown(timing.mesh, "s")}},
      {"Time for the solution", {shown(timing.solve, "s")}},
      {"Total time", {shown(timing.total, "s")}},
  };
  return {
      "making", "How it was computed",
      "<p>The coil is computed as coaxial rings and the bodies as solids of revolution, with "
      "second-order finite elements. Quantities at the working frequency are rms values.</p>\n" +
          markup({"Program and case", {"Quantity", "Value"}, {{"", rows}}})};
}

}  // namespace cw
