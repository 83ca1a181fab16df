#include "postproc/making/heater_netlist.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

#include "materials/figures.hpp"
#include "materials/one_line.hpp"
#include "postproc/result/cautions.hpp"

namespace cw {

namespace {

constexpr int periods_shown = 40;

bool can_be_shown(const StateResult& state) {
  return state.tank && state.supply && state.frequency.hertz > 0.0 && state.coil.inductance > 0.0;
}

/// The DC side that belongs to tank and powers of the state: if the supply stopped, with the
/// demanded current.
struct SupplySide {
  double voltage = 0.0;  ///< of the source itself [V]
  double current = 0.0;  ///< [A]
};

SupplySide supply_side(const PushPullDrive& drive, const SupplyResult& supply) {
  if (supply.current <= 0.0) return {drive.supply, supply.demand};
  const double inside = drive.battery_resistance.value_or(0.0);
  return {supply.voltage + supply.current * inside, supply.current};
}

/// Both wires and the fuse [ohm]: their loss over the square of the current.
double cable_of(const StateResult& state, const SupplySide& side) {
  const double current = side.current;
  return current > 0.0 ? state.power.cable.value_or(0.0) / (current * current) : 0.0;
}

/// Periods until the transient of the start has decayed: five time constants of the tank as seen
/// from the supply (2/pi Q periods), or of the chokes into it.
int periods_to_settle(const PushPullDrive& drive, const StateResult& state) {
  const SupplySide side = supply_side(drive, *state.supply);
  const double tank = 0.64 * state.tank->loaded_q;
  const double effective = state.tank->voltage_peak / 3.14;
  const double choke = std::isfinite(drive.choke.inductance)
                           ? drive.choke.inductance / drive.choke.count * side.current / effective *
                                 state.frequency.hertz
                           : 0.0;
  return static_cast<int>(std::clamp(std::ceil(5.0 * (tank + choke)), 60.0, 600.0));
}

/// The parameters that differ from state to state.
std::string state_parameters(const PushPullDrive& drive, const StateResult& state) {
  const CoilResult& coil = state.coil;
  const SupplySide side = supply_side(drive, *state.supply);
  const double winding =
      std::min(coil.conductor_resistance, coil.resistance - coil.lead_resistance);
  const double work = coil.resistance - coil.lead_resistance - winding;
  return fmt::format(
      ".param f0={:.8g} lcoil={:.8g} rwinding={:.8g} rwork={:.8g} lleads={:.8g} rleads={:.8g} "
      "vsupply={:.8g} vpeak={:.8g} imean={:.8g} settle={}\n",
      state.frequency.hertz, coil.inductance - coil.lead_inductance, winding, std::max(work, 0.0),
      coil.lead_inductance, coil.lead_resistance, side.voltage, state.tank->voltage_peak,
      side.current, periods_to_settle(drive, state));
}

std::string found_line(const PushPullDrive& drive, const StateResult& state) {
  const bool stopped = state.supply->current <= 0.0;
  return fmt::format("* {}: {}, {} rms at the tank, {} from the supply{}\n", state.name,
                     figure(state.frequency.hertz, "Hz"), figure(state.tank->voltage_rms, "V"),
                     figure(supply_side(drive, *state.supply).current, "A"),
                     stopped                 ? ", at which it stops"
                     : state.supply->limited ? ", folded back to its limit"
                                             : "");
}

/// Elements in series; one of value zero is left out.
class Branch {
 public:
  explicit Branch(std::string from) : at_(std::move(from)) {}
  /// `name` begins with the kind of element; `value` is a number or {parameter}.
  Branch& then(const std::string& name, const std::string& value, bool there = true) {
    if (there) elements_.push_back({name, value});
    return *this;
  }
  /// Lines of all elements; the last one ends at `to`.
  [[nodiscard]] std::string to(const std::string& end) const {
    std::string text, from = at_;
    for (std::size_t i = 0; i < elements_.size(); ++i) {
      const auto& [name, value] = elements_[i];
      const std::string next = i + 1 < elements_.size() ? "after_" + name : end;
      text += fmt::format("{} {} {} {}\n", name, from, next, value);
      from = next;
    }
    return text;
  }

