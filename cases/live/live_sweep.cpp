#include "cases/live/live_sweep.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "cases/live/case_fields.hpp"
#include "cases/live/live_check.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/case_lines.hpp"
#include "cases/sweep/sweep_run.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"

namespace cw::cases {

namespace fs = std::filesystem;

namespace {

using SweepMessage = nlohmann::ordered_json;

bool is_plain(const std::string& value) {
  return !value.empty() && value.find_first_of("\"\\\n\r\t{}[]") == std::string::npos;
}

/// Whole numbers between two of them, as evenly as they can be.
std::string whole_values(double from, double to, int count) {
  std::vector<long> values;
  for (int k = 0; k < count; ++k) {
    const long value = std::lround(from + (to - from) * k / (count - 1));
    if (values.empty() || value != values.back()) values.push_back(value);
  }
  return fmt::format("values = [{}]", fmt::join(values, ", "));
}

/// An entry of `vary`.
std::string axis_text(const CaseField& field, const SweptField& wanted) {
  const auto bare = [](const std::string& text) {
    return text.find_first_not_of("0123456789") == std::string::npos;
  };
  const auto written = [&](const std::string& text) {
    return field.quoted ? fmt::format("\"{}\"", text) : text;
  };
  const double from = std::strtod(wanted.from.c_str(), nullptr);
  const double to = std::strtod(wanted.to.c_str(), nullptr);
  const std::string values =
      !field.quoted && bare(wanted.from) && bare(wanted.to)
          ? whole_values(from, to, wanted.count)
          : fmt::format("from = {}, to = {}, count = {}", written(wanted.from), written(wanted.to),
                        wanted.count);
  return fmt::format("{{ key = \"{}\", {} }}", wanted.key, values);
}

/// The power in the cold work, largest first.
std::string figure_to_rank_by(const Case& subject) {
  if (!subject.workpiece)
    throw CaseError(
        {"found no work in the coil; a sweep from here ranks by the power in it: write "
         "[workpiece] first"});
  return fmt::format("-states.{}.power.workpiece_W",
                     tank_rings(subject.drive) ? "cold" : "fixed_frequency");
}

std::string drawing_in(const fs::path& folder) {
  for (const char* name : {"map.svg", "sensitivity.svg"}) {
    std::ifstream stream(folder / "pictures" / name, std::ios::binary);
    const std::string svg{std::istreambuf_iterator<char>(stream), {}};
    if (!svg.empty())
      return fmt::format("<figure class=\"still\">\n{}</figure>\n",
                         inlined_drawing(svg, "Power in the work over the values of the sweep"));
  }
  return {};
}

std::string shown_sweep(const fs::path& folder, std::size_t count) {
  return fmt::format(
      "{}<p>{} designs at accuracy fast, ranked by the power in the work. <a href=\"/sweep\" "
      "target=\"_blank\" rel=\"noopener\">Open the page of the sweep</a>; its files are in "
      "{}.</p>\n",
      drawing_in(folder), count, escaped(folder.filename().string()));
}

}  // namespace

std::string swept_text(const std::string& text, const fs::path& file,
                       const std::vector<SweptField>& fields) {
  const std::vector<CaseField> known = fields_of(text);
  std::vector<std::string> axes;
  for (const SweptField& wanted : fields) {
    const auto field = std::ranges::find(known, wanted.key, &CaseField::key);
    if (field == known.end() || !is_plain(wanted.from) || !is_plain(wanted.to) ||
        wanted.count < 2 || wanted.count > 20)
      throw CaseError(
          {fmt::format("{}: cannot be swept from {} to {} in {} values; write for example 6 mm, 9 "
                       "mm and 5",
                       wanted.key, wanted.from, wanted.to, wanted.count)});
    axes.push_back(axis_text(*field, wanted));
  }
  if (axes.empty() || axes.size() > 2)
    throw CaseError({"a sweep from here varies one or two values"});
  CaseLines lines(text);
  lines.set_aside("sweep");
  const std::string rank = figure_to_rank_by(read_case_text(lines.text(), file));
  lines.append(fmt::format("\n[sweep]\nvary = [{}]\nrank = \"{}\"\n", fmt::join(axes, ", "), rank));
  // The values come from a browser, as the text does: none may name a file elsewhere.
  if (const LiveCheck swept = check_live(lines.text(), file); !swept.subject)
    throw CaseError({swept.mistakes.front().text});
  return lines.text();
}

void sweep_live(const std::string& text, const fs::path& file, const SendMessage& send) {
  const auto tell = [&](const SweepMessage& message) {
    send(message.dump(-1, ' ', false, SweepMessage::error_handler_t::replace));
  };
  constexpr int below_the_solver = 10;
  static_cast<void>(::nice(below_the_solver));
  try {
    const Case subject = read_case_text(text, file);
    SweepOptions options;
    options.effort = Effort::fast;
    const fs::path folder = sweep_folder(file);
    const auto listener = [&](const SweepProgress& p) {
      tell({{"sweeping", fmt::format("{} of {} designs are solved.", p.done, p.total)}});
    };
    const SweepRun run = run_sweep(subject, {file, text}, options, {folder, nullptr, listener});
    write_sweep(subject, run.ranking, folder);
    const std::size_t count = run.ranking.best.size() + run.ranking.breaking.size();
    tell({{"part", "sweep"}, {"html", shown_sweep(folder, count)}});
    tell({{"sweeping", ""}});
  } catch (const std::exception& error) {
    tell({{"sweeping", fmt::format("The sweep ended: {}", error.what())}});
  }
}

fs::path sweep_folder(const fs::path& file) {
  return file.parent_path() / (file.stem().string() + "-live-sweep");
}

}  // namespace cw::cases
