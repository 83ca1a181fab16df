#pragma once

#include <cmath>

#include "materials/material.hpp"
#include "postproc/result/metals.hpp"

namespace cw::sample {

/// A metal whose power is proportional to its surface resistance; `reach` is the share that remains
/// in a thin part.
inline MetalCurve metal(const MetalComparison& all, const char* name, double resistivity,
                        double permeability = 1.0, double reach = 1.0) {
  MetalCurve m;
  m.name = name;
  m.resistivity = resistivity;
  m.magnetic = permeability > 1;
  m.weak_permeability = 3 * permeability;
  for (const Frequency f : all.frequencies) {
    MetalPoint p;
    p.permeability = permeability;
    p.skin_depth = skin_depth(1 / resistivity, permeability, f);
    p.coil_surface = 20e-9 / skin_depth(1 / 20e-9, 1.0, f);
    p.coil = 100 * p.coil_surface;
    p.work = reach * 50 * m.surface_resistance(p);
    p.others = 0.1 * p.coil;
    m.points.push_back(p);
  }
  return m;
}

/// Five metals in a rod of 8 mm radius, 1 kHz to 1 MHz, the case at 100 kHz. By the factors above
/// (100 for the coil, 50 for the work) an even split takes twice the coil's surface resistance.
inline MetalComparison metals() {
  MetalComparison all;
  all.title = "Bench check";
  all.own = "brass-c26000";
  all.temperature = Temperature::celsius(20.0);
  all.current = 100.0;
  all.thickness = 8e-3;
  for (int k = 0; k <= 3; ++k) all.frequencies.push_back({1e3 * std::pow(10.0, k)});
  all.at_case = 2;
  all.metals = {metal(all, "steel-low-carbon", 169e-9, 100.0),
                metal(all, "graphite", 13e-6, 1.0, 0.4), metal(all, "brass-c26000", 61.6e-9),
                metal(all, "aluminium-pure", 26.5e-9), metal(all, "silver", 15.9e-9)};
  return all;
}

}  // namespace cw::sample
