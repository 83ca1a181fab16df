#include "solver/run/stall_sensitivity.hpp"

#include <limits>
#include <utility>

#include "solver/heater/target.hpp"
#include "solver/run/in_parallel.hpp"

namespace cw {

namespace {

constexpr double emissivity_step = 0.05, emissivity_unit = 0.1;
constexpr double gap_step = 0.5e-3, gap_unit = 1e-3;  // [m]

/// Temperatures at the unknowns of another mesh of the same bodies, each from the nearest unknown
/// of the same body. Only a start for the search.
Eigen::VectorXd carried(const Eigen::VectorXd& kelvin, const ThermalMesh& from,
                        const ThermalMesh& to) {
  const auto body_of = [](const ThermalMesh& mesh) {
    std::vector<std::size_t> body(static_cast<std::size_t>(mesh.unknowns()));
    for (const auto& e : mesh.elements)
      for (const int i : e.unknown) body[i] = e.body;
    return body;
  };
  const std::vector<std::size_t> source = body_of(from), target = body_of(to);
  Eigen::VectorXd result(to.unknowns());
  for (std::size_t i = 0; i < target.size(); ++i) {
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < source.size(); ++k) {
      const Point apart = to.at[i] - from.at[k];
      const double away = apart.r * apart.r + apart.z * apart.z;
      if (source[k] != target[i] || away >= nearest) continue;
      nearest = away;
      result[static_cast<Eigen::Index>(i)] = kelvin[static_cast<Eigen::Index>(k)];
    }
  }
  return result;
}

class Shifted {
 public:
  Shifted(const HeatingSetup& setup, const HeatingRest& rest, Effort effort,
          const SolvedState& cold)
      : setup_(setup), rest_(rest), effort_(effort), cold_(cold) {}

  /// How much higher the steady reading of the changed case is [K].
  [[nodiscard]] std::optional<double> by(const Heater& changed) const {
    const std::unique_ptr<HeatingSetup> same_mesh = setup_.with_coil_of(changed, cold_);
    if (same_mesh) return moved(*same_mesh, rest_.kelvin, rest_.rounds);
    HeatingSetup setup(changed, effort_, cold_);
    return moved(setup, carried(rest_.kelvin, setup_.thermal().mesh(), setup.thermal().mesh()), {});
  }

 private:
  [[nodiscard]] std::optional<double> moved(HeatingSetup& changed, Eigen::VectorXd from,
                                            RestRounds rounds) const {
    const HeatingRest moved = find_rest(changed.coil(), changed.thermal(), changed.plan(),
                                        std::move(from), std::move(rounds));
    if (!moved.settled) return std::nullopt;
    return moved.reading - rest_.reading;
  }

  const HeatingSetup& setup_;
  const HeatingRest& rest_;
  Effort effort_;
  const SolvedState& cold_;
};

}  // namespace

StallSensitivity stall_sensitivity(const HeatingSetup& setup, const HeatingRest& rest,
                                   Effort effort, const SolvedState& cold) {
  const Shifted shifted(setup, rest, effort, cold);
  StallSensitivity found;
  const auto by_emissivity = [&] {
    Heater other = setup.subject();
    const double emissivity =
        other.heat->emissivity.value_or(other.workpiece->material.emissivity.value);
    const double step = emissivity + emissivity_step <= 1.0 ? emissivity_step : -emissivity_step;
    other.heat->emissivity = emissivity + step;
    if (const auto moved = shifted.by(other)) found.by_emissivity = *moved * emissivity_unit / step;
  };
  const auto by_gap = [&] {
    const CoilShape shape = setup.subject().coil.shape;
    if (shape != CoilShape::helix && shape != CoilShape::cone) return;
    Heater other = setup.subject();
    // The heated stretch stays the same, even if it is not given but follows from the coil.
    other.heat->heated = heated_stretch(setup.subject());
    other.coil.bore += 2 * gap_step;
    if (shape == CoilShape::cone) *other.coil.bore_end += 2 * gap_step;
    if (const auto moved = shifted.by(other)) found.by_gap = *moved * gap_unit / gap_step;
  };
  in_parallel(2, [&](std::size_t k) { k == 0 ? by_emissivity() : by_gap(); });
  return found;
}

}  // namespace cw
