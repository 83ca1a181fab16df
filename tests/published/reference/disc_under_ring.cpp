#include "tests/published/reference/disc_under_ring.hpp"

#include <math.h>

#include <Eigen/LU>
#include <algorithm>

#include "tests/published/reference/skin.hpp"

namespace cw::reference {
namespace {

/// P_0 ... P_{count-1} at t.
Eigen::VectorXd legendre(double t, int count) {
  Eigen::VectorXd p = Eigen::VectorXd::Ones(std::max(count, 2));
  p[1] = t;
  for (int n = 2; n < count; ++n) {
    p[n] = ((2 * n - 1) * t * p[n - 1] - (n - 1) * p[n - 2]) / n;
  }
  return p.head(count);
}

/// Patches between `low` and `high` [m], thin ones at `high` and, if `both`, at `low`.
std::vector<double> patch_edges(double low, double high, double thin, bool both) {
  std::vector<double> edges{low, high};
  const double half = (high - low) / (both ? 2 : 1);
  for (double depth = thin; depth < 0.8 * half && depth < 10 * thin; depth *= 3) {
    edges.push_back(high - depth);
    if (both) edges.push_back(low + depth);
  }
  std::sort(edges.begin(), edges.end());
  return edges;
}

/// The same, halved until no patch is wider than `widest(low, high)`.
template <class F>
std::vector<double> halved(const std::vector<double>& edges, const F& widest) {
  std::vector<double> split{edges.front()};
  for (std::size_t i = 1; i < edges.size(); ++i) {
    std::vector<double> ahead{edges[i]};
    while (!ahead.empty()) {
      const double from = split.back(), to = ahead.back();
      if (to - from > widest(from, to)) {
        ahead.push_back(0.5 * (from + to));
      } else {
        split.push_back(to);
        ahead.pop_back();
      }
    }
  }
  return split;
}

/// exp(-y) i_m(y), m = 0 ... last: half the integral of exp(-y (1 - t)) P_m(t) over [-1, 1].
Eigen::VectorXd fading(double y, int last) {
  Eigen::VectorXd f(last + 1);
  f[0] = -std::expm1(-2 * y) / (2 * y);
  if (y > 100) {
    f[1] = 0.5 * (1 + std::exp(-2 * y)) / y - f[0] / y;
    for (int m = 1; m < last; ++m) f[m + 1] = f[m - 1] - (2 * m + 1) / y * f[m];
    return f;
  }
  Eigen::VectorXd ratio(last + 1);
  double next = 0.0;
  for (int m = last + 40 + static_cast<int>(2 * y); m >= 0; --m) {
    next = 1 / ((2 * m + 3) / y + next);
    if (m <= last) ratio[m] = next;
  }
  for (int m = 0; m < last; ++m) f[m + 1] = f[m] * ratio[m];
  return f;
}

/// Two polynomials of one patch, slid apart by 1 + u in both directions, as Legendre series in u:
/// then the double integral of P_q P_q' exp(-y |t - t'|) is a sum of fading().
Eigen::VectorXd slid_apart(int q, int other, int count) {
  const GaussRule& rule = gauss_rule(2 * count);
  Eigen::VectorXd series = Eigen::VectorXd::Zero(2 * count);
  for (std::size_t i = 0; i < rule.node.size(); ++i) {
    const double u = 2 * rule.node[i] - 1;
    const auto both = [&](double t) {
      const Eigen::VectorXd a = legendre(t, count), b = legendre(t + 1 + u, count);
      return a[q] * b[other] + a[other] * b[q];
    };
    series += 2 * rule.weight[i] * integrate(both, -1.0, -u, count) * legendre(u, 2 * count);
  }
  for (int m = 0; m < 2 * count; ++m) series[m] *= 0.5 * (2 * m + 1) * (m % 2 == 0 ? 1 : -1);
  return series;
}

/// The polynomials of all patches, in r or in z.
struct Patches {
  std::vector<double> edges;
  int degree;  ///< polynomials on each
  [[nodiscard]] int patches() const { return static_cast<int>(edges.size()) - 1; }
  [[nodiscard]] int count() const { return patches() * degree; }
  [[nodiscard]] double half(int k) const { return 0.5 * (edges[k + 1] - edges[k]); }
};

/// Integral of r J1(alpha r) against every polynomial.
Eigen::VectorXd radial_waves(const Patches& r, double alpha) {
  Eigen::VectorXd wave = Eigen::VectorXd::Zero(r.count());
  for (int k = 0; k < r.patches(); ++k) {
    const int panels = 1 + static_cast<int>(alpha * r.half(k) / 15);
    const GaussRule& rule = gauss_rule(20 + r.degree);
    for (int panel = 0; panel < panels; ++panel) {
      for (std::size_t i = 0; i < rule.node.size(); ++i) {
        const double share = (panel + rule.node[i]) / panels;
        const double at = r.edges[k] + 2 * r.half(k) * share;
        wave.segment(k * r.degree, r.degree) += 2 * r.half(k) / panels * rule.weight[i] * at *
                                                ::j1(alpha * at) *
                                                legendre(2 * share - 1, r.degree);
      }
    }
  }
  return wave;
}

/// Integral of exp(alpha z) against every polynomial, z <= 0.
Eigen::VectorXd axial_waves(const Patches& z, double alpha) {
  Eigen::VectorXd wave(z.count());
  for (int k = 0; k < z.patches(); ++k) {
    wave.segment(k * z.degree, z.degree) =
        2 * z.half(k) * std::exp(alpha * z.edges[k + 1]) * fading(alpha * z.half(k), z.degree - 1);
  }
  return wave;
}

/// Double integral of exp(-alpha |z - z'|) against all pairs of polynomials.
class AxialKernel {
 public:
  explicit AxialKernel(const Patches& z) : z_(z), slid_(z.degree) {
    for (int q = 0; q < z.degree; ++q) {
      for (int other = 0; other < z.degree; ++other) {
        slid_[q].push_back(slid_apart(q, other, z.degree));
      }
    }
  }

