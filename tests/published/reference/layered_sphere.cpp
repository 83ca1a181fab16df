#include "tests/published/reference/layered_sphere.hpp"

#include <algorithm>

namespace cw::reference {
namespace {

/// i_{n+1}(x)/i_n(x) for n = 0 ... last: continued fraction at the last, downward recurrence.
std::vector<Complex> growing_ratios(Complex x, int last) {
  const int start = last + 60 + static_cast<int>(2.0 * std::abs(x));
  std::vector<Complex> ratio(static_cast<std::size_t>(last) + 1);
  Complex next = 0.0;
  for (int n = start; n >= 0; --n) {
    next = 1.0 / ((2.0 * n + 3.0) / x + next);
    if (n <= last) ratio[n] = next;
  }
  return ratio;
}

/// k_{n+1}(x)/k_n(x) for n = 0 ... last, upward.
std::vector<Complex> falling_ratios(Complex x, int last) {
  std::vector<Complex> ratio{1.0 + 1.0 / x};
  for (int n = 1; n <= last; ++n) {
    ratio.push_back(1.0 / ratio.back() + (2.0 * n + 1.0) / x);
  }
  return ratio;
}

/// exp(-x) sinh(x).
Complex scaled_sinh(Complex x) {
  return std::abs(x) < 10.0 ? std::exp(-x) * std::sinh(x) : 0.5 * (1.0 - std::exp(-2.0 * x));
}

/// Waves of degrees 1 ... last between a and b, gamma^2 = j w mu sigma: d(r i_n)/dr over i_n is
/// n + 1 + x i_{n+1}/i_n, and of k_n n + 1 - x k_{n+1}/k_n.
std::vector<LayerWaves> metal_waves(Complex gamma, double a, double b, int last) {
  const Complex xa = gamma * a, xb = gamma * b;
  const auto grow_b = growing_ratios(xb, last), fall_b = falling_ratios(xb, last);
  std::vector<LayerWaves> waves;
  if (a == 0.0) {
    for (int n = 1; n <= last; ++n) {
      waves.push_back({0.0, n + 1.0 + xb * grow_b[n], 0.0, n + 1.0 - xb * fall_b[n], 0.0, 0.0});
    }
    return waves;
  }
  const auto grow_a = growing_ratios(xa, last), fall_a = falling_ratios(xa, last);
  const Complex fade = std::exp(xa - xb);
  Complex growth = fade * scaled_sinh(xa) / scaled_sinh(xb) * (b / a);
  Complex fall = fade * (a / b);
  for (int n = 1; n <= last; ++n) {
    growth *= grow_a[n - 1] / grow_b[n - 1];
    fall *= fall_b[n - 1] / fall_a[n - 1];
    waves.push_back({n + 1.0 + xa * grow_a[n], n + 1.0 + xb * grow_b[n], n + 1.0 - xa * fall_a[n],
                     n + 1.0 - xb * fall_b[n], growth, fall});
  }
  return waves;
}

LayerWaves air_waves(double a, double b, int n) {
  return {n + 1.0, n + 1.0, -n, -n, std::pow(a / b, n), std::pow(a / b, n + 1)};
}

/// (face/R)^n P_n^1(cos theta) of a filament for n = 1 ... last.
std::vector<double> legendre_row(const Filament& f, double face, int last) {
  const double distance = std::hypot(f.r, f.z);
  const double x = f.z / distance, q = face / distance;
  std::vector<double> p{q * f.r / distance};
  double before = 0.0;
  for (int n = 1; n < last; ++n) {
    const double next = ((2 * n + 1) * x * q * p.back() - (n + 1) * q * q * before) / n;
    before = p.back();
    p.push_back(next);
  }
  return p;
}

/// Power through each face for degree n and a source `potential` at the outermost [Wb/m].
void add_powers(std::vector<double>& power, const std::vector<Layer>& layers,
                const LayersAnswer& answer, int n, double w_potential_squared) {
  double inside = 0.0;
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const double through = w_potential_squared / kMu0 * std::norm(answer.at_face[i]) *
                           answer.slope[i].imag() * 4.0 * kPi * layers[i].outer * n * (n + 1) /
                           (2 * n + 1);
    power[i] += through - inside;
    inside = through;
  }
}

}  // namespace

std::vector<LayersAnswer> answer_to_degrees(const std::vector<Layer>& layers, double frequency,
                                            int last) {
  std::vector<std::vector<LayerWaves>> waves(static_cast<std::size_t>(last));
  double inner = 0.0;
  for (const Layer& layer : layers) {
    const double eddy = 2.0 * kPi * frequency * kMu0 * layer.mu_r * layer.conductivity;
    std::vector<LayerWaves> all;
    if (eddy > 0.0) {
      all = metal_waves(std::sqrt(kJ * eddy), inner, layer.outer, last);
    } else {
      for (int n = 1; n <= last; ++n) all.push_back(air_waves(inner, layer.outer, n));
    }
    for (int n = 0; n < last; ++n) waves[n].push_back(all[n]);
    inner = layer.outer;
  }
  std::vector<LayersAnswer> answers;
  for (int n = 1; n <= last; ++n) {
    answers.push_back(answer_of_layers(layers, waves[n - 1], air_waves(0.0, inner, n)));
  }
  return answers;
}

LoadAnswer filaments_round_sphere(const std::vector<Filament>& rings,
                                  const std::vector<Layer>& layers, double frequency) {
  const double face = layers.back().outer;
  double nearest = std::hypot(rings[0].r, rings[0].z);
  for (const Filament& f : rings) nearest = std::min(nearest, std::hypot(f.r, f.z));
  const int last = 2 + static_cast<int>(18.5 / std::log(nearest / face));
  // A of the rings is the sum of source_n (r/face)^n P_n^1; Jackson, Classical
  // Electrodynamics, 5.5.
  std::vector<double> source(static_cast<std::size_t>(last), 0.0);
  for (const Filament& f : rings) {
    const auto p = legendre_row(f, face, last);
    const double sine = f.r / std::hypot(f.r, f.z);
    for (int n = 1; n <= last; ++n) {
      source[n - 1] += f.weight * kMu0 * sine / (2.0 * n * (n + 1)) * p[n - 1];
    }
  }
  const double w = 2.0 * kPi * frequency;
  const auto answers = answer_to_degrees(layers, frequency, last);
  LoadAnswer found{0.0, std::vector<double>(layers.size(), 0.0)};
  for (int n = 1; n <= last; ++n) {
    const double square = source[n - 1] * source[n - 1];
    found.change +=
        kJ * w * 4.0 * kPi * face / kMu0 * (n * (n + 1.0)) * square * answers[n - 1].answer;
    add_powers(found.power, layers, answers[n - 1], n, w * square);
  }
  return found;
}

UniformFieldAnswer layers_in_uniform_field(const std::vector<Layer>& layers, double frequency) {
  const LayersAnswer first = answer_to_degrees(layers, frequency, 1)[0];
  const double face = layers.back().outer;
  UniformFieldAnswer found{first.at_face[0] * face / layers[0].outer, first.answer,
                           std::vector<double>(layers.size(), 0.0)};
  add_powers(found.power, layers, first, 1, 2.0 * kPi * frequency * face * face / 4.0);
  return found;
}

}  // namespace cw::reference
