#include "cases/design/work_row.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

constexpr double table_step = 5.0;                     // [K]
constexpr double radiation_constant = 5.670374419e-8;  // [W/(m2 K4)]; CODATA 2018
// Engineering judgement, no source: good enough for an order.
constexpr double still_air = 10.0;       // [W/(m2 K)]
constexpr double wrapped_share = 0.3;    // of the loss, behind a sleeve
constexpr double insulator_share = 0.5;  // of its heat: it warms half through
constexpr double oxidised = 0.8;         // emissivity where none is listed

/// Section of an outline at a height: its area and its outermost radius.
struct Cut {
  double area = 0.0, outer = 0.0;
};

Cut cut_at(const std::vector<Point>& profile, double z) {
  std::vector<double> radii;
  for (std::size_t k = 0; k < profile.size(); ++k) {
    const Point &a = profile[k], &b = profile[(k + 1) % profile.size()];
    if ((a.z <= z) != (b.z <= z)) radii.push_back(a.r + (b.r - a.r) * (z - a.z) / (b.z - a.z));
  }
  std::ranges::sort(radii);
  Cut cut;
  for (std::size_t k = 0; k + 1 < radii.size(); k += 2)
    cut.area += std::numbers::pi * (radii[k + 1] * radii[k + 1] - radii[k] * radii[k]);
  if (!radii.empty()) cut.outer = radii.back();
  return cut;
}

double volume_of(const Outline& outline) {
  constexpr int cuts = 200;
  const OutlineExtent e = extent_of(outline);
  const double step = (e.high - e.low) / cuts;
  double volume = 0.0;
  for (int k = 0; k < cuts; ++k)
    volume += step * cut_at(outline.profile, e.low + (k + 0.5) * step).area;
  return volume;
}

/// Field of 1 A in the rings, on their axis [A/m]. Source: law of Biot and Savart for a circle.
double field_on_axis(const std::vector<RingPlace>& rings, double z) {
  double field = 0.0;
  for (const RingPlace& ring : rings)
    field += 0.5 * ring.weight * ring.r * ring.r / std::pow(std::hypot(ring.r, z - ring.z), 3.0);
  return field;
}

}  // namespace

HeatTable::HeatTable(double from, double to) : from_(from) {
  heat_.assign(static_cast<std::size_t>((to - from) / table_step) + 2, 0.0);
}

void HeatTable::add(const Material& material, double volume) {
  const double mass = volume * material.density.value;
  for (std::size_t k = 1; k < heat_.size(); ++k)
    heat_[k] += mass * material.heat_capacity.integral(
                           {from_}, {from_ + table_step * static_cast<double>(k)});
}

double HeatTable::temperature(double heat) const {
  const auto above = std::ranges::upper_bound(heat_, heat);
  if (above == heat_.begin()) return from_;
  const auto before = static_cast<double>(above - heat_.begin() - 1);
  if (above == heat_.end()) return from_ + table_step * before;
  return from_ + table_step * (before + (heat - above[-1]) / (above[0] - above[-1]));
}

double HeatTable::heat(double kelvin) const {
  const double last = static_cast<double>(heat_.size()) - 1.001;
  const double at = std::clamp((kelvin - from_) / table_step, 0.0, last);
  const auto k = static_cast<std::size_t>(at);
  return heat_[k] + (at - std::floor(at)) * (heat_[k + 1] - heat_[k]);
}

WorkRow::WorkRow(const Heater& of) : heater(of) {
  const Workpiece& work = *heater.workpiece;
  start = work.temperature.kelvin;
  target = heater.heat->target->kelvin;
  surroundings = heater.heat->surroundings.kelvin;
  const double listed = work.material.emissivity.value;
  emissivity = heater.heat->emissivity.value_or(listed > 0.0 ? listed : oxidised);
  one = !heater.bodies.empty() || heater.coil.shape == CoilShape::flat;
  const OutlineExtent e = extent_of(work.outline);
  stretch = heater.heat->heated.value_or(Stretch{e.low, e.high});
  constexpr int usual = 24;
  cut(one ? 1 : usual);
  add_bodies();
  for (const HeatTable& table : heat)
    capacity.push_back((table.heat(target) - table.heat(start)) / (target - start));
}

void WorkRow::cut(int count) {
  constexpr double past_target = 600.0;  // the surface is ahead [K]
  const Outline& outline = heater.workpiece->outline;
  const OutlineExtent e = extent_of(outline);
  const double height = (e.high - e.low) / count;
  for (int k = 0; k < count; ++k) {
    const double z = e.low + (k + 0.5) * height;
    const Cut section = cut_at(outline.profile, z);
    const double volume = one ? volume_of(outline) : section.area * height;
    slices.push_back({z, height, volume / height, one ? e.outer : section.outer});
    heat.emplace_back(start, target + past_target);
    heat.back().add(heater.workpiece->material, volume);
  }
}

