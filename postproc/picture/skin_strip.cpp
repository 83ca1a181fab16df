#include "postproc/picture/skin_strip.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"

namespace cw {

namespace {

constexpr double strip_width = 90.0, thinnest_seen = 1.5;  // [points]
constexpr double strip_pixels = 2.0;                       // pixels per point

}  // namespace

std::optional<SkinStrip> thin_skin(const PictureInput& input, const Frame& frame) {
  const Mesh& mesh = input.mesh;
  const RegionId work = mesh.find_region("workpiece");
  if (work <= 0) return {};
  double most = 0.0, skin = 0.0, surface = 0.0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != work) continue;
    for (const auto& [x, y] : {std::pair{0.0, 0.0}, {1.0, 0.0}, {0.0, 1.0}}) {
      const FieldPoint p = field_at(mesh, input.field, t, x, y);
      surface = std::max(surface, p.at.r);
      if (p.power_density <= most) continue;
      most = p.power_density;
      const double sigma = std::norm(p.current) / p.power_density;
      skin = std::sqrt(2.0 * input.field.reluctivity_of(mesh, t) /
                       (input.field.frequency.omega() * sigma));
    }
  }
  if (most <= 0.0 || skin * frame.scale >= thinnest_seen) return {};
  return SkinStrip{surface, std::min(1e-3 * round_up(4e3 * skin), surface)};
}

FieldSamples skin_samples(const PictureInput& input, const Frame& frame, const SkinStrip& strip) {
  const int columns = static_cast<int>(strip_pixels * strip_width);
  const double down = 1.0 / (strip_pixels * frame.scale);
  const int rows =
      std::max(1, static_cast<int>(std::lround((frame.window.top - frame.window.bottom) / down)));
  FieldSamples samples = sample_grid(
      {input.mesh, input.field},
      {strip.surface - strip.depth, frame.window.top, strip.depth / columns, down, columns, rows});
  const RegionId work = input.mesh.find_region("workpiece");
  for (std::size_t i = 0; i < samples.region.size(); ++i)
    if (samples.region[i] != work) samples.power_density[i] = 0.0F;
  return samples;
}

double strip_top(const FieldSamples& skin) {
  const double usual = quantile(skin.power_density, 0.95);
  return usual > 0.0 ? std::pow(10.0, std::ceil(std::log10(usual) - 0.05)) : 0.0;
}

void draw_skin_strip(Canvas& canvas, const Frame& frame, const SkinStrip& strip, double left,
                     const Raster& seen) {
  canvas.items.emplace_back(Pasted{{left, frame.top}, strip_width, frame.height, seen});
  const Stroke thin{faint_ink, 0.8, {}};
  canvas.rectangle({left, frame.top}, strip_width, frame.height, {{}, true, {}, thin});
  for (const double share : {0.0, 0.5, 1.0}) {
    const double x = left + (1.0 - share) * strip_width;
    canvas.line({{x, frame.bottom()}, {x, frame.bottom() + 5.0}}, thin);
    canvas.text({x, frame.bottom() + 17.0}, figure_short(1e3 * share * strip.depth),
                {11.0, Anchor::middle, faint_ink});
  }
  const double middle = left + 0.5 * strip_width, times = strip_width / (strip.depth * frame.scale);
  canvas.text({middle, frame.bottom() + 36.0}, "depth below the surface, mm",
              {12.0, Anchor::middle, ink});
  canvas.text({middle, frame.bottom() + 53.0},
              fmt::format("magnified {} times across", figure_short(times)),
              {11.0, Anchor::middle, faint_ink});
}

}  // namespace cw
