#include "cases/design/design_page.hpp"

#include <fmt/format.h>

#include <functional>

#include "cases/design/choke_sheet.hpp"
#include "cases/design/design_case.hpp"
#include "cases/design/design_text.hpp"
#include "cases/design/parts_to_buy.hpp"
#include "cases/run/build_info.hpp"
#include "materials/figures.hpp"
#include "postproc/report/page_frame.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "solver/run/job_verdict.hpp"

namespace cw::cases {

namespace {

using OfDesign = std::function<std::string(const OfferedDesign&)>;

const std::vector<OfferedDesign>& told(const FoundDesigns& found) {
  return found.offered.empty() ? found.nearest : found.offered;
}

std::string kinds_of(const OfferedDesign& d) {
  std::string words;
  for (const DesignKind kind : d.kinds)
    words += fmt::format("{}{}", words.empty() ? "" : ", ", words_of(kind));
  return capitalised(words);
}

PageSection answer_part(const ShelfCase& shelf, const FoundDesigns& found) {
  std::string lines;
  for (const OfferedDesign& d : told(found))
    lines += fmt::format(
        "<li><strong>{}</strong>: {}. {}</li>\n", found.offered.empty() ? "Nearest" : kinds_of(d),
        shown_sentence(words_of(shelf, d.choice)), shown_sentence(d.result.verdict->sentence));
  const std::string base = shown_sentence(base_of(found));
  const std::string lead = found.offered.empty()
                               ? fmt::format("Nothing that can be built with {} does it.", base)
                               : fmt::format("It can be built with {}.", base);
  std::string parts;
  for (const std::string& part : parts_to_buy(shelf, found))
    parts += fmt::format("<li>{}</li>\n", shown_sentence(capitalised(part)));
  if (!parts.empty())
    parts =
        fmt::format("<p>To buy, or to check against what you have:</p>\n<ul>\n{}</ul>\n", parts);
  return {"answer", "What to build",
          fmt::format("<p class=\"lead{}\">{}</p>\n<ul>\n{}</ul>\n{}",
                      found.offered.empty() ? " no" : "", lead, lines, parts)};
}

PageSection purchase_part(const FoundDesigns& found) {
  std::string lines;
  for (const Purchase& p : found.purchases)
    lines += fmt::format("<li><strong>{}</strong>, {}</li>\n", escaped(capitalised(p.what)),
                         shown_sentence(p.outcome));
  return {"purchases", "What to buy",
          lines.empty() ? ""
                        : fmt::format("<p>Each alone, with the coil and bank that are best for it, "
                                      "solved at low effort:</p>\n<ul>\n{}</ul>\n",
                                      lines)};
}

/// Rows of the coil and the bank.
std::vector<std::pair<std::string, OfDesign>> build_rows() {
  return {{"Turns", [](const auto& d) { return figure_short(d.choice.turns); }},
          {"Bore", [](const auto& d) { return drawn_mm(d.choice.bore); }},
          {"Pitch", [](const auto& d) { return drawn_mm(d.choice.pitch); }},
          {"Conductor, leads included", [](const auto& d) { return shown_distance(d.tube); }},
          {"Capacitance", [](const auto& d) { return shown(d.subject.tank->capacitance, "F"); }},
          {"Cans", [](const auto& d) {
             return d.choice.in_series == 1 ? fmt::format("{} side by side", d.choice.strings)
                    : d.choice.strings == 1
                        ? fmt::format("one string of {} in series", d.choice.in_series)
                        : fmt::format("{} strings of {} in series", d.choice.strings,
                                      d.choice.in_series);
           }}};
}

/// Rows of what it does.
std::vector<std::pair<std::string, OfDesign>> job_rows() {
  return {
      {"Time to the target",
       [](const auto& d) {
         const auto time = d.result.heat->time_to_target;
         return time ? shown(*time, "s") : std::string("not reached");
       }},
      {"Temperature at the end",
       [](const auto& d) { return shown_celsius({end_of_heating(*d.result.heat)}); }},
      {"Largest power from the supply",
       [](const auto& d) { return shown(most_while_heating(d.result, &HeatLine::total_W), "W"); }},
      {"Energy from the supply", [](const auto& d) { return shown(d.result.heat->energy, "J"); }},
      {"Largest coil current while heating",
       [](const auto& d) {
         return shown(most_while_heating(d.result, &HeatLine::tank_current), "A") + " rms";
       }},
      {"Nearest to its limit",
       [](const auto& d) {
         const LimitResult* part = nearest_part(d.result);
         return part == nullptr
                    ? std::string("no rating is known")
                    : fmt::format("{}, {}", escaped(part->part), shown_percent(*part->fraction));
       }},
      {"Case file",
       [](const auto& d) { return fmt::format("<code>{}</code>", escaped(file_of(d))); }}};
}

PageSection table_part(const FoundDesigns& found) {
  PageTable table{"Designs side by side", {"Figure"}, {}};
  for (const OfferedDesign& d : told(found)) table.head.push_back(kinds_of(d));
  const auto add = [&](const char* name,
                       const std::vector<std::pair<std::string, OfDesign>>& rows) {
    TableGroup group{name, {}};
    for (const auto& [label, value] : rows) {
      TableRow row{label, {}};
      for (const OfferedDesign& d : told(found)) row.cells.push_back(value(d));
      group.rows.push_back(std::move(row));
    }
    table.groups.push_back(std::move(group));
  };
  add("To build", build_rows());
  add("What it does", job_rows());
  return {"table", "Side by side", markup(table)};
}

/// What a winding sheet says, in the order of the work.
std::vector<std::pair<std::string, std::function<std::string(const ChokeSheet&)>>> choke_rows() {
  return {
      {"Ring: outside, hole, height",
       [](const ChokeSheet& c) {
         return fmt::format("{}, {}, {}", drawn_mm(c.ring.outer), drawn_mm(c.ring.inner),
                            drawn_mm(c.ring.height));
       }},
      {"Permeability",
       [](const ChokeSheet& c) { return figure_short(c.ring.relative_permeability); }},
      {"Turns", [](const ChokeSheet& c) { return fmt::format("{}", c.wound.turns); }},
      {"Wire",
       [](const ChokeSheet& c) {
         return fmt::format("{}AWG\u00a0{}, {}",
                            c.wires > 1 ? fmt::format("{} side by side, ", c.wires) : "", c.gauge,
                            drawn_mm(c.diameter));
       }},
      {"Length of wire", [](const ChokeSheet& c) { return shown_distance(c.wound.wire_length); }},
      {"Layers", [](const ChokeSheet& c) {
         return fmt::format("{}; hole filled to {}", c.layers,
                            shown_percent(c.wound.hole_fill / c.layers));
       }}};
}

/// How to wind the feed chokes that were assumed.
PageSection choke_part(const ShelfCase& shelf, const FoundDesigns& found) {
  if (shelf.subject.where.at.contains("drive.choke")) return {};
  PageTable table{"One choke of each design", {"Figure"}, {{"", {}}}};
  TableRow inductance{"Inductance at its current", {}};
  std::vector<std::optional<ChokeSheet>> sheets;
  for (const OfferedDesign& d : told(found)) {
    const Choke& choke = std::get<PushPullDrive>(d.subject.drive).choke;
    table.head.push_back(kinds_of(d));
    inductance.cells.push_back(shown(choke.inductance, "H"));
    sheets.push_back(choke_sheet(d.result, choke));
  }
  table.groups.front().rows.push_back(std::move(inductance));
  for (const auto& [label, value] : choke_rows()) {
    TableRow row{label, {}};
    for (const auto& sheet : sheets)
      row.cells.push_back(sheet ? value(*sheet) : "no usual ring is large enough");
    table.groups.front().rows.push_back(std::move(row));
  }
  return {"chokes", "Chokes to wind",
          fmt::format("<p>A proposal on common rings of iron, silicon and aluminium powder; each "
                      "design needs two. Sizes and behaviour under direct current are from memory: "
                      "compare them with the data sheet of the ring that you buy, and write it as "
                      "<code>core</code> in <code>[drive.choke]</code>.</p>\n{}",
                      markup(table))};
}

PageSection search_part(const ShelfCase& shelf, const FoundDesigns& found) {
  const std::vector<TableRow> rows = {
      {"Program", {"coilwright " + escaped(build_info().version)}},
      {"Case file, SHA-256", {fmt::format("<code>{}</code>", escaped(shelf.subject.sha256))}}};
  return {"making", "How they were found",
          fmt::format("<p>{} coils were compared by one solution of the field each, {} with their "
                      "banks by models; {} were heated. What is offered was solved as "
                      "<code>coilwright run</code> does it.</p>\n{}",
                      found.coils, found.banks, found.heated,
                      markup({"Program and case", {"Quantity", "Value"}, {{"", rows}}}))};
}

}  // namespace

std::string design_page(const ShelfCase& shelf, const FoundDesigns& found) {
  const Result& first = told(found).front().result;
  return framed_page({"Induction heater, designs from a shelf", shelf.subject.title,
                      build_info().version, shelf.subject.sha256},
                     {answer_part(shelf, found), purchase_part(found), table_part(found),
                      choke_part(shelf, found), care_section(first), search_part(shelf, found)});
}

}  // namespace cw::cases
