#include "solver/coupled/load_slices.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

LoadSlices::LoadSlices(const ThermalMesh& mesh)
    : of_(mesh.unknowns()), slices_(mesh.body.size() * count) {
  const auto bodies = mesh.body.size();
  std::vector<double> low(bodies, 1e300), high(bodies, -1e300);
  for (const auto& e : mesh.elements)
    for (const int i : e.unknown) {
      low[e.body] = std::min(low[e.body], mesh.at[i].z);
      high[e.body] = std::max(high[e.body], mesh.at[i].z);
    }
  for (const auto& e : mesh.elements)
    for (const int i : e.unknown) {
      const double share = (mesh.at[i].z - low[e.body]) / (high[e.body] - low[e.body]);
      of_[i] =
          static_cast<int>(e.body) * count + std::min(count - 1, static_cast<int>(share * count));
    }
}

double LoadSlices::distance(const Eigen::VectorXd& a, const Eigen::VectorXd& b,
                            double scale) const {
  std::vector<double> sum(slices_);
  double all = 0.0, each = 0.0;
  for (std::size_t i = 0; i < of_.size(); ++i) {
    const double off = a[static_cast<Eigen::Index>(i)] - b[static_cast<Eigen::Index>(i)];
    sum[of_[i]] += off;
    all += off;
  }
  for (const double s : sum) each += std::abs(s);
  return scale > 0 ? std::max(std::abs(all), 0.5 * each) / scale : 0.0;
}

}  // namespace cw
