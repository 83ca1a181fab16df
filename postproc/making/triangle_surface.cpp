#include "postproc/making/triangle_surface.hpp"

#include <bit>
#include <cmath>

namespace cw {

namespace {

using Vector = std::array<double, 3>;

Vector difference(const Vector& a, const Vector& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}

Vector cross_product(const Vector& a, const Vector& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

double scalar_product(const Vector& a, const Vector& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

void add_number(std::string& bytes, std::uint32_t value) {
  for (int shift = 0; shift < 32; shift += 8)
    bytes.push_back(static_cast<char>((value >> shift) & 0xffU));
}

void add_vector(std::string& bytes, const Vector& v, double scale) {
  for (const double x : v)
    add_number(bytes, std::bit_cast<std::uint32_t>(static_cast<float>(scale * x)));
}

}  // namespace

double volume_of(const TriangleSurface& surface) {
  double volume = 0.0;
  for (const auto& [a, b, c] : surface.triangles)
    volume +=
        scalar_product(surface.points[a], cross_product(surface.points[b], surface.points[c])) /
        6.0;
  return volume;
}

std::string binary_stl(const TriangleSurface& surface) {
  std::string bytes = "coilwright, binary STL in millimetres";
  bytes.resize(80, ' ');
  add_number(bytes, static_cast<std::uint32_t>(surface.triangles.size()));
  for (const auto& [a, b, c] : surface.triangles) {
    const Vector &p = surface.points[a], &q = surface.points[b], &s = surface.points[c];
    const Vector normal = cross_product(difference(q, p), difference(s, p));
    add_vector(bytes, normal, 1.0 / std::sqrt(scalar_product(normal, normal)));
    for (const Vector& corner : {p, q, s}) add_vector(bytes, corner, 1e3);
    bytes.append(2, '\0');
  }
  return bytes;
}

}  // namespace cw
