#include "mesh/planar/point.hpp"

#include <cmath>

namespace cw {

double distance(Point a, Point b) {
  return std::hypot(a.r - b.r, a.z - b.z);
}

double cross(Point a, Point b) {
  return a.r * b.z - a.z * b.r;
}

double dot(Point a, Point b) {
  return a.r * b.r + a.z * b.z;
}

}  // namespace cw
