#include "tests/published/reference/layer_transfer.hpp"

namespace cw::reference {

LayersAnswer answer_of_layers(const std::vector<Layer>& layers,
                              const std::vector<LayerWaves>& waves, const LayerWaves& outside) {
  LayersAnswer found;
  found.slope.push_back(waves[0].growing_b / layers[0].mu_r);
  // A at the inner face over A at the outer face of each layer.
  std::vector<Complex> inwards{0.0};
  for (std::size_t i = 1; i < layers.size(); ++i) {
    const LayerWaves& w = waves[i];
    const Complex given = layers[i].mu_r * found.slope.back();
    const Complex mix = (w.growing_a - given) / (given - w.falling_a);
    const Complex rest = mix * w.growth * w.fall;
    found.slope.push_back((w.growing_b + rest * w.falling_b) / (1.0 + rest) / layers[i].mu_r);
    inwards.push_back(w.growth * (1.0 + mix) / (1.0 + rest));
  }
  const Complex load = found.slope.back();
  found.answer = (outside.growing_b - load) / (load - outside.falling_b);
  found.at_face.assign(layers.size(), 1.0 + found.answer);
  for (std::size_t i = layers.size() - 1; i > 0; --i) {
    found.at_face[i - 1] = found.at_face[i] * inwards[i];
  }
  return found;
}

}  // namespace cw::reference
