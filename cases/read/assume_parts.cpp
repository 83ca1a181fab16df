#include "cases/read/assume_parts.hpp"

#include <algorithm>
#include <array>

#include "cases/assumed.hpp"
#include "cases/check/findings.hpp"
#include "materials/usual_parts.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

/// Dissipation factor of polypropylene film, terminals included, near 10 to 100 kHz. Makers state
/// as typical 5e-4 at 1 kHz, 8e-4 at 10 kHz and 25e-4 at 100 kHz (general tables of film
/// dielectrics); power and pulse capacitors with foil or double metallisation have about 1e-3 there
/// (from memory).
constexpr double film_dissipation = 1e-3;

/// Common inductances of chokes for this use, then the steps of the E6 series (IEC 60063).
constexpr std::array choke_steps = {47e-6,  68e-6, 100e-6, 150e-6, 220e-6, 330e-6, 470e-6,
                                    680e-6, 1e-3,  1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3,
                                    10e-3,  15e-3, 22e-3,  33e-3,  47e-3,  68e-3,  100e-3};

/// The drive's model needs ten times the loaded coil with its joints (harmonic_error() in
/// solver/circuit); twice that leaves a margin for steel in the coil and for leads.
constexpr double choke_over_coil = 20.0;

/// Whether the coil's sizes are in range, so that its inductance can be estimated.
bool coil_is_sound(const Case& subject) {
  Findings findings{subject};
  check_sizes(findings);
  return std::ranges::none_of(
      findings.errors, [](const Complaint& error) { return error.key.starts_with("coil."); });
}

}  // namespace

double usual_choke(const Coil& coil) {
  const double least = choke_over_coil * rough_inductance(coil);
  const auto* const step = std::ranges::lower_bound(choke_steps, least);
  return step != choke_steps.end() ? *step : choke_steps.back();
}

void assume_parts(const Reading& reading, Case& to) {
  const auto written = [&](const char* key) { return reading.where.at.contains(key); };
  auto* const pair = std::get_if<PushPullDrive>(&to.drive);
  if (tank_use(to.drive) != TankUse::none && to.tank && !written("tank.dissipation_factor") &&
      !written("tank.esr"))
    to.tank->dissipation_factor = film_dissipation;
  if (pair == nullptr || !reading.complaints.empty()) return;
  if (!written("drive.choke"))
    pair->choke.inductance = coil_is_sound(to) ? usual_choke(to.coil) : choke_steps.front();
  if (!written("drive.choke.resistance"))
    pair->choke.resistance = usual_choke_resistance(pair->choke.inductance);
  if (!written("drive.switch.resistance") && !written("drive.switch.drop"))
    pair->transistor.resistance = usual_on_resistance(usual_rating(*pair)).value_or(0.0);
}

}  // namespace cw::cases