  [[nodiscard]] Eigen::MatrixXd at(double alpha) const {
    Eigen::MatrixXd kernel(z_.count(), z_.count());
    for (int k = 0; k < z_.patches(); ++k) {
      const Eigen::VectorXd f = fading(alpha * z_.half(k), 2 * z_.degree - 1);
      for (int q = 0; q < z_.degree; ++q) {
        for (int other = 0; other < z_.degree; ++other) {
          kernel(k * z_.degree + q, k * z_.degree + other) =
              2 * z_.half(k) * z_.half(k) * slid_[q][other].dot(f);
        }
      }
      for (int above = k + 1; above < z_.patches(); ++above) fill(kernel, k, above, alpha);
    }
    return kernel;
  }

 private:
  void fill(Eigen::MatrixXd& kernel, int k, int above, double alpha) const {
    const int n = z_.degree;
    const double apart = z_.edges[above] - z_.edges[k + 1];
    Eigen::VectorXd up = 2 * z_.half(k) * fading(alpha * z_.half(k), n - 1);
    Eigen::VectorXd down = 2 * z_.half(above) * fading(alpha * z_.half(above), n - 1);
    for (int q = 1; q < n; q += 2) down[q] = -down[q];
    const Eigen::MatrixXd block = std::exp(-alpha * apart) * up * down.transpose();
    kernel.block(k * n, above * n, n, n) = block;
    kernel.block(above * n, k * n, n, n) = block.transpose();
  }

