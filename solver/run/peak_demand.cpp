#include "solver/run/peak_demand.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <vector>

#include "mesh/generate.hpp"
#include "solver/coupled/loaded_coil.hpp"
#include "solver/field/layering.hpp"

namespace cw {

namespace {

CoilImpedance terminals(const LoadedCoil& coil) {
  return {coil.resistance, coil.inductance, coil.leads.resistance_ohm};
}

/// A temperature, and the demand at it.
struct DemandTrial {
  double kelvin, demand;
  LocalCoil coil = {};
};

/// Vertex of the parabola through three samples of rising temperature, the middle one highest.
double vertex(const DemandTrial& a, const DemandTrial& b, const DemandTrial& c) {
  const double left = (b.kelvin - a.kelvin) * (b.demand - c.demand),
               right = (b.kelvin - c.kelvin) * (b.demand - a.demand);
  if (left == right) return b.kelvin;
  return b.kelvin -
         0.5 * ((b.kelvin - a.kelvin) * left - (b.kelvin - c.kelvin) * right) / (left - right);
}

/// The samples of one smooth interval, and the search for its maximum.
class Stretched {
 public:
  Stretched(DemandCurve& demand, double low, double high)
      : demand_(demand), low_(low), high_(high) {}

  DemandTrial peak(double to_beat) {
    add(low_);
    add(high_);
    add(at(0.65));
    // Above the last Curie point the demand is much smaller: three samples are enough to show it.
    if (best()->demand < 0.8 * to_beat) return *best();
    add(at(0.35));
    add(at(0.85));
    for (int k = 0; k < 4; ++k) {
      const auto top = best();
      if (top == samples_.begin() || top == samples_.end() - 1) break;
      const double next = vertex(top[-1], *top, top[1]);
      if (std::abs(next - top->kelvin) < close) break;
      add(next);
    }
    return *best();
  }

 private:
  static constexpr double close = 4.0;  // [K]

  [[nodiscard]] double at(double share) const { return low_ + share * (high_ - low_); }
  [[nodiscard]] std::vector<DemandTrial>::iterator best() {
    return std::max_element(
        samples_.begin(), samples_.end(),
        [](const DemandTrial& a, const DemandTrial& b) { return a.demand < b.demand; });
  }
  void add(double kelvin) {
    DemandTrial sample{kelvin, demand_({kelvin})};
    sample.coil = demand_.local();
    samples_.insert(std::upper_bound(samples_.begin(), samples_.end(), kelvin,
                                     [](double t, const DemandTrial& s) { return t < s.kelvin; }),
                    sample);
  }

  DemandCurve& demand_;
  double low_, high_;
  std::vector<DemandTrial> samples_;
};

/// Ends of the smooth intervals [K]: the two temperatures and the Curie points between them.
std::vector<double> ends_between(const Heater& subject, double low, double high) {
  std::set<double> ends{low, high};
  const auto add = [&](const Material& material) {
    if (!material.magnetisation) return;
    const double curie = material.magnetisation->curie.kelvin;
    if (curie > low && curie < high) ends.insert(curie);
  };
  add(subject.workpiece->material);
  for (const Body& body : subject.bodies)
    if (!body.temperature) add(body.material);
  return {ends.begin(), ends.end()};
}

}  // namespace

DemandCurve::DemandCurve(const Heater& subject, const TankCircuit& circuit, const LocalCoil& start)
    : subject_(subject), circuit_(circuit), local_(start) {
  supply_of(circuit_.drive)->supply_limit.reset();
}

void DemandCurve::lay_mesh(const FieldModel& model) {
  std::vector<RegionId> magnetic;
  for (const SaturatingRegion& body : model.saturating) magnetic.push_back(body.region);
  if (mesh_ && magnetic == magnetic_) return;
  const Sizing sizing = sizing_for(Effort::fast);
  mesh_ = generate_mesh(model.section, magnetic.empty() ? sizing : for_saturation(sizing));
  magnetic_ = std::move(magnetic);
  before_.reset();
}

double DemandCurve::operator()(Temperature work) {
  // How far the coil may be from the point at which it was solved. Over such a step its power laws
  // hold to some tenths of a per cent.
  constexpr double loose = 0.05;
  const FieldModel model = field_model(subject_, {work, coil_temperature(subject_.coil)},
                                       {local_.at.frequency, local_.at.current_rms_A});
  lay_mesh(model);
  EddySystem system(*mesh_, model.media);
  TankOptions options;
  options.start = local_;
  options.tolerance = loose;
  options.current_matters = !model.saturating.empty();
  SaturatingCoil saturating(system);
  bool again = false;  // false at first: the bodies change with the temperature
  const CoilModel coil = [&](const CoilPoint& at) {
    if (model.saturating.empty())
      return terminals(solve_loaded_coil(system, model.winding, at.frequency));
    const SaturatingLoad load{model.saturating, 0.0, before_.get(), {}, &saturating, again};
    again = true;
    const LoadedCoil solved =
        solve_loaded_coil(system, model.winding, load, at.frequency, at.current_rms_A);
    before_ = solved.saturated;
    return terminals(solved);
  };
  const TankSolution found = solve_tank(circuit_, coil, options);
  if (found.no_ring) return 0.0;
  local_ = found.coil;
  samples_.push_back({work, found.demand.supply_current_A, found.demand.frequency});
  return found.demand.supply_current_A;
}

std::vector<DemandCurve::Sample> DemandCurve::samples() const {
  std::vector<Sample> sorted = samples_;
  std::sort(sorted.begin(), sorted.end(),
            [](const Sample& a, const Sample& b) { return a.at < b.at; });
  return sorted;
}

PeakDemand find_peak_demand(const Heater& subject, DemandCurve& demand, Temperature low,
                            Temperature high) {
  const std::vector<double> ends = ends_between(subject, low.kelvin, high.kelvin);
  // Just below a Curie point, where the body is still magnetic.
  constexpr double below = 0.5;
  DemandTrial best{low.kelvin, -1.0};
  for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
    const bool last = k + 2 == ends.size();
    const DemandTrial peak =
        Stretched(demand, ends[k], last ? ends[k + 1] : ends[k + 1] - below).peak(best.demand);
    if (peak.demand > best.demand) best = peak;
  }
  return {{best.kelvin}, best.coil};
}

}  // namespace cw
