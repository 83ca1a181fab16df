#include "solver/run/candidates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "materials/figures.hpp"
#include "materials/library.hpp"
#include "materials/usual_parts.hpp"
#include "solver/heater/rings.hpp"

namespace cw {

namespace {

// Space that a coil needs; common practice, no source.
constexpr double least_gap = 2e-3;         ///< between work and turns [m]
constexpr double least_between = 1e-3;     ///< between bare turns [m]
constexpr double least_sleeve = 2e-3;      ///< thickness worth fitting [m]
constexpr double sleeve_clearance = 5e-4;  ///< to the work and to the turns [m]

/// Outermost radius of everything inside the coil, along its length [m].
double room_taken(const Heater& heater) {
  const CoilExtent coil = extent_of(heater.coil);
  double outer = 0.0;
  const auto look = [&](const Outline& outline) {
    const OutlineExtent e = extent_of(outline);
    if (e.inner < coil.inner && e.low < coil.high && e.high > coil.low)
      outer = std::max(outer, e.outer);
  };
  if (heater.workpiece) look(heater.workpiece->outline);
  for (const Body& body : heater.bodies) look(body.outline);
  return outer;
}

double to_tenths(double metres) {
  return 1e-4 * std::round(1e4 * metres);
}

void apply(const Remedy::Step& step, Heater& heater) {
  switch (step.knob) {
    case Knob::turns:
      heater.coil.turns = step.to;
      return;
    case Knob::bore:
      heater.coil.bore = step.to;
      return;
    case Knob::pitch:
      if (heater.coil.gap) *heater.coil.gap += step.to - heater.coil.pitch;
      heater.coil.pitch = step.to;
      return;
    case Knob::cans: {
      const double share = step.to / step.from;
      heater.tank->cans = static_cast<int>(step.to);
      heater.tank->capacitance *= share;
      heater.tank->esr /= share;
      heater.tank->esl /= share;
      return;
    }
    case Knob::finer_cans:
      heater.tank->cans = static_cast<int>(step.to);
      return;
    case Knob::capacitance:
      heater.tank->capacitance = step.to;
      return;
    case Knob::supply:
      level_of(heater.drive) = step.to;
      return;
    case Knob::insulation: {
      const double inner = step.from, outer = inner + step.to;
      const CoilExtent coil = extent_of(heater.coil);
      Body sleeve;
      sleeve.name = "sleeve";
      sleeve.material = find_material("ceramic-fibre");
      sleeve.outline.profile = {
          {inner, coil.low}, {outer, coil.low}, {outer, coil.high}, {inner, coil.high}};
      heater.bodies.push_back(std::move(sleeve));
      return;
    }
    case Knob::time:
      heater.heat->until = step.to;
  }
}

class CandidateFinder {
 public:
  CandidateFinder(const Heater& heater, const Result& result) : heater_(heater), result_(result) {}

  std::vector<Candidate> run() {
    if (heater_.coil.shape == CoilShape::helix) {
      turns();
      bore();
      pitch();
      sleeve();
    }
    bank();
    finer_cans();
    supply();
    time();
    return std::move(found_);
  }

 private:
  void add(Knob knob, double from, double to) {
    if (std::abs(to - from) <= 1e-9 * std::abs(from)) return;
    Candidate c{heater_, {{knob, from, to}}};
    for (const Candidate& other : found_)
      if (other.steps.front().knob == knob && other.steps.front().to == to) return;
    apply(c.steps.front(), c.heater);
    found_.push_back(std::move(c));
  }

  void turns() {
    for (const double share : {0.65, 0.8, 1.25, 1.6})
      if (const double n = std::round(share * heater_.coil.turns); n >= 1)
        add(Knob::turns, heater_.coil.turns, n);
  }

  void bore() {
    const double own = heater_.coil.bore, taken = room_taken(heater_);
    if (taken <= 0.0 || 2 * taken > own) return;
    const double least = to_tenths(2 * (taken + least_gap));
    if (least < own - 1e-3) add(Knob::bore, own, least);
    if (own - least > 6e-3) add(Knob::bore, own, to_tenths(0.5 * (own + least)));
    add(Knob::bore, own, to_tenths(1.25 * own));
  }

  void pitch() {
    const double own = heater_.coil.pitch;
    if (heater_.coil.turns < 2 || own <= 0.0) return;
    const double least = heater_.coil.conductor.axial_size() + least_between;
    if (least < 0.93 * own) add(Knob::pitch, own, to_tenths(std::max(least, 0.75 * own)));
    add(Knob::pitch, own, to_tenths(1.35 * own));
  }

  void bank() {
    if (!heater_.tank) return;
    const int strings = heater_.tank->strings(), series = heater_.tank->cans_in_series;
    for (const double share : {0.5, 0.7, 1.4, 2.0})
      if (strings > 1)
        add(Knob::cans, strings * series, std::max(1.0, std::round(share * strings)) * series);
      else
        add(Knob::capacitance, heater_.tank->capacitance,
            std::stod(fmt::format("{:.1e}", share * heater_.tank->capacitance)));
  }