 private:
  std::string at_;
  std::vector<std::pair<std::string, std::string>> elements_;
};

std::string netlist_heading(const Result& result, const StateResult& state) {
  return fmt::format(
      "* {}\n"
      "* The heater of this run as a circuit, written by coilwright {}. Run it:\n"
      "*   ngspice -b heater.cir\n"
      "* It prints frequency [Hz], rms voltage between the ends of the tank [V] and mean current\n"
      "* of the supply [A]. The run found these in the state \"{}\":\n",
      one_line(result.title), one_line(result.build.version), state.name);
}

constexpr const char* netlist_words =
    "*\n"
    "* A heater runs at high voltage and current, and a simulation switches nothing off.\n"
    "*\n"
    "* The coil with the work in it is linear here: steel that saturates is as it is in this very\n"
    "* state. Coil and work are two coupled inductances that have its inductance lcoil and the\n"
    "* resistance rwork that the work adds to the winding's at f0 exactly:\n"
    "*   w0 = 2 pi f0, q = 1 (2 rwork/(w0 lcoil) where that is more)\n"
    "*   lprimary = lcoil + q rwork/w0, kwork^2 = rwork (1 + q^2)/(q w0 lprimary)\n"
    "*   rsecondary = w0 lsecondary/q, lsecondary = lprimary\n"
    "* Other states: put a * before the .param of this one, take it from that of another.\n"
    "*\n"
    "* Start: the tank is charged and the chokes carry their mean current (start=1), so that\n"
    "* little has to settle. From rest: start=0.02 is the kick that sets it going, settle=300 the\n"
    "* time it takes. Without any (start=0) both switches stay closed: the pair latches. A supply\n"
    "* here has no limit.\n"
    "* Each switch is closed while the other end of the tank is positive, by the voltage of the\n"
    "* capacitor itself, with a hysteresis vhys of 0.2 %.\n";

std::string circuit_constants(const Tank& tank, const PushPullDrive& drive,
                              const StateResult& state) {
  const double path = std::max(drive.transistor.resistance, 1e-6);  // the switch model needs some
                                                                    // resistance
  const bool ideal = !std::isfinite(drive.choke.inductance);
  std::string text = fmt::format(
      ".param cbank={:.8g} esr={:.8g} tandelta={:.8g} esl={:.8g} rjoints={:.8g} ljoints={:.8g}\n",
      tank.capacitance, tank.esr, tank.dissipation_factor.value_or(0.0), tank.esl,
      tank.joints.resistance, tank.joints.inductance);
  if (ideal) text += "* Ideal chokes: a hundred times the coil's inductance stands for them.\n";
  text += fmt::format(
      ".param lchoke={:.8g} rchoke={:.8g} ron={:.8g} vdrop={:.8g}\n"
      ".param start=1 shown={}\n",
      ideal ? 100.0 * state.coil.inductance : drive.choke.inductance, drive.choke.resistance, path,
      drive.transistor.drop, periods_shown);
  return text +
         ".param w0={2*3.14159265358979*f0}\n"
         ".param q={max(1,2*rwork/(w0*lcoil))}\n"
         ".param lprimary={lcoil+q*rwork/w0}\n"
         ".param kwork={sqrt(rwork*(1+q*q)/(q*w0*lprimary))}\n"
         ".param rsecondary={w0*lprimary/q}\n"
         ".param rbank={esr+tandelta/(w0*cbank)} vhys={0.002*vpeak}\n";
}

std::string supply_lines(const PushPullDrive& drive, double cable) {
  std::string text = "\n* supply, with its ammeter\nVsupply source 0 {vsupply}\n";
  text += Branch("source")
              .then("Rbattery", fmt::format("{:.8g}", drive.battery_resistance.value_or(0.0)),
                    drive.battery_resistance.value_or(0.0) > 0.0)
              .then("Rcable", fmt::format("{:.8g}", cable), cable > 0.0)
              .then("Vmeter", "0")
              .to("feed");
  const bool lossy = drive.choke.resistance > 0.0;
  if (drive.choke.count == 1)
    return text + "* one feed choke, into the middle of the coil\n" +
           Branch("feed")
               .then("Rchoke", "{rchoke}", lossy)
               .then("Lchoke", "{lchoke} ic={start*imean}")
               .to("tap");
  text += "* feed chokes\n";
  for (const char* n : {"1", "2"})
    text += Branch("feed")
                .then(fmt::format("Rchoke{}", n), "{rchoke}", lossy)
                .then(fmt::format("Lchoke{}", n), "{lchoke} ic={start*imean/2}")
                .to(fmt::format("d{}", n));
  return text;
}

std::string switch_lines(const PushPullDrive& drive) {
  const bool drop = drive.transistor.drop > 0.0;
  std::string text = fmt::format(
      "\n* switches, and what capacitance any transistor has\n"
      "S1 d1 {0} d2 bank pair on\nS2 d2 {1} bank d2 pair off\n",
      drop ? "s1" : "0", drop ? "s2" : "0");
  if (drop) text += "Vdrop1 s1 0 {vdrop}\nVdrop2 s2 0 {vdrop}\n";
  return text +
         ".model pair sw(ron={ron} roff=1meg vt=0 vh={vhys})\n"
         "Coff1 d1 0 1n\nCoff2 d2 0 1n\n";
}

std::string tank_lines(const Tank& tank) {
  const bool lossy = tank.esr > 0.0 || tank.dissipation_factor.value_or(0.0) > 0.0;
  std::string text = "\n* capacitors\n";
  // If there is none of them, the bank's own node still needs a name.
  text += Branch("d1")
              .then("Resr", lossy ? "{rbank}" : "1n")
              .then("Lesl", "{esl} ic=0", tank.esl > 0.0)
              .to("bank");
  text += "Cbank bank d2 {cbank} ic={-start*vpeak}\n";
  if (tank.esl > 0.0)
    text +=
        "* The current cannot change over within no time through esl: a damper across it, of a\n"
        "* thousandth part of the bank.\n"
        "Rdamp d1 damp {sqrt(1000*esl/cbank)}\nCdamp damp d2 {cbank/1000}\n";
  return text;
}

/// Joints, leads and winding in series; a `share` of each, with the initial current.
Branch coil_branch(const Branch& from, const Heater& heater, const StateResult& state,
                   const std::string& half, const std::string& current) {
  const Joints& joints = heater.tank->joints;
  const std::string part = half.empty() ? "" : "/2";
  const auto value = [&](const char* name) { return fmt::format("{{{}{}}}", name, part); };
  const auto coil = [&](const char* name) { return value(name) + current; };
  Branch branch = from;
  branch.then("Rjoints" + half, value("rjoints"), joints.resistance > 0.0)
      .then("Ljoints" + half, coil("ljoints"), joints.inductance > 0.0)
      .then("Rleads" + half, value("rleads"), state.coil.lead_resistance > 0.0)
      .then("Lleads" + half, coil("lleads"), state.coil.lead_inductance > 0.0)
      .then("Rwinding" + half, value("rwinding"), state.coil.conductor_resistance > 0.0);
  return branch;
}

/// Whether any of its states has work that takes power.
bool has_work(const Result& result) {
  return std::ranges::any_of(result.states, [](const StateResult& s) {
    return can_be_shown(s) &&
           s.coil.resistance - s.coil.lead_resistance > s.coil.conductor_resistance * (1.0 + 1e-9);
  });
}

std::string whole_coil(const Result& result, const StateResult& state) {
  std::string text = "\n* joints, leads, coil and work\n" +
                     coil_branch(Branch("d1"), *result.heater, state, "", " ic=0")
                         .then("Lprimary", "{lprimary} ic=0")
                         .to("d2");
  if (!has_work(result)) return text;
  return text +
         "Lsecondary work 0 {lprimary} ic=0\nRsecondary work 0 {rsecondary}\n"
         "Kwork Lprimary Lsecondary {max(kwork,1e-6)}\n";
}

/// Two halves from a centre tap, with almost full coupling.
std::string tapped_coil(const Result& result, const StateResult& state) {
  const std::string in = " ic={-start*imean/2}", out = " ic={start*imean/2}";
  std::string text = "\n* joints, leads, coil in two halves, and work\n.param khalves=0.9999\n";
  text += coil_branch(Branch("d1"), *result.heater, state, "1", in)
              .then("Lprimary1", "{lprimary/(2*(1+khalves))}" + in)
              .to("tap");
  // From the tap to the other end, so in reverse order.
  text += coil_branch(Branch("tap").then("Lprimary2", "{lprimary/(2*(1+khalves))}" + out),
                      *result.heater, state, "2", out)
              .to("d2");
  text += "Khalves Lprimary1 Lprimary2 {khalves}\n";
  if (!has_work(result)) return text;
  text += "Lsecondary work 0 {lprimary} ic=0\nRsecondary work 0 {rsecondary}\n";
  for (const char* n : {"1", "2"})
    text +=
        fmt::format("Kwork{0} Lprimary{0} Lsecondary {{max(kwork,1e-6)*sqrt((1+khalves)/2)}}\n", n);
  return text;
}

constexpr const char* netlist_analysis =
    "\n* Measurements and analysis\nEtank tank 0 d1 d2 1\n"
    "Ecapacitor capacitor 0 bank d2 1\n"
    ".param from={settle/f0} until={(settle+shown)/f0}\n"
    ".tran {1/(200*f0)} {until} 0 {1/(400*f0)} uic\n"
    ".meas tran thirty_periods trig v(capacitor) val=0 td={from} rise=1\n"
    "+ targ v(capacitor) val=0 td={from} rise=31\n"
    ".meas tran frequency param='30/thirty_periods'\n"
    ".meas tran tank_rms rms v(tank) from={from} to={until}\n"
    ".meas tran supply_mean avg i(Vmeter) from={from} to={until}\n"
    ".meas tran switch_peak max v(d1) from={from} to={until}\n"
    ".end\n";

}  // namespace

/// The drive of the result's heater if it is a push-pull; else null.
const PushPullDrive* push_pull_of(const Result& result) {
  return result.heater ? std::get_if<PushPullDrive>(&result.heater->drive) : nullptr;
}

std::optional<std::size_t> netlist_state(const Result& result) {
  if (push_pull_of(result) == nullptr || !result.heater->tank) return {};
  std::optional<std::size_t> first;
  for (std::size_t i = 0; i < result.states.size(); ++i) {
    if (!can_be_shown(result.states[i])) continue;
    if (result.states[i].name != "empty") return i;
    if (!first) first = i;
  }
  return first;
}

std::string heater_netlist(const Result& result, std::size_t state) {
  const PushPullDrive* drive = push_pull_of(result);
  assert(drive != nullptr && result.heater->tank && can_be_shown(result.states.at(state)));
  const StateResult& shown = result.states[state];
  const Tank& tank = *result.heater->tank;
  std::string text = netlist_heading(result, shown) + found_line(*drive, shown) + netlist_words +
                     "* " + standing_line() + "\n\n";
  for (std::size_t i = 0; i < result.states.size(); ++i) {
    if (!can_be_shown(result.states[i])) continue;
    text += found_line(*drive, result.states[i]);
    text += (i == state ? "" : "*") + state_parameters(*drive, result.states[i]);
  }
  text += "\n" + circuit_constants(tank, *drive, shown);
  text += supply_lines(*drive, cable_of(shown, supply_side(*drive, *shown.supply)));
  text += switch_lines(*drive) + tank_lines(tank);
  text += drive->choke.count == 1 ? tapped_coil(result, shown) : whole_coil(result, shown);
  return text + netlist_analysis;
}

}  // namespace cw
