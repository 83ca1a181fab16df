#include "solver/circuit/loop_field.hpp"

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

std::array<double, 2> circular_loop_field(double radius, double r, double z) {
  const double sum = (radius + r) * (radius + r) + z * z,
               difference = (radius - r) * (radius - r) + z * z;
  const double k = std::sqrt(4 * radius * r / sum);
  const double first = std::comp_ellint_1(k), second = std::comp_ellint_2(k);
  const double scale = mu0 / (2 * std::numbers::pi * std::sqrt(sum));
  const double axial = scale * (first + second * (radius * radius - r * r - z * z) / difference);
  if (r < 1e-9 * radius) return {0.0, axial};
  const double radial =
      scale * z / r * (-first + second * (radius * radius + r * r + z * z) / difference);
  return {radial, axial};
}

Vector3 segment_field(const Vector3& from, const Vector3& to, const Vector3& at) {
  const Vector3 along = minus(to, from), a = minus(at, from), b = minus(at, to);
  const Vector3 side = cross(along, a);
  const double squared = dot(side, side), length = std::sqrt(dot(along, along));
  if (squared < 1e-24 * length * length) return {0, 0, 0};  // on the line itself
  const double cosines = dot(along, a) / (length * std::sqrt(dot(a, a))) -
                         dot(along, b) / (length * std::sqrt(dot(b, b)));
  const double distance = std::sqrt(squared) / length;
  const double scale = mu0 / (4 * std::numbers::pi * distance) * cosines / std::sqrt(squared);
  return {scale * side[0], scale * side[1], scale * side[2]};
}

Vector3 lead_loop_field(const LeadLoop& loop, const Vector3& at) {
  const double near = loop.start, far = loop.start + loop.length, half = loop.spacing / 2;
  const std::array<Vector3, 5> corner{
      {{near, 0, -half}, {far, 0, -half}, {far, 0, half}, {near, 0, half}, {near, 0, -half}}};
  Vector3 sum{0, 0, 0};
  for (std::size_t k = 0; k < 4; ++k) {
    const Vector3 part = segment_field(corner[k], corner[k + 1], at);
    for (std::size_t i = 0; i < 3; ++i) sum[i] += part[i];
  }
  return sum;
}

}  // namespace cw