  /// More, smaller cans with the same rating, so many that the current of each is within it.
  void finer_cans() {
    constexpr double aim = 0.8;
    double share = 0.0;
    for (const LimitResult& limit : result_.limits)
      if (limit.verdict == Verdict::stop && limit.fraction &&
          limit.part.starts_with("capacitor can"))
        share = std::max(share, *limit.fraction);
    if (share > 0.0 && heater_.tank && heater_.tank->cans)
      add(Knob::finer_cans, *heater_.tank->cans,
          heater_.tank->cans_in_series * std::ceil(heater_.tank->strings() * share / aim));
  }

  void supply() {
    const double own = level_of(heater_.drive);
    if (supply_of(heater_.drive) == nullptr) {
      for (const double share : {0.75, 1.25, 1.6})
        add(Knob::supply, own, std::stod(fmt::format("{:.2g}", share * own)));
      return;
    }
    const auto spoilt = [](const LimitResult& limit) {
      return limit.quantity == "hottest_K" && limit.verdict == Verdict::stop;
    };
    if (std::ranges::any_of(result_.limits, spoilt))
      for (const double share : {0.8, 0.65, 0.5})
        add(Knob::supply, own, 0.5 * std::round(2 * share * own));
    if (const double share = share_within_limits(); share < 1.0)
      add(Knob::supply, own, 0.5 * std::floor(2 * share * own));
    for (const double volts : usual_supply_volts)
      if (volts > 1.05 * own) {
        add(Knob::supply, own, volts);
        break;
      }
  }

  /// Share of the supply voltage that keeps every limit which depends on the voltage, estimated.
  [[nodiscard]] double share_within_limits() const {
    constexpr double aim = 0.95;
    double share = 1.0;
    for (const LimitResult& limit : result_.limits) {
      const int power = follows_voltage(limit.quantity);
      if (limit.verdict == Verdict::stop && limit.fraction && power > 0)
        share = std::min(share, std::pow(aim / *limit.fraction, 1.0 / power));
    }
    return share;
  }

  /// The power of the supply voltage to which a figure is proportional, approximately; 0: none.
  static int follows_voltage(const std::string& quantity) {
    for (const char* linear :
         {"current_rms_A", "voltage_rms_V", "voltage_peak_V", "turn_voltage_peak_V",
          "current_peak_A", "current_A", "demand_A", "flux_density_peak_T"})
      if (quantity == linear) return 1;
    for (const char* square : {"loss_W", "reactive_power_var", "rise_in_kelvin",
                               "steady_rise_in_kelvin", "junction_rise_in_kelvin"})
      if (quantity == square) return 2;
    return 0;
  }

  /// A sleeve, if there is room for it and no other insulator.
  void sleeve() {
    const double room = 0.5 * heater_.coil.bore - room_taken(heater_) - 2 * sleeve_clearance;
    const auto insulates = [](const Body& b) { return b.material.insulator(); };
    if (room < least_sleeve || std::ranges::any_of(heater_.bodies, insulates)) return;
    add(Knob::insulation, room_taken(heater_) + sleeve_clearance, to_tenths(room));
  }

  void time() {
    if (result_.verdict && result_.verdict->bottleneck == Bottleneck::time && heater_.heat->until)
      add(Knob::time, *heater_.heat->until, 2 * *heater_.heat->until);
  }

  const Heater& heater_;
  const Result& result_;
  std::vector<Candidate> found_;
};

std::string mm(double metres) {
  return millimetres(metres) + " mm";
}

}  // namespace

Heater changed(const Heater& heater, std::vector<Remedy::Step> steps) {
  Heater result = heater;
  // The length of a sleeve follows from the final coil.
  std::ranges::stable_partition(steps,
                                [](const Remedy::Step& s) { return s.knob != Knob::insulation; });
  for (const Remedy::Step& step : steps) apply(step, result);
  return result;
}

std::vector<Candidate> candidates(const Heater& heater, const Result& result) {
  return CandidateFinder(heater, result).run();
}

std::string words_of(const Remedy::Step& step, const Heater& heater) {
  const auto instead = [&](const std::string& to, const std::string& from) {
    return fmt::format("{} instead of {}", to, from);
  };
  switch (step.knob) {
    case Knob::turns:
      return fmt::format("{} turns instead of {}", figure_short(step.to), figure_short(step.from));
    case Knob::bore:
      return "a bore of " + instead(mm(step.to), mm(step.from));
    case Knob::pitch:
      return "a pitch of " + instead(mm(step.to), mm(step.from));
    case Knob::cans:
      return fmt::format("{} cans ({}) instead of {}", step.to,
                         figure(heater.tank->capacitance * step.to / step.from, "F"), step.from);
    case Knob::finer_cans:
      return fmt::format("{} cans of {} each, of the same rating, instead of {}", step.to,
                         figure(heater.tank->can_capacitance() * step.from / step.to, "F"),
                         step.from);
    case Knob::capacitance:
      return instead(figure(step.to, "F"), figure(step.from, "F"));
    case Knob::supply: {
      const DriveLevel level = level_words(heater.drive);
      const auto value = [&](double x) {
        return fmt::format("{}{}", figure(x, level.unit), level.after);
      };
      return fmt::format("{}{}", level.before, instead(value(step.to), value(step.from)));
    }
    case Knob::insulation:
      return fmt::format("a sleeve of ceramic fibre, {} thick, between work and coil", mm(step.to));
    case Knob::time:
      break;
  }
  return instead(figure(step.to, "s"), figure(step.from, "s"));
}

}  // namespace cw