  Patches z_;
  std::vector<std::vector<Eigen::VectorXd>> slid_;
};

/// Integral of r P_p P_p', and of P_q P_q'.
Eigen::MatrixXd overlap(const Patches& x, bool round) {
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(x.count(), x.count());
  const GaussRule& rule = gauss_rule(x.degree + 1);
  for (int k = 0; k < x.patches(); ++k) {
    for (std::size_t i = 0; i < rule.node.size(); ++i) {
      const Eigen::VectorXd p = legendre(2 * rule.node[i] - 1, x.degree);
      const double at = round ? x.edges[k] + 2 * x.half(k) * rule.node[i] : 1.0;
      matrix.block(k * x.degree, k * x.degree, x.degree, x.degree) +=
          2 * x.half(k) * rule.weight[i] * at * p * p.transpose();
    }
  }
  return matrix;
}

/// Wave numbers and weights of the Hankel integral.
struct Spectrum {
  std::vector<double> alpha, weight;
};

Spectrum spectrum(double reach, double largest) {
  Spectrum s;
  const auto edges = graded_edges(4 / largest, reach);
  const GaussRule& rule = gauss_rule(8);
  for (std::size_t k = 0; k + 1 < edges.size(); ++k) {
    for (std::size_t i = 0; i < rule.node.size(); ++i) {
      s.alpha.push_back(edges[k] + (edges[k + 1] - edges[k]) * rule.node[i]);
      s.weight.push_back((edges[k + 1] - edges[k]) * rule.weight[i]);
    }
  }
  return s;
}

/// What the integral equation is made of, over radial times axial polynomials.
struct Equation {
  Eigen::MatrixXd inductance;
  Eigen::VectorXd source;
};

Equation assemble(const Patches& r, const Patches& z, const std::vector<Filament>& rings,
                  const Spectrum& s) {
  const auto waves = static_cast<Eigen::Index>(s.alpha.size());
  Eigen::MatrixXd radial(r.count(), waves), pairs(z.count() * z.count(), waves);
  const AxialKernel kernel(z);
  Equation e{Eigen::MatrixXd(r.count() * z.count(), r.count() * z.count()),
             Eigen::VectorXd::Zero(r.count() * z.count())};
  for (Eigen::Index i = 0; i < waves; ++i) {
    const double alpha = s.alpha[i];
    radial.col(i) = radial_waves(r, alpha);
    pairs.col(i) = kPi * kMu0 * s.weight[i] * kernel.at(alpha).reshaped();
    double ring = 0.0;
    for (const Filament& f : rings) {
      ring += f.weight * f.r * ::j1(alpha * f.r) * std::exp(-alpha * f.z);
    }
    const Eigen::VectorXd axial = axial_waves(z, alpha);
    for (int q = 0; q < z.count(); ++q) {
      e.source.segment(q * r.count(), r.count()) +=
          kPi * kMu0 * s.weight[i] * ring * axial[q] * radial.col(i);
    }
  }
  for (int q = 0; q < z.count(); ++q) {
    for (int other = 0; other <= q; ++other) {
      const Eigen::MatrixXd block =
          radial * pairs.row(q * z.count() + other).asDiagonal() * radial.transpose();
      e.inductance.block(q * r.count(), other * r.count(), r.count(), r.count()) = block;
      e.inductance.block(other * r.count(), q * r.count(), r.count(), r.count()) = block;
    }
  }
  return e;
}

}  // namespace

LoadAnswer filaments_over_disc(const std::vector<Filament>& rings, const FlatDisc& disc,
                               double frequency, const DiscOrder& order) {
  const double w = 2 * kPi * frequency;
  const double thin = 3 * skin_depth({1 / disc.conductivity}, frequency);
  double largest = disc.radius;
  for (const Filament& f : rings) largest = std::max(largest, f.r);
  // The field of a ring is smooth over a patch no wider than 2.5 times the distance to it.
  const auto smooth = [&](double low, double high) {
    double nearest = disc.radius;
    for (const Filament& f : rings) {
      nearest = std::min(nearest, std::hypot(f.z, f.r - std::clamp(f.r, low, high)));
    }
    return 2.5 * nearest;
  };
  const auto within_skin = [&](double, double) { return 1.5 * thin; };
  const Patches r{halved(patch_edges(disc.bore, disc.radius, thin, disc.bore > 0), smooth),
                  order.radial};
  const Patches z{halved(patch_edges(-disc.thickness, 0, thin, true), within_skin), order.axial};
  const Equation e = assemble(r, z, rings, spectrum(order.reach / disc.radius, largest));

  const Eigen::MatrixXd across = overlap(r, true), along = overlap(z, false);
  Eigen::MatrixXcd matrix = kJ * w * e.inductance;
  Eigen::MatrixXd resistance = Eigen::MatrixXd::Zero(matrix.rows(), matrix.cols());
  for (int q = 0; q < z.count(); ++q) {
    resistance.block(q * r.count(), q * r.count(), r.count(), r.count()) =
        2 * kPi / disc.conductivity * along(q, q) * across;
  }
  matrix += resistance;
  const Eigen::VectorXcd rhs = -kJ * w * e.source;
  const Eigen::VectorXcd current = matrix.partialPivLu().solve(rhs);
  const Complex change = -(rhs.transpose() * current)(0);
  const double power = (current.adjoint() * (resistance * current))(0).real();
  return {change, {power}};
}

}  // namespace cw::reference