void WorkRow::add_bodies() {
  for (const Body& body : heater.bodies) {
    if (body.temperature) continue;
    const bool insulator = body.material.insulator();
    heat[0].add(body.material, (insulator ? insulator_share : 1.0) * volume_of(body.outline));
    if (insulator) loss_share = wrapped_share;
  }
}

std::vector<double> WorkRow::field_shares(const Coil& coil, double shift) const {
  if (one) return {1.0};
  const std::vector<RingPlace> rings = ring_places(coil);
  std::vector<double> shares;
  double sum = 0.0;
  for (const Slice& s : slices) {
    shares.push_back(s.outer * std::pow(field_on_axis(rings, s.z + shift), 2.0));
    sum += shares.back();
  }
  for (double& share : shares) share /= sum;
  return shares;
}

WarmRow::WarmRow(const WorkRow& row) : row_(row), kelvin_(row.slices.size(), row.start) {
  for (const HeatTable& table : row.heat) heat_.push_back(table.heat(row.start));
}

double WarmRow::conductivity(std::size_t slice) const {
  return row_.heater.workpiece->material.thermal_conductivity({kelvin_[slice]});
}

double WarmRow::lost(std::size_t slice) const {
  const WorkRow::Slice& s = row_.slices[slice];
  const double t = kelvin_[slice], air = row_.surroundings;
  const double flow =
      row_.emissivity * radiation_constant * (std::pow(t, 4.0) - std::pow(air, 4.0)) +
      still_air * (t - air);
  return row_.loss_share * 2 * std::numbers::pi * s.outer * s.height * flow;
}

double WarmRow::step(const std::vector<double>& power, double most) {
  constexpr double warmer = 10.0;  // at most, in a step [K]
  const std::size_t count = power.size();
  double step = most;
  for (std::size_t i = 0; i < count; ++i)
    step = std::min(step, warmer * row_.capacity[i] / std::max(std::abs(power[i]), 1e-9));
  // Implicit in conduction: C d/dt - k (neighbours' d - own d) = gain, d the change of temperature.
  std::vector<double> passed(count, 0.0), diagonal(count), change(count);
  for (std::size_t i = 0; i < count; ++i) {
    const WorkRow::Slice& s = row_.slices[i];
    change[i] = power[i] - lost(i);
    if (i + 1 < count) passed[i] = conductivity(i) * s.area / s.height;
    diagonal[i] = row_.capacity[i] / step + passed[i] + (i > 0 ? passed[i - 1] : 0.0);
  }
  for (std::size_t i = 0; i + 1 < count; ++i) {
    const double flow = passed[i] * (kelvin_[i] - kelvin_[i + 1]);
    change[i] -= flow;
    change[i + 1] += flow;
  }
  for (std::size_t i = 1; i < count; ++i) {
    const double by = passed[i - 1] / diagonal[i - 1];
    diagonal[i] -= by * passed[i - 1];
    change[i] += by * change[i - 1];
  }
  for (std::size_t i = count; i-- > 0;) {
    if (i + 1 < count) change[i] += passed[i] * change[i + 1];
    change[i] /= diagonal[i];
    heat_[i] += row_.capacity[i] * change[i];
    kelvin_[i] = row_.heat[i].temperature(heat_[i]);
  }
  return step;
}

double WarmRow::reading(const std::vector<double>& power) const {
  double coldest = 1e300, mean = 0.0, surface = 0.0, centre = 0.0;
  int inside = 0;
  for (std::size_t i = 0; i < kelvin_.size(); ++i) {
    const WorkRow::Slice& s = row_.slices[i];
    if (!row_.one && (s.z < row_.stretch.from || s.z > row_.stretch.to)) continue;
    // A rod that is heated at its surface: q r/(4 k) to each side of the mean, q = P/(2 pi r h).
    const double lag =
        row_.one ? 0.0 : power[i] / (8 * std::numbers::pi * s.height * conductivity(i));
    coldest = std::min(coldest, kelvin_[i] - lag);
    mean += kelvin_[i];
    surface = std::max(surface, kelvin_[i] + lag);
    centre = std::max(centre, kelvin_[i] - lag);
    ++inside;
  }
  if (inside == 0) return row_.start;
  const Heat& job = *row_.heater.heat;
  if (job.target_depth || job.target_at == TargetAt::mean) return mean / inside;
  if (job.target_at == TargetAt::surface) return surface;
  return job.target_at == TargetAt::centre ? centre : coldest;
}

double WarmRow::moved_since(const std::vector<double>& before) const {
  if (before.size() != kelvin_.size()) return std::numeric_limits<double>::infinity();
  double most = 0.0;
  for (std::size_t i = 0; i < kelvin_.size(); ++i)
    most = std::max(most, std::abs(kelvin_[i] - before[i]));
  return most;
}

}  // namespace cw::cases
