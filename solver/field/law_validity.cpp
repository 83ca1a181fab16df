#include "solver/field/law_validity.hpp"

#include <algorithm>
#include <array>

namespace cw {

namespace {

struct Row {
  double depths, lowest, highest;
};

/// Error of the power in a bar by radius over skin depth, found at 5, 10, 20, 50, 100 and 200 kA/m
/// peak in steel of Js 2.08 T, a 2 kA/m; evaluated with the time-domain solver of the tests.
constexpr std::array<Row, 14> bar{{{0.5, -0.62, -0.23},
                                   {0.7, -0.49, -0.17},
                                   {0.9, -0.36, -0.10},
                                   {1.1, -0.23, -0.04},
                                   {1.3, -0.10, 0.01},
                                   {1.4, -0.04, 0.02},
                                   {1.5, 0.01, 0.04},
                                   {1.6, 0.03, 0.053},
                                   {1.7, 0.02, 0.05},
                                   {1.8, 0.02, 0.032},
                                   {1.9, 0.01, 0.017},
                                   {2.0, 0.003, 0.011},
                                   {3.0, -0.006, 0.004},
                                   {5.0, -0.009, 0.003}}};
constexpr double valid_from = 1.9;
constexpr double nearly_linear = 0.9;

}  // namespace

LawValidity law_validity(double half_thickness, double skin_depth, double permeability_left) {
  LawValidity v;
  v.depths = half_thickness / skin_depth;
  if (permeability_left > nearly_linear) return v;
  v.valid = v.depths >= valid_from;
  const auto* const above =
      std::find_if(bar.begin(), bar.end(), [&](const Row& r) { return r.depths >= v.depths; });
  if (above == bar.begin() || above == bar.end()) {
    const Row& end = above == bar.end() ? bar.back() : bar.front();
    v.lowest_error = end.lowest;
    v.highest_error = end.highest;
    return v;
  }
  const Row& a = *(above - 1);
  const double t = (v.depths - a.depths) / (above->depths - a.depths);
  v.lowest_error = a.lowest + t * (above->lowest - a.lowest);
  v.highest_error = a.highest + t * (above->highest - a.highest);
  return v;
}

}  // namespace cw
