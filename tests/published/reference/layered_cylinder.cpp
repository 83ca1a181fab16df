#include "tests/published/reference/layered_cylinder.hpp"

#include <algorithm>
#include <boost/math/special_functions/bessel.hpp>

#include "tests/published/reference/bessel.hpp"

namespace cw::reference {
namespace {

/// Scaled functions I0, I1, K0, K1 at one argument.
struct Four {
  Complex i0, i1, k0, k1;
};

Four four_at(Complex z) {
  if (z.imag() != 0.0 || z.real() > 600.0) {
    return {scaled_i(0, z), scaled_i(1, z), scaled_k(0, z), scaled_k(1, z)};
  }
  const double x = z.real();
  const double up = std::exp(x);
  return {boost::math::cyl_bessel_i(0, x) / up, boost::math::cyl_bessel_i(1, x) / up,
          boost::math::cyl_bessel_k(0, x) * up, boost::math::cyl_bessel_k(1, x) * up};
}

double scaled_k1(double x) {
  return x > 600.0 ? scaled_k(1, x).real() : boost::math::cyl_bessel_k(1, x) * std::exp(x);
}

/// d(r I1)/dr = gamma r I0, d(r K1)/dr = -gamma r K0.
LayerWaves waves_between(Complex gamma, double a, double b) {
  const Four at_b = four_at(gamma * b);
  LayerWaves w{};
  w.growing_b = gamma * b * at_b.i0 / at_b.i1;
  w.falling_b = -gamma * b * at_b.k0 / at_b.k1;
  if (a == 0.0) return w;
  const Four at_a = four_at(gamma * a);
  w.growing_a = gamma * a * at_a.i0 / at_a.i1;
  w.falling_a = -gamma * a * at_a.k0 / at_a.k1;
  const Complex fade = std::exp(-gamma * (b - a));
  w.growth = fade * at_a.i1 / at_b.i1;
  w.fall = fade * at_b.k1 / at_a.k1;
  return w;
}

/// Sum of weight r K1(alpha r) exp(j alpha z) over the rings, times exp(alpha face).
Complex winding(const std::vector<Filament>& rings, double alpha, double face) {
  Complex sum = 0.0;
  for (const Filament& f : rings) {
    sum += f.weight * f.r * scaled_k1(alpha * f.r) * std::exp(-alpha * (f.r - face)) *
           std::polar(1.0, alpha * f.z);
  }
  return sum;
}

/// The rings, the load and what is summed over the wave numbers.
struct Sum {
  const std::vector<Filament>& rings;
  const std::vector<Layer>& layers;
  double frequency;
  LoadAnswer answer{0.0, std::vector<double>(layers.size(), 0.0)};

  void add(double alpha, double weight) {
    const double w = 2.0 * kPi * frequency;
    const double face = layers.back().outer;
    const Four edge = four_at(alpha * face);
    const double source = weight * std::norm(winding(rings, alpha, face));
    const LayersAnswer harmonic = answer_to_harmonic(layers, frequency, alpha);
    answer.change += 2.0 * kJ * w * kMu0 * source * harmonic.answer * edge.i1 / edge.k1;
    double inside = 0.0;
    for (std::size_t i = 0; i < layers.size(); ++i) {
      // Poynting's flux through the face, w |A|^2 Im(slope) per mu0.
      const double through = 2.0 * w * kMu0 * source * std::norm(edge.i1 * harmonic.at_face[i]) *
                             harmonic.slope[i].imag();
      answer.power[i] += through - inside;
      inside = through;
    }
  }
};

struct Extent {
  double gap, span;
};

Extent extent(const std::vector<Filament>& rings, double face) {
  const auto [inner, outer] = std::minmax_element(
      rings.begin(), rings.end(), [](const Filament& a, const Filament& b) { return a.r < b.r; });
  const auto [low, high] = std::minmax_element(
      rings.begin(), rings.end(), [](const Filament& a, const Filament& b) { return a.z < b.z; });
  return {inner->r - face, std::max(high->z - low->z, outer->r - face)};
}

}  // namespace

std::vector<Filament> filaments_of(const RectangularRing& ring, int points) {
  const GaussRule& rule = gauss_rule(points);
  std::vector<Filament> filaments;
  for (int i = 0; i < points; ++i) {
    for (int j = 0; j < points; ++j) {
      filaments.push_back({ring.inner + (ring.outer - ring.inner) * rule.node[i],
                           ring.low + (ring.high - ring.low) * rule.node[j],
                           rule.weight[i] * rule.weight[j]});
    }
  }
  return filaments;
}

LayersAnswer answer_to_harmonic(const std::vector<Layer>& layers, double frequency, double alpha) {
  std::vector<LayerWaves> waves;
  double inner = 0.0;
  for (const Layer& layer : layers) {
    const double eddy = 2.0 * kPi * frequency * kMu0 * layer.mu_r * layer.conductivity;
    const Complex gamma = eddy == 0.0 ? alpha : std::sqrt(Complex(alpha * alpha, eddy));
    waves.push_back(waves_between(gamma, inner, layer.outer));
    inner = layer.outer;
  }
  return answer_of_layers(layers, waves, waves_between(alpha, 0.0, inner));
}

LoadAnswer filaments_round_layers(const std::vector<Filament>& rings,
                                  const std::vector<Layer>& layers, double frequency,
                                  const WaveNumbers& how) {
  Sum sum{rings, layers, frequency};
  const auto [gap, span] = extent(rings, layers.back().outer);
  const double last = how.reach / gap;
  const GaussRule& rule = gauss_rule(how.points);
  double from = 0.0;
  double width = std::min(1.0 / span, 1.0 / layers.back().outer) * 1e-5;
  while (from < last) {
    for (std::size_t i = 0; i < rule.node.size(); ++i) {
      sum.add(from + width * rule.node[i], width * rule.weight[i]);
    }
    from += width;
    width = std::min(from, 6.0 / span);
  }
  return sum.answer;
}

double share_beyond(const std::vector<Filament>& rings, const std::vector<Layer>& layers,
                    double frequency, double z) {
  const double face = layers.back().outer;
  const double last = 14.0 / extent(rings, face).gap;
  const double step = kPi / (4.0 * z);
  const GaussRule& rule = gauss_rule(24);
  std::vector<Complex> beyond(rule.node.size());
  double all = 0.0;
  for (double alpha = 0.5 * step; alpha < last; alpha += step) {
    // Even rings: their waves add up to a real number.
    const Complex a = winding(rings, alpha, face) * four_at(alpha * face).i1 *
                      answer_to_harmonic(layers, frequency, alpha).at_face.back();
    all += kPi * step * std::norm(a);
    for (std::size_t i = 0; i < beyond.size(); ++i) {
      beyond[i] += step * a * std::cos(alpha * z * (1.0 + 2.0 * rule.node[i]));
    }
  }
  double sum = 0.0;
  for (std::size_t i = 0; i < beyond.size(); ++i) {
    sum += 4.0 * z * rule.weight[i] * std::norm(beyond[i]);
  }
  return sum / all;
}

}  // namespace cw::reference
