#include "cases/design/coil_kernel.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "mesh/generate.hpp"
#include "solver/coupled/loaded_coil.hpp"
#include "solver/field/layering.hpp"
#include "solver/heater/rings.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw::cases {

namespace {

constexpr double past_curie = 30.0;  ///< [K]

ByFrequency power_law(double low, double high, double ratio) {
  return {low, std::log(high / low) / std::log(ratio)};
}

double inside_of(const LoadedCoil& coil) {
  return std::max(coil.reflected_resistance, 1e-9);
}

double copper_of(const LoadedCoil& coil) {
  return coil.conductor_resistance + coil.leads.resistance_ohm;
}

/// Ends of magnetism of all that is heated [K].
std::set<double> curie_points(const Heater& heater) {
  std::set<double> points;
  const auto add = [&](const Material& material) {
    if (material.magnetisation) points.insert(material.magnetisation->curie.kelvin);
  };
  add(heater.workpiece->material);
  for (const Body& body : heater.bodies)
    if (!body.temperature) add(body.material);
  return points;
}

/// The field at one temperature, solved where the tank asks.
class WorkSolver {
 public:
  WorkSolver(const Heater& heater, Temperature at, const CoilPoint& about)
      : model_(field_model(heater, {at, coil_temperature(heater.coil)},
                           {about.frequency, about.current_rms_A})) {
    const Sizing sizing = sizing_for(Effort::fast);
    mesh_ = generate_mesh(model_.section, magnetic() ? for_saturation(sizing) : sizing);
    system_ = std::make_unique<EddySystem>(*mesh_, model_.media);
  }

  [[nodiscard]] bool magnetic() const { return !model_.saturating.empty(); }

  LoadedCoil solve(const CoilPoint& at) {
    if (!magnetic()) return solve_loaded_coil(*system_, model_.winding, at.frequency);
    LoadedCoil coil =
        solve_loaded_coil(*system_, model_.winding, {model_.saturating, 0.0, before_.get()},
                          at.frequency, at.current_rms_A);
    before_ = coil.saturated;
    return coil;
  }

 private:
  FieldModel model_;
  std::optional<Mesh> mesh_;
  std::unique_ptr<EddySystem> system_;
  std::shared_ptr<const NonlinearCoil> before_;
};

double kernel_share(const CoilKernel& kernel, const WorkReference& reference, Frequency f) {
  return kernel.work.at(f, kernel.near) / reference.kernel.work.at(f, reference.kernel.near);
}

/// Work and inductance of the reference at one of its temperatures, elsewhere than it was solved.
struct MovedWork {
  double work, inductance;
};
MovedWork moved_work(const WorkAt& w, Frequency f, double current) {
  const double by_f = f.hertz / w.at.frequency.hertz,
               by_i = std::max(current, 1e-3) / w.at.current_rms_A;
  // Far from where it was solved a power law leads astray: steel saturates, then no more.
  const double held = std::clamp(by_i, 0.2, 5.0);
  return {w.work * std::pow(by_f, w.work_by_frequency) * std::pow(held, w.work_by_current),
          w.inductance * std::pow(held, w.inductance_by_current)};
}

}  // namespace

double ByFrequency::at(Frequency f, Frequency near) const {
  return value * std::pow(f.hertz / near.hertz, exponent);
}

Temperature kernel_temperature(const Heater& heater) {
  double top = heater.heat->target->kelvin;
  for (const double curie : curie_points(heater)) top = std::max(top, curie + past_curie);
  return {top};
}

std::vector<Temperature> temperatures_to_solve(const Heater& heater) {
  constexpr double below = 15.0;
  const double cold = heater.workpiece->temperature.kelvin, target = heater.heat->target->kelvin;
  std::set<double> all{cold, target};
  const std::set<double> curie = curie_points(heater);
  for (const double c : curie) {
    if (c - below > cold && c - below < target) all.insert(c - below);
    if (c + past_curie < target) all.insert(c + past_curie);
  }
  all.insert(0.5 * (cold + std::min(target, curie.empty() ? target : *curie.begin())));
  std::vector<Temperature> rising;
  for (const double kelvin : all)
    if (rising.empty() || kelvin - rising.back().kelvin > 5.0) rising.push_back({kelvin});
  return rising;
}

