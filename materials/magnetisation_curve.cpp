#include "materials/magnetisation_curve.hpp"

#include <fmt/format.h>

namespace cw {

std::vector<std::string> faults_of(const MagnetisationCurve& curve) {
  std::vector<std::string> out;
  const auto& h = curve.field;
  const auto& b = curve.flux_density;
  if (h.size() < 3) {
    out.push_back(fmt::format("found {} points; allowed: 3 or more, from (0, 0) on", h.size()));
    return out;
  }
  if (h.front() != 0.0 || b.front() != 0.0) {
    out.push_back(fmt::format(
        "found a first point H = {:.6g} A/m, B = {:.6g} T; allowed: (0, 0); write it first",
        h.front(), b.front()));
  }
  for (std::size_t i = 1; i < h.size(); ++i) {
    const double dh = h[i] - h[i - 1], db = b[i] - b[i - 1];
    if (dh <= 0.0) {
      out.push_back(fmt::format(
          "found H = {:.6g} A/m after {:.6g} A/m; allowed: H rising from point to point", h[i],
          h[i - 1]));
    } else if (db < 0.999 * mu0 * dh) {  // rounding in a printed table may let J fall slightly
      out.push_back(fmt::format(
          "found B = {:.6g} T at H = {:.6g} A/m after {:.6g} T: flatter than air; allowed: a rise "
          "of at least mu0 times that of H, here {:.6g} T",
          b[i], h[i], b[i - 1], mu0 * dh));
    }
  }
  return out;
}

std::optional<Magnetisation> froehlich_fit(const MagnetisationCurve& curve) {
  double n = 0.0, sx = 0.0, sy = 0.0, sxx = 0.0, sxy = 0.0;
  for (std::size_t i = 0; i < curve.field.size(); ++i) {
    const double x = curve.field[i], j = curve.flux_density[i] - mu0 * x;
    if (x <= 0.0 || j <= 0.0) continue;
    const double y = x / j;
    n += 1.0;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  const double spread = n * sxx - sx * sx;
  if (n < 2.0 || spread <= 0.0) return std::nullopt;
  const double slope = (n * sxy - sx * sy) / spread, base = (sy - slope * sx) / n;
  if (slope <= 0.0 || base <= 0.0) return std::nullopt;
  Magnetisation m;
  const double js = 1.0 / slope, a = base / slope;
  m.saturation = {js, js, js, curve.source};
  m.half_field = {a, a, a, curve.source};
  m.temperature_law = curve.source;
  return m;
}

}  // namespace cw
