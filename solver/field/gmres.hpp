#pragma once

#include <Eigen/Core>
#include <cmath>
#include <functional>

namespace cw {

struct GmresOutcome {
  Eigen::VectorXcd x;
  int products = 0;
  double reduction = 1.0;  ///< |residual| / |right-hand side|, both preconditioned
};

struct GmresLimits {
  double tolerance = 1e-2;
  int products = 40;
};

/// Solves A x = b from x = 0 for an operator that is linear only over the reals: complex vectors
/// represent their real and imaginary parts, products of vectors are Re(v^H w). Not restarted.
/// Source: Y. Saad, M. H. Schultz, SIAM J. Sci. Stat. Comput. 7 (1986) 856 (from memory).
GmresOutcome gmres(const std::function<Eigen::VectorXcd(const Eigen::VectorXcd&)>& apply,
                   const Eigen::VectorXcd& b, const GmresLimits& limits);

}  // namespace cw