CoilKernel coil_kernel(const Heater& heater, Temperature at, Frequency near) {
  constexpr double ratio = 2.0;
  FieldModel model = field_model(heater, {at, coil_temperature(heater.coil)}, {near, 100.0});
  const Mesh mesh = generate_mesh(model.section, sizing_for(Effort::fast));
  EddySystem system(mesh, model.media);
  const LoadedCoil low = solve_loaded_coil(system, model.winding, near);
  const LoadedCoil high = solve_loaded_coil(system, model.winding, {ratio * near.hertz});
  Media empty = model.media;
  const std::size_t inside = (heater.workpiece ? 1 : 0) + heater.bodies.size();
  for (std::size_t k = 1; k <= inside; ++k) empty[k] = Medium{};
  system.set_media(empty);
  const LoadedCoil alone = solve_loaded_coil(system, model.winding, near);
  CoilKernel kernel;
  kernel.near = near;
  kernel.work = power_law(inside_of(low), inside_of(high), ratio);
  kernel.copper = power_law(copper_of(low), copper_of(high), ratio);
  kernel.inductance = power_law(low.inductance, high.inductance, ratio);
  kernel.lead_share = low.leads.resistance_ohm / copper_of(low);
  kernel.empty_inductance = alone.inductance;
  kernel.empty_resistance = alone.resistance;
  return kernel;
}

TankSolution tank_on(const TankCircuit& circuit,
                     const std::function<CoilImpedance(const CoilPoint&)>& coil,
                     const CoilPoint& start) {
  TankOptions options;
  options.start = LocalCoil{start};
  options.current_matters = true;
  options.tolerance = 0.01;
  return solve_tank(circuit, CoilModel(coil), options);
}

WorkReference work_reference(const Heater& heater, const TankCircuit& circuit,
                             const CoilKernel& kernel, const std::vector<Temperature>& at) {
  WorkReference reference{kernel, {}};
  // Steel takes some times as much cold as past its magnetism.
  CoilPoint point = unloaded_point(circuit, kernel.inductance.value);
  for (const Temperature t : at) {
    WorkSolver solver(heater, t, point);
    WorkAt w;
    LoadedCoil first;
    const auto impedance = [&](const CoilPoint& p) {
      first = solver.solve(p);
      w.at = p;
      return CoilImpedance{first.resistance, first.inductance, first.leads.resistance_ohm};
    };
    const TankSolution tank = tank_on(circuit, impedance, point);
    if (!tank.no_ring) {
      point = {tank.shown().frequency, tank.shown().coil_current_rms_A};
      first = solver.solve(point);
      w.at = point;
    }
    w.temperature = t;
    w.work = inside_of(first);
    w.inductance = first.inductance;
    w.work_by_frequency = kernel.work.exponent;
    if (solver.magnetic()) {
      constexpr double less = 0.6;
      const LoadedCoil second = solver.solve({w.at.frequency, less * w.at.current_rms_A});
      w.work_by_frequency = 0.5;
      w.work_by_current = std::log(inside_of(second) / w.work) / std::log(less);
      w.inductance_by_current = std::log(second.inductance / w.inductance) / std::log(less);
    }
    reference.at.push_back(w);
  }
  return reference;
}

double work_by_reference(const CoilKernel& kernel, const WorkReference& reference,
                         const std::vector<double>& warmth, const CoilPoint& at) {
  const double share = kernel_share(kernel, reference, at.frequency);
  double work = 0.0;
  for (std::size_t k = 0; k < warmth.size(); ++k)
    if (warmth[k] > 0.0)
      work += warmth[k] * share *
              moved_work(reference.at[k], at.frequency, at.current_rms_A * std::sqrt(share)).work;
  return work;
}

CoilImpedance coil_by_reference(const CoilKernel& kernel, const WorkReference& reference,
                                const std::vector<double>& warmth, const CoilPoint& at) {
  const double share = kernel_share(kernel, reference, at.frequency);
  const double own = kernel.inductance.at(at.frequency, kernel.near);
  const double other = reference.kernel.inductance.at(at.frequency, reference.kernel.near);
  double inductance = own;
  for (std::size_t k = 0; k < warmth.size(); ++k) {
    if (warmth[k] <= 0.0) continue;
    const MovedWork w =
        moved_work(reference.at[k], at.frequency, at.current_rms_A * std::sqrt(share));
    inductance += warmth[k] * share * (w.inductance - other);
  }
  CoilImpedance z;
  z.resistance_ohm = kernel.copper.at(at.frequency, kernel.near) +
                     work_by_reference(kernel, reference, warmth, at);
  z.inductance_H = std::max(inductance, 0.3 * own);
  z.lead_resistance_ohm = kernel.lead_share * kernel.copper.at(at.frequency, kernel.near);
  return z;
}

}  // namespace cw::cases
