#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cases/sweep/sheet.hpp"
#include "postproc/result/write_tables.hpp"
#include "postproc/text/limit_words.hpp"

namespace cw::cases {

namespace {

/// Figures of each state on the terminal; the table holds all.
constexpr std::array<std::string_view, 11> shown_of_state = {
    "frequency_Hz",    "power.workpiece_W", "power.coil_W",       "power.total_W",
    "efficiency",      "coil.inductance_H", "tank.voltage_rms_V", "tank.current_rms_A",
    "supply.demand_A", "supply.power_W",    "drive.voltage_rms_V"};
constexpr std::array<std::string_view, 4> shown_of_heat = {"heat.time_to_target_s", "heat.stall_K",
                                                           "heat.energy_J", "heat.induced_J"};

const RankedDesign& at_place(const Ranking& ranking, std::size_t place) {
  const std::size_t best = ranking.best.size(), all = best + ranking.breaking.size();
  if (place >= 1 && place <= best) return ranking.best[place - 1];
  if (place >= 1 && place <= all) return ranking.breaking[place - best - 1];
  if (all == 0)
    throw CaseError({fmt::format(
        "--compare: found place {}, but no design is ranked; look at sweep.rank", place)});
  throw CaseError({fmt::format(
      "--compare: found place {}; allowed: 1 to {}{}", place, all,
      best < all ? fmt::format(", from {} on, designs that exceed a limit", best + 1) : "")});
}

/// Two designs, and the format of their lines.
class TwoDesigns {
 public:
  TwoDesigns(const RankedDesign& a, const RankedDesign& b) : a_(a), b_(b) {}

  void head(const std::string& first, const std::string& second, const std::string& third) {
    text_ += fmt::format("{:<38.38}{:>14}{:>14}{:>13}\n", "", first, second, third);
  }
  void inputs() {
    for (std::size_t k = 0; k < a_.row.changes.size(); ++k)
      text_ += fmt::format("{:<38.38}{:>14.14}{:>14.14}\n", a_.row.changes[k].key,
                           shortened(a_.row.changes[k].value), shortened(b_.row.changes[k].value));
  }
  void group(const std::string& name) { group_ = name; }
  void figure_line(const std::string& key, std::string name = {}) {
    const auto left = a_.figures.find(key), right = b_.figures.find(key);
    if (left == a_.figures.end() && right == b_.figures.end()) return;
    const std::string label = key_label(key);
    if (name.empty()) name = label.substr(0, label.find(" ["));
    name = name.substr(0, name.rfind(','));  // the state is in the heading
    const auto cell = [&](auto found, const RankedDesign& of) {
      return found == of.figures.end() ? "-" : key_value(key, found->second);
    };
    std::string change;
    if (left != a_.figures.end() && right != b_.figures.end())
      change = change_of(left->second, right->second);
    line(name, {cell(left, a_), cell(right, b_), change});
  }
  /// A share of one, in percent.
  void share_line(const std::string& key, const std::string& name) {
    const auto left = a_.figures.find(key), right = b_.figures.find(key);
    if (left == a_.figures.end() || right == b_.figures.end()) return;
    line(name,
         {fmt::format("{:.1f} %", 100 * left->second), fmt::format("{:.1f} %", 100 * right->second),
          change_of(left->second, right->second)});
  }
  [[nodiscard]] std::string text() const { return text_; }

 private:
  void line(const std::string& name, const std::array<std::string, 3>& cells) {
    if (!group_.empty()) text_ += group_ + "\n";
    group_.clear();
    text_ += fmt::format("  {:<36.36}{:>14}{:>14}{:>13}\n", name, cells[0], cells[1], cells[2]);
  }
  static std::string change_of(double a, double b) {
    const double change = a != 0 ? 100 * (b / a - 1) : 0.0;
    return std::abs(change) < 0.05 ? "the same" : fmt::format("{:+.1f} %", change);
  }
  const RankedDesign &a_, &b_;
  std::string text_, group_;
};

/// Names of the states of both, in the order of the first.
std::vector<std::string> states_of(const RankedDesign& design) {
  std::vector<std::string> states;
  for (const char* name :
       {"empty", "cold", "peak_demand", "past_curie", "at_target", "fixed_frequency"})
    if (design.figures.contains(fmt::format("states.{}.frequency_Hz", name)))
      states.emplace_back(name);
  return states;
}

std::string spaced(std::string name) {
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

/// The keys "limits.capacitor.current_rms_A.fraction" of both designs.
std::vector<std::string> limits_of(const RankedDesign& a, const RankedDesign& b) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : a.figures)
    if (key.starts_with("limits.") && key.ends_with(".fraction") && b.figures.contains(key))
      keys.push_back(key);
  return keys;
}

std::string verdict_of(const RankedDesign& design) {
  return design.broken.empty() ? "keeps every limit"
                               : fmt::format("breaks {}", fmt::join(design.broken, "; "));
}

}  // namespace

std::string side_by_side(const Ranking& ranking, std::size_t first, std::size_t second) {
  const RankedDesign &a = at_place(ranking, first), &b = at_place(ranking, second);
  TwoDesigns lines(a, b);
  lines.head(fmt::format("place {}", first), fmt::format("place {}", second), "second is");
  lines.inputs();
  for (const std::string& state : states_of(a)) {
    lines.group("State " + spaced(state));
    for (const std::string_view key : shown_of_state)
      key == "efficiency" ? lines.share_line(fmt::format("states.{}.{}", state, key), "efficiency")
                          : lines.figure_line(fmt::format("states.{}.{}", state, key));
  }
  lines.group("Heating run");
  for (const std::string_view key : shown_of_heat) lines.figure_line(std::string(key));
  lines.group("Shares of limits");
  for (const std::string& key : limits_of(a, b)) {
    const std::string inside = key.substr(7, key.size() - 7 - std::string(".fraction").size());
    const auto dot = inside.find('.');
    lines.share_line(key, fmt::format("{}, {}", inside.substr(0, dot),
                                      limit_quantity(inside.substr(dot + 1)).words));
  }
  return fmt::format("{}\nPlace {} {}.\nPlace {} {}.\n", lines.text(), first, verdict_of(a), second,
                     verdict_of(b));
}

std::string side_by_side_csv(const Ranking& ranking, std::size_t first, std::size_t second) {
  const RankedDesign &a = at_place(ranking, first), &b = at_place(ranking, second);
  std::string table = fmt::format("key,place {},place {},second / first\n", first, second);
  for (std::size_t k = 0; k < a.row.changes.size(); ++k)
    table += fmt::format("{},{},{},\n", table_field(a.row.changes[k].key),
                         table_field(a.row.changes[k].value), table_field(b.row.changes[k].value));
  std::map<std::string, std::array<std::optional<double>, 2>> all;
  for (const auto& [key, value] : a.figures) all[key][0] = value;
  for (const auto& [key, value] : b.figures) all[key][1] = value;
  const auto cell = [](const std::optional<double>& value) {
    return value ? fmt::format("{}", *value) : std::string();
  };
  for (const auto& [key, v] : all)
    table += fmt::format(
        "{},{},{},{}\n", table_field(key), cell(v[0]), cell(v[1]),
        v[0] && v[1] && *v[0] != 0 ? fmt::format("{:.6g}", *v[1] / *v[0]) : std::string());
  return table;
}

}  // namespace cw::cases
