#include "postproc/picture/field_samples.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "solver/fem/triangle.hpp"

namespace cw {

namespace {

/// Pixels [from, to) whose centres may lie in low..high.
struct Range {
  int from, to;
};

Range pixels(double low, double high, double step, int count) {
  const double bulge = 0.15 * (high - low);  // a curved side may leave the box of its nodes
  return {std::clamp(static_cast<int>(std::floor((low - bulge) / step)), 0, count),
          std::clamp(static_cast<int>(std::ceil((high + bulge) / step)), 0, count)};
}

/// Sizes and places of the pixels.
struct Grid {
  Window window;
  double step;
};

void put_heat(const LocalHeat& heat, std::size_t t, const std::array<double, 2>& s,
              std::size_t pixel, FieldSamples& out) {
  const auto n = shape_values(s[0], s[1]);
  double kelvin = 0.0, power = 0.0;
  for (std::size_t k = 0; k < 6; ++k) {
    kelvin += n[static_cast<Eigen::Index>(k)] * heat.kelvin[t][k];
    power += n[static_cast<Eigen::Index>(k)] * heat.power_density[t][k];
  }
  out.celsius[pixel] = static_cast<float>(kelvin - zero_celsius);
  // A parabola through nodes may dip below 0 where there is hardly any.
  constexpr double hardly_any = 1.0;
  const bool any = power != 0.0;
  out.power_density[pixel] = any ? static_cast<float>(std::max(power, hardly_any)) : 0.0F;
}

void sample_triangle(const SampledField& of, std::size_t t, const Grid& grid, FieldSamples& out) {
  const Mesh& mesh = of.mesh;
  const TrianglePoints p = triangle_points(mesh, t);
  const auto [left, right] = std::minmax({p[0].r, p[1].r, p[2].r, p[3].r, p[4].r, p[5].r});
  const auto [low, high] = std::minmax({p[0].z, p[1].z, p[2].z, p[3].z, p[4].z, p[5].z});
  const Range across = pixels(left, right, grid.step, out.columns);
  const Range down = pixels(grid.window.top - high, grid.window.top - low, grid.step, out.rows);
  for (int row = down.from; row < down.to; ++row) {
    for (int column = across.from; column < across.to; ++column) {
      const std::size_t i = out.index(column, row);
      if (out.region[i] >= 0) continue;
      const Point place{(column + 0.5) * grid.step, grid.window.top - (row + 0.5) * grid.step};
      const auto s = reference_point(p, place);
      if (!s) continue;
      const FieldPoint value = field_at(mesh, of.field, t, (*s)[0], (*s)[1]);
      out.region[i] = mesh.region[t];
      out.flux_rms[i] = static_cast<float>(value.flux_rms());
      out.power_density[i] = static_cast<float>(value.power_density);
      out.current_rms[i] = static_cast<float>(std::abs(value.current));
      if (of.heat != nullptr) put_heat(*of.heat, t, *s, i, out);
    }
  }
}

}  // namespace

std::size_t FieldSamples::index(int column, int row) const {
  return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
         static_cast<std::size_t>(column);
}

FieldSamples sample_field(const SampledField& of, const Window& window, double step) {
  assert(step > 0.0 && window.radius > 0.0 && window.top > window.bottom);
  FieldSamples out;
  out.columns = std::max(1, static_cast<int>(std::lround(window.radius / step)));
  out.rows = std::max(1, static_cast<int>(std::lround((window.top - window.bottom) / step)));
  const auto count = static_cast<std::size_t>(out.columns) * static_cast<std::size_t>(out.rows);
  out.region.assign(count, -1);
  out.flux_rms.assign(count, 0.0F);
  out.power_density.assign(count, 0.0F);
  out.current_rms.assign(count, 0.0F);
  if (of.heat != nullptr) out.celsius.assign(count, 0.0F);
  for (std::size_t t = 0; t < of.mesh.triangles.size(); ++t)
    sample_triangle(of, t, {window, step}, out);
  return out;
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
