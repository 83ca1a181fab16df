#include "solver/run/section_of_heater.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/field/layering.hpp"
#include "solver/heater/body_temperature.hpp"
#include "solver/heater/rings.hpp"

namespace cw {

namespace {

/// The material of a region at its temperature.
Medium medium_of(const Material& material, Temperature t) {
  return {material.conductivity(t), 1.0 / (mu0 * material.initial_permeability(t))};
}

double skin_depth_of(const Medium& m, Frequency f) {
  return skin_depth(m.conductivity, 1.0 / (mu0 * m.reluctivity), f);
}

/// Ring centre. The side that faces the bore stays in place, since the current flows there. In a
/// flat coil neighbouring turns are on that side, so its centres stay in place.
Point ring_centre(const Coil& coil, const RingPlace& place) {
  const double inwards =
      coil.shape == CoilShape::flat ? 0.0 : 0.5 * (1 - place.weight) * coil.conductor.radial_size();
  return {place.r - inwards, place.z};
}

RoundConductor round_conductor(const Conductor& conductor, double conductivity) {
  const RoundEquivalent round = conductor.equivalent();
  return {round.outer_radius, round.wall, round.fill * conductivity};
}

std::optional<Helix> helix_of(const Coil& coil, const std::vector<RingPlace>& places) {
  if (coil.shape == CoilShape::rings || coil.pitch <= 0) return std::nullopt;
  const RingRow row = ring_row(coil);
  // The winding starts half a ring spacing before its first ring.
  const double step = places.size() > 1 ? (places.back().r - places.front().r) /
                                              static_cast<double>(places.size() - 1)
                                        : (coil.shape == CoilShape::flat ? row.spacing : 0.0);
  Helix helix;
  helix.radius = places.front().r - step / 2;
  if (step != 0) helix.radius_end = places.back().r + step / 2;
  helix.pitch = coil.shape == CoilShape::flat ? 0.0 : coil.pitch;
  helix.turns = coil.turns;
  helix.wire_radius = 0.25 * (coil.conductor.radial_size() + coil.conductor.axial_size());
  return helix;
}

std::optional<LeadLoop> leads_of(const Coil& coil, const std::vector<RingPlace>& places,
                                 double conductivity) {
  if (!coil.leads) return std::nullopt;
  LeadLoop leads;
  leads.one_way_length = coil.leads->length;
  leads.spacing = coil.leads->spacing;
  leads.conductor = round_conductor(coil.conductor, conductivity);
  if (coil.shape == CoilShape::helix || coil.shape == CoilShape::cone) {
    double mean = 0, widest = 0;
    for (const RingPlace& p : places) {
      mean += p.r / static_cast<double>(places.size());
      widest = std::max(widest, p.r);
    }
    leads.coil_length = coil.turns * coil.pitch;
    leads.coil_radius = mean;
    // The closing run passes just clear of the turns: one and a half conductor widths from their
    // centres.
    leads.run_distance = widest + 1.5 * coil.conductor.radial_size();
  }
  return leads;
}

/// Field inside the coil per ampere, the coil taken as a solenoid [1/m].
double field_per_ampere(const Coil& coil) {
  double low = 1e300, high = -1e300, radius = 0, turns = 0;
  const auto places = ring_places(coil);
  for (const RingPlace& p : places) {
    low = std::min(low, p.z - coil.conductor.axial_size() / 2);
    high = std::max(high, p.z + coil.conductor.axial_size() / 2);
    radius += p.r / static_cast<double>(places.size());
    turns += p.weight;
  }
  return solenoid_field(turns, high - low, 2 * radius);
}

class ModelBuilder {
 public:
  ModelBuilder(const StateTemperatures& t, const Excitation& about, double solenoid)
      : t_(t), f_(about.frequency), field_(solenoid) {
    model_.media.push_back({});
    model_.info.push_back({"air", t.work});
  }

