#include "postproc/text/metals_reasons.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "materials/figures.hpp"
#include "materials/material.hpp"

namespace cw {

namespace {

/// A body thinner than this number of skin depths lets the field through; common practice, no
/// source.
constexpr double thin_ratio = 3.0;
/// Share of the power below which a part barely warms; common practice, no source.
constexpr double poor = 0.35;

std::string times(double ratio) {
  return figure(ratio) + " times";
}

/// The non-magnetic metal with the thinnest skin, if the part is much thicker: then only its
/// surface counts. Null if there is none.
const MetalCurve* all_surface(const MetalComparison& all) {
  const MetalCurve* best = nullptr;
  double least = all.thickness / thin_ratio;
  for (const MetalCurve& m : all.metals)
    if (!m.magnetic && at_case(all, m).skin_depth <= least) {
      best = &m;
      least = at_case(all, m).skin_depth;
    }
  return best;
}

/// Ratio of the surface resistances of workpiece and coil at which both would take the same power.
double even_ratio(const MetalComparison& all, const MetalCurve& reference) {
  const MetalPoint& p = at_case(all, reference);
  return p.coil / p.work * reference.surface_resistance(p) / p.coil_surface;
}

std::string milliohms(double ohms) {
  return figure(1e3 * ohms) + " mohm";
}

/// "its surface resistance is 0.126 mohm against the coil's 0.0895 mohm, 1.40 times"
std::string resistances(const MetalCurve& metal, const MetalPoint& p) {
  const double own = metal.surface_resistance(p);
  return fmt::format("its surface resistance is {} against the coil's {}, {}", milliohms(own),
                     milliohms(p.coil_surface), times(own / p.coil_surface));
}

/// "so only 32.0 % of the power enters it and 59.6 % heats the coil"
std::string share_words(const MetalPoint& p) {
  const double share = p.efficiency();
  return fmt::format("so {}{} of the power enters it and {} heats the coil",
                     share < poor ? "only " : "", percent(share),
                     percent(p.coil / (p.work + p.coil + p.others)));
}

std::string magnetic_reason(const MetalComparison& all, const MetalCurve& metal) {
  const MetalPoint& p = at_case(all, metal);
  const double plain = skin_depth(1 / metal.resistivity, 1.0, all.frequencies[all.at_case]);
  return fmt::format(
      "{} is magnetic: {} reduce its relative permeability to {} where the field is strongest ({} "
      "in a weak field), its skin there is {} mm deep instead of {} mm, and {} (unmagnetic it "
      "would be {}); {}.",
      metal.name, figure(all.current, "A"), figure(p.permeability), figure(metal.weak_permeability),
      figure(1e3 * p.skin_depth), figure(1e3 * plain), resistances(metal, p),
      times(metal.resistivity / plain / p.coil_surface), share_words(p));
}

std::string thin_reason(const MetalComparison& all, const MetalCurve& metal,
                        const MetalCurve* reference) {
  const MetalPoint& p = at_case(all, metal);
  std::string lost;
  if (reference != nullptr) {
    const MetalPoint& r = at_case(all, *reference);
    const double thick = r.work * metal.surface_resistance(p) / reference->surface_resistance(r);
    lost = fmt::format(" and it takes {} per square ampere where a thick part would take about {};",
                       figure(p.work, "W"), figure(thick, "W"));
  }
  return fmt::format(
      "{} is too thin to shield the field: {}, but its {} is only {} skin depths,{} {}.",
      metal.name, resistances(metal, p), all.size_name, figure(all.thickness / p.skin_depth), lost,
      share_words(p));
}

std::string surface_reason(const MetalComparison& all, const MetalCurve& metal,
                           const MetalCurve& reference) {
  const MetalPoint& p = at_case(all, metal);
  const MetalCurve& best = all.metals.front();
  const double share = p.efficiency();
  std::string more;
  if (share < poor && &best != &metal)
    more = fmt::format(", and {} takes {} the power at the same current", best.name,
                       times(at_case(all, best).work / p.work));
  return fmt::format(
      "{} {}: {}, and in this coil workpiece and coil take equal power at about {}; {}{}.",
      metal.name,
      share < poor  ? "barely warms"
      : share < 0.5 ? "warms slowly"
                    : "heats well",
      resistances(metal, p), times(even_ratio(all, reference)), share_words(p), more);
}

}  // namespace

std::string metal_reason(const MetalComparison& all, const MetalCurve& metal) {
  if (metal.magnetic) return magnetic_reason(all, metal);
  const MetalCurve* reference = all_surface(all);
  const bool passes = all.thickness < thin_ratio * at_case(all, metal).skin_depth;
  std::string reason = passes || reference == nullptr ? thin_reason(all, metal, reference)
                                                      : surface_reason(all, metal, *reference);
  if (metal.lost_magnetism)
    reason.insert(metal.name.size(), ", past its Curie point and no longer magnetic,");
  return reason;
}

std::vector<const MetalCurve*> notable_metals(const MetalComparison& all) {
  std::set<const MetalCurve*> chosen;
  const auto choose = [&](auto wanted) {
    const auto found = std::find_if(all.metals.begin(), all.metals.end(), wanted);
    if (found != all.metals.end()) chosen.insert(&*found);
  };
  choose([](const MetalCurve&) { return true; });
  choose([](const MetalCurve& m) { return !m.magnetic; });
  choose([](const MetalCurve& m) { return m.name.starts_with("aluminium"); });
  choose([&](const MetalCurve& m) { return m.name == all.own; });
  if (all.metals.empty()) return {};
  chosen.insert(&all.metals.back());
  chosen.insert(&*std::max_element(all.metals.begin(), all.metals.end(),
                                   [&](const MetalCurve& a, const MetalCurve& b) {
                                     return at_case(all, a).skin_depth < at_case(all, b).skin_depth;
                                   }));
  std::vector<const MetalCurve*> ordered(chosen.begin(), chosen.end());
  std::sort(ordered.begin(), ordered.end());  // they are in one array: its order
  return ordered;
}

}  // namespace cw
