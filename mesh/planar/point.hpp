#pragma once

namespace cw {

/// A point of the (r, z) half-plane [m], r >= 0.
struct Point {
  double r = 0.0, z = 0.0;
  friend constexpr Point operator+(Point a, Point b) { return {a.r + b.r, a.z + b.z}; }
  friend constexpr Point operator-(Point a, Point b) { return {a.r - b.r, a.z - b.z}; }
  friend constexpr Point operator*(double s, Point a) { return {s * a.r, s * a.z}; }
  friend bool operator==(const Point&, const Point&) = default;
};

double distance(Point a, Point b);

/// Of the vectors from the origin: positive where `b` lies to the left of `a` [m2].
double cross(Point a, Point b);

double dot(Point a, Point b);

}  // namespace cw