  void add_body(const std::string& name, const Material& material, const Outline& outline,
                Temperature at) {
    Medium medium = medium_of(material, at);
    double depth = skin_depth_of(medium, f_);
    const double share = share_at(material, at);
    if (share > 0) {
      const auto law =
          std::make_shared<const EffectiveReluctivity>(flux_curve(material), PermeabilityLaw::rms);
      model_.laws.push_back(law);
      model_.saturating.push_back(
          {static_cast<RegionId>(model_.section.regions.size()) + 1, law.get(), share, {}});
      medium.reluctivity = 1 / (mu0 * law->relative_permeability(0.3 * field_, share));
      if (medium.conductivity > 0)
        depth = layering_skin_depth(*law, share, medium.conductivity, f_, field_);
    }
    add(name, polygon_of(outline.profile), medium, depth);
    model_.info.push_back({material.name, at});
  }

  /// A body whose temperature depends on the depth below its outside.
  void add_profiled(const std::string& name, const Material& material, const Outline& outline,
                    const TemperatureProfile& profile) {
    const auto local_temperature = [outline, profile](Point p) {
      return temperature_at(profile, depth_below_outside(outline, p));
    };
    const Temperature outside = profile.front().temperature;
    add_body(name, material, outline, outside);
    model_.info.back().local = local_temperature;
    if (material.insulator()) return;
    SectionRegion& region = model_.section.regions.back();
    const auto id = static_cast<RegionId>(model_.section.regions.size());
    const bool known = !model_.saturating.empty() && model_.saturating.back().region == id;
    if (!known) model_.saturating.push_back({id, nullptr, 0.0, {}});
    SaturatingRegion& body = model_.saturating.back();
    if (!known && material.magnetisation) {  // the outside is not magnetic, but the core may be
      model_.laws.push_back(
          std::make_shared<const EffectiveReluctivity>(flux_curve(material), PermeabilityLaw::rms));
      body.law = model_.laws.back().get();
    }
    body.local = [material, local_temperature](const MeshPoint& p) {
      const Temperature t = local_temperature(p.at);
      return LocalMedium{material.conductivity(t), share_at(material, t)};
    };
    if (!known) region.skin_depth = thinnest_unmagnetic_skin(material, profile);
    region.buried_skin = buried_skin(material, profile, region.skin_depth, body.law);
  }

  void add_turns(const Coil& coil) {
    const auto places = ring_places(coil);
    const Medium metal = medium_of(coil.conductor.material, t_.coil);
    const StrandBundle* bundle = coil.conductor.strands();
    Winding& winding = model_.winding;
    winding.turns.kind = bundle != nullptr ? TurnKind::uniform : TurnKind::massive;
    for (std::size_t k = 0; k < places.size(); ++k) {
      winding.turns.region.push_back(static_cast<RegionId>(model_.section.regions.size()) + 1);
      winding.turns.weight.push_back(places[k].weight);
      winding.radius.push_back(places[k].r);
      // Drawn w times as large as the conductor, because rings lie w times as close as the turns:
      // the crowding of current depends on the ratio of diameter to pitch. Winding::ring_conductor
      // corrects their resistance.
      add(fmt::format("turn.{}", k + 1),
          coil.conductor.scaled(places[k].weight).shape(ring_centre(coil, places[k])),
          bundle != nullptr ? Medium{0.0, metal.reluctivity} : metal,
          bundle != nullptr ? std::numeric_limits<double>::infinity() : skin_depth_of(metal, f_),
          true);
      model_.info.push_back({coil.conductor.material.name, t_.coil});
    }
    winding.conductor = round_conductor(coil.conductor, metal.conductivity);
    winding.ring_conductor =
        round_conductor(coil.conductor.scaled(places.front().weight), metal.conductivity);
    winding.helix = helix_of(coil, places);
    winding.leads = leads_of(coil, places, metal.conductivity);
    if (bundle != nullptr)
      winding.strands =
          Bundle{bundle->strands, bundle->strand / 2, metal.conductivity, bundle->lay};
  }

