#include <fmt/core.h>

#include <algorithm>
#include <numbers>

#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"

namespace cw {

namespace {

/// The largest currents over the states [A]: rms in coil and bank, direct from the supply.
struct JointCurrents {
  double coil = 0.0, bank = 0.0, supply = 0.0;

  explicit JointCurrents(const Result& result) {
    for (const StateResult& state : result.states) {
      if (state.tank) coil = std::max(coil, state.tank->current_rms);
      if (state.tank) bank = std::max(bank, state.tank->capacitor_current_rms);
      if (state.supply) supply = std::max(supply, state.supply->current);
    }
  }
};

class JointList {
 public:
  explicit JointList(const Result& result) : heater_(*result.heater), at_(result) {}

  std::vector<TableRow> run() {
    if (const Tank& tank = *heater_.tank; tank.cans) cans(tank);
    const bool series = tank_use(heater_.drive) == TankUse::in_series;
    add(series ? "Coil to bank, bank and coil to the drive" : "Coil to the rails of the bank",
        series ? 3 : 2, shown(at_.coil, "A") + " rms",
        "copper to copper, screwed or silver-brazed; near the coil soft solder melts when the "
        "water stops");
    const DriveParts parts = drive_parts(heater_.drive);
    if (parts.transistor != nullptr) switches(parts);
    if (parts.choke != nullptr) chokes(*parts.choke);
    return std::move(rows_);
  }

 private:
  void add(const char* what, int count, const std::string& current, const std::string& note) {
    rows_.push_back({what, {fmt::format("{}", count), current, note}});
  }

  void cans(const Tank& tank) {
    const std::string each = shown(at_.bank / tank.strings(), "A") + " rms";
    add("Can to rail", 2 * tank.strings(), each,
        "all leads equally short, so that the cans share the current");
    if (tank.cans_in_series > 1)
      add("Can to can, in a string", tank.strings() * (tank.cans_in_series - 1), each, "");
  }

  void switches(const DriveParts& parts) {
    // One switch after the other carries the whole supply current, half of the time each.
    const std::string each =
        fmt::format("{} rms, pulses of {}", shown(at_.supply / std::numbers::sqrt2, "A"),
                    shown(at_.supply, "A"));
    add("Drain to rail", parts.switches, each, "one switch to each end of the tank");
    add("Source to the minus of the supply", parts.switches, each,
        "to one point, together with the return of the gate drive");
  }

  void chokes(const Choke& choke) {
    if (choke.count < 1) return;
    const std::string each = shown(at_.supply / choke.count, "A") + " DC";
    add(choke.count == 1 ? "Choke to the middle of the coil" : "Choke to rail", choke.count, each,
        choke.count == 1 ? "" : "one to each end of the tank");
    add("Choke to the plus of the supply", choke.count, each, "behind the fuse");
  }

  const Heater& heater_;
  JointCurrents at_;
  std::vector<TableRow> rows_;
};

}  // namespace

PageSection joints_section(const Result& result) {
  if (!result.heater || !result.heater->tank) return {};
  return {"joints", "Joints to make",
          "<p>Currents are the largest of all states. Every joint of the tank carries its current "
          "all the time: tin both parts and fill the joint. After the first minute switch off, "
          "discharge the capacitors and look for a joint that is warmer than the others. Common "
          "practice, no source.</p>\n" +
              markup({"Joints",
                      {"Joint", "How many", "Each carries", "Note"},
                      {{"", JointList(result).run()}}})};
}

}  // namespace cw
