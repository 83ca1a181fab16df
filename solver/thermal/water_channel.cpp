#include "solver/thermal/water_channel.hpp"

#include <algorithm>
#include <cmath>

#include "materials/water.hpp"

namespace cw {
namespace {

constexpr double laminar_to = 2300, turbulent_from = 4000;
constexpr double gnielinski_from = 3000;

double haaland(double reynolds, double relative_roughness) {
  const double root = -1.8 * std::log10(std::pow(relative_roughness / 3.7, 1.11) + 6.9 / reynolds);
  return 1 / (root * root);
}

double gnielinski(double reynolds, double prandtl, double friction) {
  const double f = friction / 8;
  return f * (reynolds - 1000) * prandtl /
         (1 + 12.7 * std::sqrt(f) * (std::pow(prandtl, 2. / 3) - 1));
}

}  // namespace

double WaterChannel::hydraulic_diameter() const {
  return 4 * area / wetted_perimeter;
}

double straight_friction(double reynolds, double relative_roughness) {
  if (reynolds <= laminar_to) return 64 / reynolds;
  if (reynolds >= turbulent_from) return haaland(reynolds, relative_roughness);
  return std::lerp(64 / laminar_to, haaland(turbulent_from, relative_roughness),
                   (reynolds - laminar_to) / (turbulent_from - laminar_to));
}

double coil_critical_reynolds(double bore_over_coil) {
  return std::max(laminar_to, 20e3 * std::pow(bore_over_coil, 0.32));
}

double coil_friction(double reynolds, double relative_roughness, double bore_over_coil) {
  const double straight = straight_friction(reynolds, relative_roughness);
  if (bore_over_coil <= 0) return straight;
  if (reynolds > coil_critical_reynolds(bore_over_coil))
    return straight + 0.029 * std::sqrt(bore_over_coil);
  constexpr double least = 11.6;
  const double dean = reynolds * std::sqrt(bore_over_coil);
  if (dean <= least) return 64 / reynolds;
  return 64 / reynolds / (1 - std::pow(1 - std::pow(least / dean, 0.45), 1 / 0.45));
}

double water_nusselt(double reynolds, double prandtl, double friction) {
  constexpr double laminar = 4.36, from = gnielinski_from;
  if (reynolds <= laminar_to) return laminar;
  if (reynolds >= from) return gnielinski(reynolds, prandtl, friction);
  return std::lerp(laminar, gnielinski(from, prandtl, friction),
                   (reynolds - laminar_to) / (from - laminar_to));
}

WaterFlow water_flow(const WaterChannel& channel, double flow, Temperature mean) {
  const WaterProperties water = water_at(mean);
  const double d = channel.hydraulic_diameter(), rough = channel.roughness / d;
  const double curved = channel.coil_diameter > 0 ? d / channel.coil_diameter : 0.0;
  WaterFlow f;
  f.velocity = flow / channel.area;
  f.reynolds = water.density * f.velocity * d / water.viscosity;
  f.friction = coil_friction(f.reynolds, rough, curved);
  f.turbulent = f.reynolds > coil_critical_reynolds(curved);
  const double straight = straight_friction(f.reynolds, rough);
  f.pressure_drop = (f.friction * channel.coiled_length + straight * channel.straight_length) / d *
                    0.5 * water.density * f.velocity * f.velocity;
  // Gnielinski's formula uses the friction of turbulent flow, even in the range where the pressure
  // drop is interpolated between both laws.
  const double turbulent = haaland(std::max(f.reynolds, gnielinski_from), rough);
  f.film = water_nusselt(f.reynolds, water.prandtl(), turbulent) * water.conductivity / d;
  return f;
}

CooledTube cool_tube(const WaterChannel& channel, double flow, Temperature inlet, double heat) {
  CooledTube tube;
  tube.inlet = inlet;
  double rise = 0;
  for (int k = 0; k < 3; ++k) {  // properties hardly change with temperature: this converges at
                                 // once
    const WaterProperties water = water_at({inlet.kelvin + rise / 2});
    rise = heat / (flow * water_at(inlet).density * water.heat_capacity);
  }
  tube.outlet = {inlet.kelvin + rise};
  const Temperature mean{inlet.kelvin + rise / 2};
  tube.flow = water_flow(channel, flow, mean);
  const double surface =
      channel.wetted_perimeter * (channel.coiled_length + channel.straight_length);
  const double film = heat / (tube.flow.film * surface);
  tube.wall_mean = {mean.kelvin + film};
  tube.wall_hottest = {tube.outlet.kelvin + film};
  return tube;
}

double flow_for_rise(double heat, double rise, Temperature inlet) {
  const WaterProperties water = water_at({inlet.kelvin + rise / 2});
  return heat / (water_at(inlet).density * water.heat_capacity * rise);
}

}  // namespace cw
