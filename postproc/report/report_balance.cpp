#include <fmt/core.h>

#include <numbers>

#include "postproc/chart/chart.hpp"
#include "postproc/chart/part_colours.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/result/leading_state.hpp"
#include "postproc/result/write_tables.hpp"

namespace cw {

namespace {

struct Part {
  std::string name;  ///< markup
  double watts = 0.0;
  bool heated = false;  ///< by the field, intended or not; else lost in coil and circuit
  Colour colour;
};

std::vector<Part> parts_of(const PowerBalance& power) {
  std::vector<Part> parts;
  const std::size_t work = power.workpiece ? 1 : 0;
  for (const auto& [name, watts] : power_parts(power)) {
    const bool hot = parts.size() < work + power.bodies.size(), body = hot && parts.size() >= work;
    parts.push_back({body ? escaped(name) : capitalised(name), watts, hot, {}});
  }
  std::vector<bool> heated;
  for (const Part& part : parts) heated.push_back(part.heated);
  const std::vector<Colour> colours = part_colours(heated);
  for (std::size_t i = 0; i < parts.size(); ++i) parts[i].colour = colours[i];
  return parts;
}

const char* lettering_on(const Colour& c) {
  return lightness(c) < 0.6 ? "#ffffff" : "#1c2026";
}

std::string segment(const Part& part, const std::string& key, double start, double share) {
  std::string text =
      fmt::format("<rect x=\"{:.3f}%\" width=\"{:.3f}%\" height=\"44\" fill=\"{}\"/>\n",
                  100.0 * start, 100.0 * share, colour_code(part.colour));
  if (start > 0.0) {
    text +=
        fmt::format("<line class=\"cut\" x1=\"{0:.3f}%\" x2=\"{0:.3f}%\" y1=\"0\" y2=\"44\"/>\n",
                    100.0 * start);
  }
  // If it is narrower, the letters do not fit on a telephone.
  constexpr double room_for_letter = 0.05, room_for_number = 0.3;
  if (share < room_for_letter) return text;
  const std::string words =
      share < room_for_number ? key : fmt::format("{}  {}", key, shown_percent(share));
  return text +
         fmt::format("<text x=\"{:.3f}%\" y=\"28\" text-anchor=\"middle\" fill=\"{}\">{}</text>\n",
                     100.0 * (start + 0.5 * share), lettering_on(part.colour), words);
}

std::string swatch(const Part& part, const std::string& key) {
  return fmt::format(
      "<svg class=\"swatch\" width=\"26\" height=\"18\" aria-hidden=\"true\"><rect width=\"26\" "
      "height=\"18\" fill=\"{}\"/><text x=\"13\" y=\"13\" text-anchor=\"middle\" "
      "fill=\"{}\">{}</text></svg> ",
      colour_code(part.colour), lettering_on(part.colour), key);
}

std::string fact(const char* name, const std::string& value, const std::string& note) {
  return fmt::format("<div><dt>{}</dt><dd>{}{}</dd></div>\n", name, value,
                     note.empty() ? "" : fmt::format("<span>{}</span>", note));
}

std::string facts(const StateResult& state) {
  const auto rms_and_peak = [](const char* name, double rms, const char* unit) {
    return fact(name, shown(rms, unit) + " rms",
                fmt::format("{} peak", shown(rms * std::numbers::sqrt2, unit)));
  };
  std::string text;
  if (state.efficiency)
    text += fact("Efficiency", shown_percent(*state.efficiency), "useful over total power");
  text += rms_and_peak("Coil current", state.drive.current_rms, "A");
  text += rms_and_peak("Voltage on coil and leads", state.drive.voltage_rms, "V");
  text += fact("Frequency", shown(state.frequency.hertz, "Hz"), "");
  if (state.workpiece_temperature)
    text += fact("Workpiece at", shown_celsius(*state.workpiece_temperature), "");
  return fmt::format("<dl class=\"facts\">\n{}</dl>\n", text);
}

}  // namespace

PageSection balance_section(const Result& result) {
  const StateResult* state = leading_state(result);
  if (state == nullptr || state->power.total <= 0.0) return {};
  const double total = state->power.total;
  PageTable table{"Power by part", {"Part", "Power", "Share of total"}, {{}}};
  std::string bar, words;
  double start = 0.0;
  const auto parts = parts_of(state->power);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Part& part = parts[i];
    const double share = part.watts / total;
    bar += segment(part, part_letter(i), start, share);
    words += fmt::format("{}{} {}", i == 0 ? "" : ", ", part.name, shown_percent(share));
    start += share;
    table.groups[0].rows.push_back(
        {swatch(part, part_letter(i)) + part.name, {shown(part.watts, "W"), shown_percent(share)}});
  }
  table.groups[0].rows.push_back({"Total", {shown(total, "W"), shown_percent(1.0)}});
  return {"power", "Where the power goes",
          fmt::format(
              "<p>{}, {}. Dark: bodies heated by the field. Light: loss in coil and circuit.</p>\n"
              "<svg class=\"bar\" width=\"100%\" height=\"44\" role=\"img\" "
              "aria-label=\"{}\">\n{}</svg>\n{}{}",
              capitalised(state_words(state->name)), shown(state->frequency.hertz, "Hz"), words,
              bar, facts(*state), markup(table))};
}

}  // namespace cw
