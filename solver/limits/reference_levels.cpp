#include "solver/limits/reference_levels.hpp"

#include <algorithm>

namespace cw {
namespace {

double public_2010(double f) {
  if (f < 8) return 4e-2 / (f * f);
  if (f < 25) return 5e-3 / f;
  if (f < 400) return 2e-4;
  if (f < 3e3) return 0.08 / f;
  return 2.7e-5;
}

double occupational_2010(double f) {
  if (f < 8) return 0.2 / (f * f);
  if (f < 25) return 2.5e-2 / f;
  if (f < 300) return 1e-3;
  if (f < 3e3) return 0.3 / f;
  return 1e-4;
}

}  // namespace

std::vector<ReferenceLevel> reference_levels(Frequency frequency) {
  const double f = frequency.hertz;
  if (f < 1 || f > 10e6) return {};
  std::vector<ReferenceLevel> levels{{"ICNIRP 2010, general public", public_2010(f), true},
                                     {"ICNIRP 2010, occupational", occupational_2010(f), false}};
  if (f >= 100e3) {
    levels.push_back({"ICNIRP 2020 local, general public", mu0 * 4.9 / (f / 1e6), true});
    levels.push_back({"ICNIRP 2020 local, occupational", mu0 * 10.8 / (f / 1e6), false});
  }
  std::stable_sort(
      levels.begin(), levels.end(),
      [](const ReferenceLevel& a, const ReferenceLevel& b) { return a.flux_rms < b.flux_rms; });
  return levels;
}

}  // namespace cw
