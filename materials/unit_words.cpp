#include "materials/unit_words.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <map>
#include <vector>

namespace cw {
namespace {

struct Row {
  Dimension dimension;
  DimensionWords words;
};

using D = Dimension;

constexpr std::array rows = {
    Row{D::length, {"a length", "m", "25 mm", "mm, cm, m, um, km, in, ft"}},
    Row{D::area, {"a section", "m2", "16 mm2", "mm2, cm2, m2"}},
    Row{D::time, {"a time", "s", "30 s", "s, ms, us, ns, min, h"}},
    Row{D::current, {"a current", "A", "30 A", "A, mA, kA, uA"}},
    Row{D::voltage, {"a voltage", "V", "36 V", "V, mV, kV, uV"}},
    Row{D::resistance, {"a resistance", "ohm", "0.4 mohm", "ohm, mohm, uohm, kohm, Mohm"}},
    Row{D::inductance, {"an inductance", "H", "1.2 uH", "uH, nH, mH, H"}},
    Row{D::capacitance, {"a capacitance", "F", "2 uF", "uF, nF, pF, mF, F"}},
    Row{D::frequency, {"a frequency", "Hz", "60 kHz", "kHz, Hz, MHz, GHz"}},
    Row{D::temperature, {"a temperature", "K", "20 degC", "degC, degF, K"}},
    Row{D::temperature_difference, {"a temperature difference", "K", "15 K", "K, degC, degF"}},
    Row{D::power, {"a power", "W", "500 W", "W, mW, kW, MW, VA, var, kvar"}},
    Row{D::energy, {"an energy", "J", "5 kJ", "J, kJ, MJ, Wh, kWh"}},
    Row{D::mass, {"a mass", "kg", "0.4 kg", "kg, g, mg, lb"}},
    Row{D::density, {"a density", "kg/m3", "7850 kg/m3", "kg/m3, g/cm3"}},
    Row{D::resistivity,
        {"a resistivity", "ohm m", "0.17 uohm m", "ohm m, uohm m, nohm m, uohm cm, ohm mm2/m"}},
    Row{D::thermal_conductivity,
        {"a thermal conductivity", "W/(m K)", "50 W/(m K)", "W/(m K), W/(cm K)"}},
    Row{D::heat_capacity,
        {"a heat capacity", "J/(kg K)", "460 J/(kg K)", "J/(kg K), kJ/(kg K), J/(g K)"}},
    Row{D::thermal_capacity, {"a heat capacity of a whole part", "J/K", "20 J/K", "J/K, kJ/K"}},
    Row{D::specific_energy,
        {"an energy per mass", "J/kg", "250 kJ/kg", "J/kg, kJ/kg, J/g, Wh/kg, kWh/kg"}},
    Row{D::flow, {"a volume flow", "m3/s", "0.5 L/min", "L/min, L/s, L/h, mL/s, m3/h, m3/s"}},
    Row{D::field_strength, {"a field strength", "A/m", "2 kA/m", "A/m, kA/m, A/cm"}},
    Row{D::flux_density, {"a flux density", "T", "1.6 T", "T, mT, uT, nT"}},
    Row{D::pressure, {"a pressure", "Pa", "2 bar", "bar, mbar, Pa, kPa, MPa, psi"}},
    Row{D::inductance_per_turn2,
        {"an inductance per turn squared", "H", "63 nH", "nH, uH, nH/turn2"}},
    Row{D::speed, {"a speed", "m/s", "5 mm/s", "mm/s, m/s, m/min, mm/min"}},
    Row{D::thermal_resistance, {"a thermal resistance", "K/W", "0.6 K/W", "K/W, K/kW"}},
    Row{D::heat_transfer, {"a heat transfer coefficient", "W/(m2 K)", "12 W/(m2 K)", "W/(m2 K)"}},
    Row{D::number, {"a plain number", "1", "0.8", "no unit, %"}},
};

/// A symbol, the one-letter prefixes that it may have, and its name in the unit database.
struct Symbol {
  std::string_view text, prefixes, name;
};

// Only prefixes that a heater needs, so that a wrong capital is reported and not read as peta or
// yocto.
constexpr std::array symbols = {
    Symbol{"m", "numck", "meter"},  // centi and kilo too
    Symbol{"s", "num", "second"},
    Symbol{"A", "umk", "ampere"},
    Symbol{"V", "umk", "volt"},
    Symbol{"ohm", "numkM", "ohm"},
    Symbol{"H", "pnum", "henry"},
    Symbol{"F", "pnum", "farad"},
    Symbol{"Hz", "kMG", "hertz"},
    Symbol{"K", "mk", "kelvin"},
    Symbol{"W", "umkM", "watt"},
    Symbol{"VA", "kM", "watt"},
    Symbol{"var", "kM", "watt"},
    Symbol{"J", "umkM", "joule"},
    Symbol{"g", "umk", "gram"},
    Symbol{"L", "m", "liter"},
    Symbol{"l", "m", "liter"},
    Symbol{"T", "num", "tesla"},
    Symbol{"Pa", "hkM", "pascal"},
    Symbol{"bar", "m", "bar"},
    Symbol{"psi", "", "psi"},
    Symbol{"in", "", "international_inch"},
    Symbol{"inch", "", "international_inch"},
    Symbol{"inches", "", "international_inch"},
    Symbol{"ft", "", "international_foot"},
    Symbol{"lb", "", "avoirdupois_pound"},
    Symbol{"sec", "", "second"},
    Symbol{"min", "", "minute"},
    Symbol{"minutes", "", "minute"},
    Symbol{"h", "", "hour"},
    Symbol{"hours", "", "hour"},
    Symbol{"degC", "", "kelvin"},  // inside a compound unit; alone it is handled earlier
    Symbol{"turn", "", "1"},
    Symbol{"turns", "", "1"},
    Symbol{"Wh", "", "watt*hour"},
    Symbol{"kWh", "", "kilowatt*hour"},
};

std::string_view prefix_name(char prefix) {
  switch (prefix) {
    case 'p':
      return "pico";
    case 'n':
      return "nano";
    case 'u':
      return "micro";
    case 'm':
      return "milli";
    case 'c':
      return "centi";
    case 'h':
      return "hecto";
    case 'k':
      return "kilo";
    case 'M':
      return "mega";
    case 'G':
      return "giga";
    default:
      assert(false && "prefix without a name");
      return "";
  }
}

const std::map<std::string, std::string, std::less<>>& dictionary() {
  static const auto names = [] {
    std::map<std::string, std::string, std::less<>> map;
    for (const Symbol& s : symbols) {
      map.emplace(s.text, s.name);
      for (const char p : s.prefixes) {
        map.emplace(std::string(1, p).append(s.text), std::string(prefix_name(p)).append(s.name));
      }
    }
    return map;
  }();
  return names;
}

}  // namespace

const DimensionWords& words_of(Dimension d) {
  const auto* row =
      std::find_if(rows.begin(), rows.end(), [d](const Row& r) { return r.dimension == d; });
  assert(row != rows.end() && "every dimension has its row");
  return row->words;
}

std::string_view database_name(std::string_view symbol) {
  const auto& names = dictionary();
  const auto found = names.find(symbol);
  return found == names.end() ? std::string_view() : std::string_view(found->second);
}

std::span<const std::string> all_symbols() {
  static const auto list = [] {
    std::vector<std::string> words;
    for (const auto& [symbol, name] : dictionary()) words.push_back(symbol);
    return words;
  }();
  return list;
}

}  // namespace cw