  FieldModel take() { return std::move(model_); }

 private:
  static double share_at(const Material& material, Temperature t) {
    return material.magnetisation ? magnetisation_share(*material.magnetisation, t) : 0.0;
  }

  [[nodiscard]] double thinnest_unmagnetic_skin(const Material& material,
                                                const TemperatureProfile& profile) const {
    double least = std::numeric_limits<double>::infinity();
    for (const TemperaturePoint& p : profile)
      least = std::min(least, skin_depth(material.conductivity(p.temperature),
                                         material.relative_permeability.value, f_));
    return least;
  }

  /// Depth at which a magnetic core begins under a non-magnetic skin, else the depth beyond which
  /// the temperature is constant; nothing if the field does not reach it.
  [[nodiscard]] std::optional<BuriedSkin> buried_skin(const Material& material,
                                                      const TemperatureProfile& profile,
                                                      double skin,
                                                      const EffectiveReluctivity* law) const {
    constexpr double dead = 5.0;  // skin depths
    const auto depth = depth_of_magnetism(profile, material);
    if (!depth || *depth > dead * skin) {
      const TemperaturePoint& last = profile.back();
      if (last.depth <= 0 || last.depth > dead * skin) return std::nullopt;
      return BuriedSkin{last.depth, skin_depth(material.conductivity(last.temperature),
                                               material.relative_permeability.value, f_)};
    }
    const auto coldest = std::min_element(profile.begin(), profile.end(),
                                          [](const TemperaturePoint& a, const TemperaturePoint& b) {
                                            return a.temperature < b.temperature;
                                          });
    const double here = field_ * std::exp(-*depth / skin);
    return BuriedSkin{*depth,
                      layering_skin_depth(*law, share_at(material, coldest->temperature),
                                          material.conductivity(coldest->temperature), f_, here)};
  }

  void add(std::string name, Shape shape, const Medium& medium, double depth, bool turn = false) {
    const bool magnetic = medium.reluctivity < 0.99 / mu0;
    model_.section.regions.push_back({std::move(name), std::move(shape), depth});
    model_.section.regions.back().bends_field = magnetic || turn;
    model_.media.push_back(medium);
  }

  const StateTemperatures t_;
  const Frequency f_;
  const double field_;  ///< inside the coil as a solenoid [A/m] rms
  FieldModel model_;
};

}  // namespace

Sizing sizing_for(Effort effort) {
  switch (effort) {
    case Effort::fast:
      return Sizing{}.scaled(1.4);
    case Effort::fine:
      return Sizing{}.scaled(0.6);
    case Effort::normal:
      break;
  }
  return Sizing{};
}

double allowed_error(Effort effort) {
  switch (effort) {
    case Effort::fast:
      return 1e-2;
    case Effort::fine:
      return 3e-4;
    case Effort::normal:
      break;
  }
  return 2e-3;
}

Temperature coil_temperature(const Coil& coil) {
  if (coil.temperature) return *coil.temperature;
  return coil.coolant ? coil.coolant->inlet : Temperature::celsius(20.0);
}

FieldModel field_model(const Heater& subject, const StateTemperatures& t, const Excitation& about) {
  ModelBuilder builder(t, about, about.current * field_per_ampere(subject.coil));
  if (subject.workpiece) {
    const Workpiece& work = *subject.workpiece;
    if (t.as_given && !work.temperature_profile.empty())
      builder.add_profiled("workpiece", work.material, work.outline, work.temperature_profile);
    else
      builder.add_body("workpiece", work.material, work.outline, t.work);
  }
  for (const Body& body : subject.bodies)
    if (!body.temperature_profile.empty())
      builder.add_profiled(body.name, body.material, body.outline, body.temperature_profile);
    else
      builder.add_body(body.name, body.material, body.outline, body.temperature.value_or(t.work));
  builder.add_turns(subject.coil);
  return builder.take();
}

}  // namespace cw
