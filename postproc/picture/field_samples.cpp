#include "postproc/picture/field_samples.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <tuple>

#include "solver/fem/triangle.hpp"

namespace cw {

namespace {

/// Pixels [from, to) whose centres may lie in low..high.
struct Range {
  int from, to;
};

Range pixels(double low, double high, double step, int count) {
  return {std::clamp(static_cast<int>(std::floor(low / step)), 0, count),
          std::clamp(static_cast<int>(std::ceil(high / step)), 0, count)};
}

/// The box round a triangle: that of its nodes, and a little more if it is curved.
struct Box {
  double left, right, low, high;

  explicit Box(const TriangleMap& map) {
    const TrianglePoints& p = map.points();
    std::tie(left, right) = std::minmax({p[0].r, p[1].r, p[2].r, p[3].r, p[4].r, p[5].r});
    std::tie(low, high) = std::minmax({p[0].z, p[1].z, p[2].z, p[3].z, p[4].z, p[5].z});
    if (map.straight()) return;
    constexpr double bulge = 0.15;
    const double across = bulge * (right - left), up = bulge * (high - low);
    left -= across;
    right += across;
    low -= up;
    high += up;
  }
};

/// The power density comes from the field at the point: the nodal values of a LocalHeat,
/// interpolated by a parabola, would become negative beside a thin skin.
float celsius_at(const LocalHeat& heat, std::size_t t, const std::array<double, 2>& s) {
  const auto n = shape_values(s[0], s[1]);
  double kelvin = 0.0;
  for (std::size_t k = 0; k < 6; ++k) kelvin += n[static_cast<Eigen::Index>(k)] * heat.kelvin[t][k];
  return static_cast<float>(kelvin - zero_celsius);
}

/// |B| in air straight between the corners: what is left of the jumps at mid-edge nodes would show
/// as waves.
double air_flux_at(const SampledField& of, std::size_t t, const std::array<double, 2>& s) {
  const std::array<double, 3> share{1.0 - s[0] - s[1], s[0], s[1]};
  std::complex<double> r, z;
  for (std::size_t k = 0; k < 3; ++k) {
    const auto& flux = (*of.air_flux)[static_cast<std::size_t>(of.mesh.triangles[t][k])];
    r += share[k] * flux[0];
    z += share[k] * flux[1];
  }
  return std::sqrt(std::norm(r) + std::norm(z));
}

/// Takes what is asked at a place in a triangle into sample `i`. Air carries no current.
void take_sample(const SampledField& of, const FieldInTriangle& field, std::size_t t,
                 const std::array<double, 2>& s, std::size_t i, FieldSamples& out) {
  const bool air = of.mesh.region[t] == 0;
  out.region[i] = of.mesh.region[t];
  if (air && !of.air_wanted) return;
  if (air && of.air_flux != nullptr) {
    out.flux_rms[i] = static_cast<float>(air_flux_at(of, t, s));
    return;
  }
  if (!air && of.heat != nullptr) out.celsius[i] = celsius_at(*of.heat, t, s);
  const FieldPoint value = field.at(s[0], s[1]);
  out.flux_rms[i] = static_cast<float>(value.flux_rms());
  out.power_density[i] = static_cast<float>(value.power_density);
  out.current_rms[i] = static_cast<float>(std::abs(value.current));
}

void sample_triangle(const SampledField& of, std::size_t t, const SampleGrid& grid,
                     FieldSamples& out) {
  const FieldInTriangle field(of.mesh, of.field, t);
  const Box box(field.map());
  const Range across =
      pixels(box.left - grid.left, box.right - grid.left, grid.across, out.columns);
  const Range down = pixels(grid.top - box.high, grid.top - box.low, grid.down, out.rows);
  for (int row = down.from; row < down.to; ++row) {
    for (int column = across.from; column < across.to; ++column) {
      const std::size_t i = out.index(column, row);
      if (out.region[i] >= 0) continue;
      const Point place{grid.left + (column + 0.5) * grid.across,
                        grid.top - (row + 0.5) * grid.down};
      if (const auto s = field.map().reference_of(place)) take_sample(of, field, t, *s, i, out);
    }
  }
}

}  // namespace

std::size_t FieldSamples::index(int column, int row) const {
  return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
         static_cast<std::size_t>(column);
}

NodalFlux mean_flux_in_air(const Mesh& mesh, const FieldSolution& field) {
  constexpr std::array<std::array<double, 2>, 6> places{
      {{0, 0}, {1, 0}, {0, 1}, {.5, 0}, {.5, .5}, {0, .5}}};
  NodalFlux flux(mesh.nodes.size());
  std::vector<double> weight(mesh.nodes.size(), 0.0);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != 0) continue;
    const TrianglePoints p = triangle_points(mesh, t);
    const double area =
        std::abs((p[1].r - p[0].r) * (p[2].z - p[0].z) - (p[2].r - p[0].r) * (p[1].z - p[0].z));
    const FieldInTriangle inside(mesh, field, t);
    for (std::size_t k = 0; k < 6; ++k) {
      const FieldPoint here = inside.at(places[k][0], places[k][1]);
      const auto node = static_cast<std::size_t>(mesh.triangles[t][k]);
      flux[node][0] += area * here.flux_r;
      flux[node][1] += area * here.flux_z;
      weight[node] += area;
    }
  }
  for (std::size_t i = 0; i < flux.size(); ++i)
    if (weight[i] > 0.0)
      for (auto& part : flux[i]) part /= weight[i];
  return flux;
}

FieldSamples sample_grid(const SampledField& of, const SampleGrid& grid) {
  assert(grid.across > 0.0 && grid.down > 0.0 && grid.columns > 0 && grid.rows > 0);
  FieldSamples out;
  out.columns = grid.columns;
  out.rows = grid.rows;
  const auto count = static_cast<std::size_t>(out.columns) * static_cast<std::size_t>(out.rows);
  out.region.assign(count, -1);
  out.flux_rms.assign(count, 0.0F);
  out.power_density.assign(count, 0.0F);
  out.current_rms.assign(count, 0.0F);
  if (of.heat != nullptr) out.celsius.assign(count, 0.0F);
  for (std::size_t t = 0; t < of.mesh.triangles.size(); ++t) sample_triangle(of, t, grid, out);
  return out;
}

FieldSamples sample_field(const SampledField& of, const Window& window, double step) {
  assert(step > 0.0 && window.radius > 0.0 && window.top > window.bottom);
  return sample_grid(
      of, {0.0, window.top, step, step,
           std::max(1, static_cast<int>(std::lround(window.radius / step))),
           std::max(1, static_cast<int>(std::lround((window.top - window.bottom) / step)))});
}

double quantile(std::vector<float> values, double share) {
  std::erase_if(values, [](float v) { return v <= 0.0F; });
  if (values.empty()) return 0.0;
  const auto at =
      values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), at, values.end());
  return static_cast<double>(*at);
}

}  // namespace cw
