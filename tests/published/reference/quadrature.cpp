#include "tests/published/reference/quadrature.hpp"

#include <map>

namespace cw::reference {
namespace {

/// Newton on the Legendre polynomial from the usual cosine guess.
GaussRule make_rule(int points) {
  GaussRule rule;
  for (int i = 0; i < points; ++i) {
    double x = -std::cos(kPi * (i + 0.75) / (points + 0.5));
    double slope = 1.0;
    for (int step = 0; step < 100; ++step) {
      double before = 1.0;
      double value = x;
      for (int n = 2; n <= points; ++n) {
        const double next = ((2 * n - 1) * x * value - (n - 1) * before) / n;
        before = value;
        value = next;
      }
      slope = points * (x * value - before) / (x * x - 1.0);
      const double change = value / slope;
      x -= change;
      if (std::abs(change) < 1e-16) {
        break;
      }
    }
    rule.node.push_back(0.5 * (1.0 + x));
    rule.weight.push_back(1.0 / ((1.0 - x * x) * slope * slope));
  }
  return rule;
}

}  // namespace

const GaussRule& gauss_rule(int points) {
  static std::map<int, GaussRule> rules;
  const auto found = rules.find(points);
  return found != rules.end() ? found->second
                              : rules.emplace(points, make_rule(points)).first->second;
}

std::vector<double> graded_edges(double width, double last) {
  std::vector<double> edges{0.0};
  for (int level = 9; level > 0; --level) {
    edges.push_back(std::ldexp(width, -level));
  }
  const int panels = static_cast<int>(std::ceil(last / width));
  for (int i = 1; i <= panels; ++i) {
    edges.push_back(width * i);
  }
  return edges;
}

}  // namespace cw::reference
