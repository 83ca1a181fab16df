#include "tests/published/steel_rod.hpp"

#include <numbers>

namespace cw::published {

namespace {

constexpr BorderConditions kSlice{false, false, false};

}  // namespace

double surface_depth(const SteelRod& rod, const EffectiveReluctivity& law) {
  return saturated_skin_depth(law, 1.0, rod.conductivity, {rod.hertz},
                              rod.peak_field / std::numbers::sqrt2);
}

Complex surface_impedance(const SteelRod& rod, const EffectiveReluctivity& law) {
  const double rms = rod.peak_field / std::numbers::sqrt2, height = 0.5 * rod.radius;
  Section section;
  section.domain = Box{rod.radius, 0, height};
  section.regions.push_back(
      {"workpiece", rectangle({0, 0}, {rod.radius, height}), 0.5 * surface_depth(rod, law)});
  const Mesh mesh = generate_mesh(section, Sizing{}.scaled(rod.finer));
  const EddySystem system(mesh, {{}, {rod.conductivity, 1 / mu0}}, kSlice);
  const Eigen::VectorXcd source = (rms * surface_field_source(system)).cast<Complex>();
  SaturatingOptions options;
  options.surface_field = rms;
  const SaturatedField found =
      solve_saturating(system, {{1, &law, 1.0, {}}}, {rod.hertz}, source, options);
  // The source weighs the potential over the outer side: 2 pi a H times its integral there.
  const Complex weighed = source.dot(system.to_unknowns(found.field.potential));
  const double area = 2 * std::numbers::pi * rod.radius * height;
  return Complex{0, 2 * std::numbers::pi * rod.hertz} * weighed / (rms * rms * area);
}

}  // namespace cw::published
