#include "solver/fem/factorisation.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <set>

#include "mesh/generate.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;

/// The stiffness and mass of a rod in a coil, on the numbering used for solving.
struct Problem {
  Mesh mesh;
  Dofs dofs;
  Pattern pattern;
  std::vector<double> stiffness, mass;
};

Problem small_problem() {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -.02}, {.01, .02}), .001});
  section.regions.push_back({"turn.1", Disc{{.02, 0}, .003, .002}, .0005});
  Problem p;
  p.mesh = generate_mesh(section);
  std::vector<char> fixed(p.mesh.nodes.size(), 0);
  for (const BorderEdge& e : p.mesh.border)
    if (e.side == Side::axis) fixed[e.from] = fixed[e.middle] = fixed[e.to] = 1;
  // Without open space round it: the circle at zero too.
  for (const BorderEdge& e : p.mesh.border) fixed[e.from] = fixed[e.middle] = fixed[e.to] = 1;
  p.dofs = number_dofs(p.mesh, fixed, {});
  p.pattern = make_pattern(p.mesh, p.dofs, {});
  assemble<Reluctance>(
      p.mesh, p.pattern, [](std::size_t, std::size_t) { return 1.0; }, p.stiffness);
  assemble<EddyConductance>(
      p.mesh, p.pattern,
      [&](std::size_t t, std::size_t) { return p.mesh.region[t] > 0 ? 1e4 : 0.0; }, p.mass);
  return p;
}

Eigen::VectorXcd multiply(const Problem& p, double omega, const Eigen::VectorXcd& x) {
  Eigen::VectorXcd y = Eigen::VectorXcd::Zero(x.size());
  for (int c = 0; c < p.pattern.size; ++c)
    for (int k = p.pattern.column_start[c]; k < p.pattern.column_start[c + 1]; ++k) {
      const Complex v{p.stiffness[k], omega * p.mass[k]};
      y[p.pattern.row[k]] += v * x[c];
      if (p.pattern.row[k] != c) y[c] += v * x[p.pattern.row[k]];
    }
  return y;
}

// Every free node has one unknown, every unknown one node.
TEST(Dofs, AreAPermutationOfTheFreeNodes) {
  const Problem p = small_problem();
  std::set<int> seen;
  for (const int d : p.dofs.of_node)
    if (d != Dofs::fixed) {
      EXPECT_TRUE(seen.insert(d).second);
    }
  EXPECT_EQ(static_cast<int>(seen.size()), p.dofs.count);
  EXPECT_EQ(*seen.begin(), 0);
  EXPECT_EQ(*seen.rbegin(), p.dofs.count - 1);
}

// Columns hold the upper triangle, rows rising, the diagonal last, and the entries of every
// triangle are found.
TEST(Pattern, IsASortedUpperTriangle) {
  const Problem p = small_problem();
  ASSERT_GT(p.pattern.size, 10);
  for (int c = 0; c < p.pattern.size; ++c) {
    const auto begin = p.pattern.row.begin() + p.pattern.column_start[c];
    const auto end = p.pattern.row.begin() + p.pattern.column_start[c + 1];
    ASSERT_LT(begin, end);
    EXPECT_TRUE(std::is_sorted(begin, end));
    EXPECT_EQ(*(end - 1), c);
  }
}

// The residual is at rounding, at one frequency after another with the same analysis, for several
// right-hand sides.
TEST(Factorisation, SolvesToRoundingAtEveryFrequency) {
  const Problem p = small_problem();
  Factorisation factorisation(p.pattern);
  const Eigen::MatrixXcd rhs = Eigen::MatrixXcd::Random(p.pattern.size, 3);
  for (const double omega : {0.0, 1e3, 1e6, 1e2}) {
    factorisation.compute(p.stiffness, p.mass, omega);
    const Eigen::MatrixXcd x = factorisation.solve(rhs);
    for (int k = 0; k < 3; ++k)
      EXPECT_LT((multiply(p, omega, x.col(k)) - rhs.col(k)).norm(), 1e-10 * rhs.col(k).norm())
          << omega;
  }
}

// In single precision the same to its rounding; the real one, of stiffness alone, to that of
// doubles, and it refuses a matrix that is not positive definite.
TEST(Factorisation, SinglePrecisionAndReal) {
  Problem p = small_problem();
  FactorisationOf<std::complex<float>> single(p.pattern);
  const Eigen::MatrixXcd rhs = Eigen::MatrixXcd::Random(p.pattern.size, 1);
  single.compute(p.stiffness, p.mass, 1e4);
  EXPECT_LT((multiply(p, 1e4, single.solve(rhs)) - rhs).norm(), 1e-3 * rhs.norm());
  FactorisationOf<double> real(p.pattern);
  real.compute(p.stiffness);
  const Eigen::MatrixXd x = real.solve(rhs.real());
  EXPECT_LT((multiply(p, 0.0, x.cast<Complex>()) - rhs.real()).norm(), 1e-10 * rhs.norm());
  for (double& value : p.stiffness) value = -value;
  EXPECT_THROW(real.compute(p.stiffness), SolveError);
}

// A matrix that cannot be factorised, or a solution that is not finite, gives an error.
TEST(Factorisation, RefusesWhatHasNoFiniteSolution) {
  Problem p = small_problem();
  Factorisation factorisation(p.pattern);
  std::fill(p.stiffness.begin(), p.stiffness.end(), 0.0);
  EXPECT_THROW(factorisation.compute(p.stiffness, p.mass, 0.0), SolveError);
  p.stiffness[0] = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(
      {
        factorisation.compute(p.stiffness, p.mass, 1.0);
        (void)factorisation.solve(Eigen::MatrixXcd::Ones(p.pattern.size, 1));
      },
      SolveError);
}

}  // namespace
}  // namespace cw
