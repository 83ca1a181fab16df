#include "solver/circuit/filaments.hpp"

#include <cmath>
#include <numbers>

#include "materials/quantity.hpp"

namespace cw {
namespace {

Vector3 minus(const Vector3& a, const Vector3& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
double dot(const Vector3& a, const Vector3& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
Vector3 cross(const Vector3& a, const Vector3& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

}  // namespace

Vector3 flux_of_filaments(const std::vector<Filament>& filaments, const Vector3& at) {
  Vector3 sum{};
  for (const Filament& f : filaments) {
    const Vector3 along = minus(f.to, f.from), a = minus(at, f.from), b = minus(at, f.to);
    const Vector3 turned = cross(along, a);
    const double square = dot(turned, turned), length = std::sqrt(dot(along, along));
    if (square <= 1e-24 * length * length) continue;  // on the line of the wire
    const double angles =
        dot(along, a) / std::sqrt(dot(a, a)) - dot(along, b) / std::sqrt(dot(b, b));
    const double scale = f.share * mu0 / (4 * std::numbers::pi) * angles / square;
    for (std::size_t k = 0; k < 3; ++k) sum[k] += scale * turned[k];
  }
  return sum;
}

}  // namespace cw
