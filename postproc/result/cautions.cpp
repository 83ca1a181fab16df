#include "postproc/result/cautions.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "materials/figures.hpp"
#include "postproc/result/hazards.hpp"

namespace cw {

namespace {

/// Largest voltage across the coil over all states [V].
struct CoilVoltage {
  double rms = 0.0, peak = 0.0;
};

CoilVoltage largest_voltage(const Result& result) {
  CoilVoltage largest;
  for (const auto& state : result.states) {
    largest.rms = std::max(largest.rms, state.drive.voltage_rms);
    largest.peak = std::max(largest.peak, state.drive.voltage_rms * std::numbers::sqrt2);
    if (state.tank) {
      largest.rms = std::max(largest.rms, state.tank->voltage_rms);
      largest.peak = std::max(largest.peak, state.tank->voltage_peak);
    }
  }
  return largest;
}

Caution header() {
  return {"header",
          "These are calculated estimates for planning. They are not a safety approval. Local "
          "electrical, fire, radio and workplace rules come first; mains wiring, earthing and any "
          "permanent installation belong to a licensed person. Do not energise what you cannot "
          "switch off in one second from outside arm's reach.",
          standing_line() +
              " Do not energise what you cannot switch off in one second from outside arm's "
              "reach."};
}

// 24 V DC gives pi/sqrt(2) x 24 V = 53 V rms across the tank of an ideal current-fed pair (closed
// form, from memory).
Caution voltage(const Result& result) {
  const CoilVoltage coil = largest_voltage(result);
  const std::string computed =
      coil.rms > 0.0 ? fmt::format("{} rms, {} peak", figure(coil.rms, "V"), figure(coil.peak, "V"))
                     : "not computed in this run";
  return {
      "voltage",
      fmt::format("Voltage: a low-voltage supply does not make a low-voltage coil. Computed across "
                  "coil and leads: {}. Bare coil, its water and the capacitors are live. A "
                  "current-fed drive on more than about 24 V DC puts more than 50 V rms on the "
                  "tank. Limits for dry and wet skin differ; the local limits decide.",
                  computed),
      fmt::format("Voltage: {} across the coil. Bare coil, its water and the capacitors are live, "
                  "however low the supply.",
                  computed)};
}

std::string exposure_sentence(const Result& result) {
  if (!result.exposure || result.exposure->distances.empty()) {
    return "The stray field at a distance was not computed in this run.";
  }
  std::string sentence = "Computed stray field, rms:";
  const auto& exposure = *result.exposure;
  for (std::size_t i = 0; i < std::min(exposure.distances.size(), exposure.field_rms.size()); ++i) {
    sentence += fmt::format("{} {} at {} m", i == 0 ? "" : ",", figure(exposure.field_rms[i], "T"),
                            figure(exposure.distances[i]));
  }
  sentence += ".";
  if (exposure.keep_out) {
    sentence += fmt::format(" Keep-out distance {} m ({}).", figure(*exposure.keep_out),
                            exposure.reference);
  }
  return sentence;
}

Caution implants(const Result& result) {
  const bool known = result.exposure && result.exposure->keep_out;
  const std::string distance =
      known ? fmt::format(" Keep-out distance {} m.", figure(*result.exposure->keep_out)) : "";
  return {"implants",
          "Implants: people with pacemakers, defibrillators, pumps or metal implants keep out. "
          "Magnetic fields are known to disturb pacemakers, and iron nearby can raise the local "
          "field. " +
              exposure_sentence(result) + " Compare only with the limits adopted where you live.",
          "Implants: people with pacemakers, defibrillators, pumps or metal implants keep out." +
              distance};
}

Caution water() {
  return {"water",
          "Water and electricity: flow before power, a flow switch that stops the drive, a leak "
          "tray, no water over the melt or the drive. Drain before storage. Never add water to a "
          "dry hot coil. Water trapped under metal explodes as steam.",
          "Water: flow before power, with a flow switch and a leak tray. Never add water to a dry "
          "hot coil; water under hot metal explodes as steam."};
}

Caution hot_metal() {
  return {
      "hot_metal",
      "Hot metal: clothing, face and foot protection made for molten metal, dry moulds, no damp "
      "scrap. Closed hollows burst: tubes, hollow bolts, gas springs, brake and fuel lines.",
      "Hot metal: protective clothing, dry moulds, no damp scrap, no closed hollow parts - they "
      "burst."};
}

Caution model_limits() {
  return {"model_limits",
          "Limits of the model: round parts only, turns as rings, smooth material curves, no "
          "stirring of a melt, no stress from changes of phase. Read every figure with its band, "
          "and test at low voltage first.",
          "Model: round parts, turns as rings, smooth material curves, no melt stirring. Test at "
          "low voltage first."};
}

/// Adds the cautions that a tank and a DC supply require.
void add_for_circuit(const Result& result, std::vector<Caution>& list) {
  const auto any = [&](auto has) {
    return std::any_of(result.states.begin(), result.states.end(), has);
  };
  if (any([](const StateResult& s) { return s.tank.has_value(); })) {
    list.push_back(
        {"capacitors",
         "Capacitors may hold a charge or burst: bleed them, cover them, stand aside, protect the "
         "eyes.",
         "Capacitors may hold a charge or burst: bleed, cover, stand aside, protect the eyes."});
  }
  if (any([](const StateResult& s) { return s.supply.has_value(); })) {
    list.push_back({"supply",
                    "Supply: a fuse or fast breaker at the source. A battery delivers thousands of "
                    "amperes into a latched drive. Cable size by local code. Never stack supplies "
                    "in series without advice on their isolation.",
                    "Supply: fuse or fast breaker at the source; cable size by local code."});
  }
  // Emission rules for industrial, scientific and medical equipment begin at 9 kHz (CISPR 11,
  // scope; from memory).
  constexpr double radio_begins_hertz = 9e3;
  if (any([](const StateResult& s) { return s.frequency.hertz >= radio_begins_hertz; })) {
    list.push_back({"radio",
                    "Radio: the heater is a transmitter of sorts. Rules on emissions and on "
                    "electric induction equipment exist where you live. Short loop, screening, "
                    "filters; stop if it disturbs others.",
                    "Radio: rules on emissions exist; short loop, screening, filters; stop if it "
                    "disturbs others."});
  }
}

/// Adds the cautions that a heating run requires.
void add_for_heat(std::vector<Caution>& list) {
  list.push_back({"burns",
                  "Burns: high-frequency current through a small contact burns deeply and hardly "
                  "hurts at first. Hot metal looks cold in daylight below about 550 degC. Take off "
                  "rings, watches and belt buckles, and empty pockets of tools.",
                  "Burns: hot metal looks cold in daylight; take off rings, watches, buckles."});
  list.push_back({"fire_and_fume",
                  "Fire and fume: clear bench, an extinguisher for electrical and metal fire, "
                  "ventilation. Zinc and cadmium plating, brass, paint, oil, flux and galvanised "
                  "bolts give toxic fume; wear a mask against graphite and fibre dust.",
                  "Fire and fume: clear bench, extinguisher, ventilation; plating, paint and oil "
                  "give toxic fume."});
  list.push_back({"structures",
                  "Bolts and structures: heating changes heat-treated bolts, frames, springs and "
                  "anything that bears load. Do not reuse them; ask a qualified person.",
                  "Heated bolts, frames and springs lose their strength: do not reuse."});
  list.push_back({"eyes_and_hands",
                  "Eyes and hands: the glow is infrared as much as light. Shade lenses for long "
                  "viewing, gloves without metal.",
                  "Eyes and hands: shade lenses for long viewing, gloves without metal."});
  list.push_back({"supervision",
                  "Supervision: never unattended; two people for melts; learners only under an "
                  "instructor; keep the printed limits at the bench.",
                  "Never unattended; two people for melts; learners only under an instructor."});
}

}  // namespace

std::string standing_line() {
  return "Calculated estimates for planning, not a safety approval. Local electrical, fire, radio "
         "and workplace rules come first; mains wiring and earthing belong to a licensed person.";
}

// For the 24 V see voltage() above.
std::string voltage_rule() {
  return "Voltage: above about 24 V DC the tank of a push-pull stands at more than 50 V rms. Bare "
         "coil, its water and the capacitors are live, however low the supply.";
}

std::vector<Caution> cautions(const Result& result) {
  // Extra-low voltage in most rules ends at 50 V rms (IEC 60364-4-41, from memory).
  constexpr double touchable = 50.0;
  std::vector<Caution> list = hazards(result);
  if (largest_voltage(result).rms > touchable) list.push_back(voltage(result));
  add_for_circuit(result, list);
  if (result.heat) add_for_heat(list);
  for (Caution& caution : list) caution.triggered = true;
  list.insert(list.begin(), header());
  if (largest_voltage(result).rms <= touchable) list.push_back(voltage(result));
  for (Caution& caution : std::array{implants(result), water(), hot_metal(), model_limits()})
    list.push_back(std::move(caution));
  return list;
}

}  // namespace cw
