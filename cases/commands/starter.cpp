#include "cases/commands/starter.hpp"

#include <array>
#include <stdexcept>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "materials/nearest.hpp"

namespace cw::cases {

namespace {

constexpr std::string_view bar_work =
    R"toml(# A bar in a helix. Quantities stand in quotes with their unit; # starts a remark; what is left out takes its default.
title = "Bar in a helix"

[workpiece]
material    = "steel-medium-carbon"  # a name listed by `coilwright materials`, or the path of a material file
diameter    = "14 mm"
# bore      = "6 mm"                 # for a hollow part
length      = "100 mm"
centre      = "0 mm"                 # its middle on the axis; the coil's middle is z = 0
temperature = "20 degC"              # at the start

# [[body]]                           # anything else in the field; one [[body]] for each
# name     = "sleeve"
# material = "ceramic-fibre"
# profile  = [["9 mm", "-35 mm"], ["12 mm", "-35 mm"], ["12 mm", "35 mm"], ["9 mm", "35 mm"]]  # (r, z) corners

[coil]
shape     = "helix"                  # helix, flat, cone (with bore_end) or rings (with ring = [{ r, z }, ...])
turns     = 8
bore      = "30 mm"                  # clear inside diameter
pitch     = "7.5 mm"                 # from turn to turn; or gap = "1.5 mm" between them
conductor = { tube = "6 mm", wall = "1 mm", material = "copper-tube" }
# or: { wire = "3 mm" }, { bar = ["8 mm", "4 mm"], wall = "1 mm" } (radial, axial),
#     { strands = 400, strand = "0.1 mm", bundle = "5 mm" }
leads     = { length = "120 mm", spacing = "20 mm" }    # one way, centre to centre
coolant   = { flow = "0.5 L/min", inlet = "20 degC" }   # left out: in still air
)toml";

constexpr std::string_view cup_work =
    R"toml(# A charge in a conducting cup: the cup takes the heat and hands it on. Quantities stand in quotes with their unit.
title = "Charge in a graphite cup"

[workpiece]                          # the cup, by the corners (r, z) of one half of its section
material    = "graphite"
profile     = [["0 mm", "-30 mm"], ["18 mm", "-30 mm"], ["18 mm", "30 mm"],
               ["13 mm", "30 mm"], ["13 mm", "-24 mm"], ["0 mm", "-24 mm"]]
temperature = "20 degC"

[[body]]                             # the charge as one piece that fills the bottom of the cup
name     = "charge"
material = "tin-bronze"              # a name listed by `coilwright materials`, or the path of a material file
diameter = "26 mm"
length   = "24 mm"
centre   = "-12 mm"
useful   = true                      # its heat counts in the efficiency

[[body]]                             # the wrap that keeps the heat in
name     = "wrap"
material = "ceramic-fibre"
diameter = "58 mm"
bore     = "36 mm"
length   = "60 mm"

[coil]
shape     = "helix"
turns     = 7
bore      = "62 mm"                  # clear inside diameter
pitch     = "9.5 mm"                 # from turn to turn; or gap = "1.5 mm" between them
conductor = { tube = "8 mm", wall = "1 mm", material = "copper-tube" }
leads     = { length = "150 mm", spacing = "25 mm" }    # one way, centre to centre
coolant   = { flow = "1 L/min", inlet = "20 degC" }
)toml";

constexpr std::string_view pancake_work =
    R"toml(# A disc over a flat coil. Quantities stand in quotes with their unit.
title = "Disc over a flat coil"

[workpiece]
material    = "steel-medium-carbon"  # a name listed by `coilwright materials`, or the path of a material file
diameter    = "50 mm"
length      = "6 mm"
centre      = "9 mm"                 # its middle on the axis; the coil lies in the plane z = 0
temperature = "20 degC"

[coil]
shape     = "flat"
turns     = 5
bore      = "14 mm"                  # clear inside the innermost turn
pitch     = "6.5 mm"                 # from turn to turn along the radius
conductor = { tube = "4.76 mm", wall = "0.8 mm", material = "copper-tube" }
leads     = { length = "150 mm", spacing = "12 mm" }    # one way, centre to centre
coolant   = { flow = "0.4 L/min", inlet = "20 degC" }   # left out: in still air
)toml";

constexpr std::string_view empty_work =
    R"toml(# A coil without a workpiece: its inductance, its loss, and where the empty tank rings.
title = "Empty coil"

[coil]
shape     = "helix"                  # helix, flat, cone (with bore_end) or rings (with ring = [{ r, z }, ...])
turns     = 8
bore      = "30 mm"                  # clear inside diameter
pitch     = "7.5 mm"                 # from turn to turn; or gap = "1.5 mm" between them
conductor = { tube = "6 mm", wall = "1 mm", material = "copper-tube" }
leads     = { length = "120 mm", spacing = "20 mm" }    # one way, centre to centre
coolant   = { flow = "0.5 L/min", inlet = "20 degC" }   # left out: in still air
)toml";

constexpr std::string_view starter_supply = R"toml(
[tank]
capacitance        = "2 uF"          # of the whole bank
dissipation_factor = 8e-4            # from the data sheet, near the working frequency
# esr              = "0.5 mohm"      # series resistance of the whole bank, where the data sheet gives it beside the other
# esl              = "5 nH"          # own inductance of the whole bank, its bars included
cans               = 20              # equal cans in parallel
# can_limits       = { current = "9 A", voltage = "150 V" }   # rms, for one can, only what its data sheet says; also
#                                                             # loss = "1.5 W", reactive_power = "500 var"
joints             = { resistance = "0.4 mohm", inductance = "20 nH" }

[drive]                              # or: kind = "current" (or "voltage", "series"), frequency = "100 kHz", rms = "100 A"
kind         = "push-pull"
supply       = "36 V"
supply_limit = "32 A"
limit_kind   = "fold"                # fold, trip or hiccup: what the supply does at its limit
# battery_resistance = "12 mohm"     # inside the battery; left out: a set voltage
# cable      = { length = "2 m", section = "16 mm2" }   # one way; or { resistance = "4 mohm" }, both wires and the fuse
# fuse       = "40 A"                # rating of fuse or breaker
# switch may also have drop = "1 V" (beside the resistance) and gate_time = "100 ns" (to switch over)
switch       = { resistance = "10 mohm", voltage_limit = "150 V" }
choke        = { count = 2, inductance = "150 uH", resistance = "14 mohm", saturation = "25 A" }
)toml";

constexpr std::string_view bar_heat = R"toml(
[heat]                               # left out: only the states that need no heating run
target       = "820 degC"
target_at    = "coldest"             # surface, centre, mean or coldest, within the heated stretch
heated       = ["-20 mm", "20 mm"]   # left out: the part inside the coil
until        = "300 s"
surroundings = "20 degC"
# emissivity = 0.8                   # of the workpiece; left out: the material's

# [sweep]                            # for `coilwright sweep`
# vary = [{ key = "coil.turns", values = [6, 7, 8, 9] },
#         { key = "coil.pitch", from = "7 mm", to = "12 mm", count = 6 }]
# rank = "heat.time_to_target_s"
)toml";

constexpr std::string_view cup_heat = R"toml(
[heat]
target       = "1130 degC"
target_at    = "mean"
target_of    = "charge"              # left out: the only useful body, else the workpiece
heated       = ["-30 mm", "30 mm"]
until        = "900 s"
surroundings = "20 degC"
)toml";

constexpr std::string_view pancake_heat = R"toml(
[heat]
target       = "300 degC"
target_at    = "mean"
heated       = ["6 mm", "12 mm"]
until        = "120 s"
surroundings = "20 degC"
)toml";

constexpr std::string_view sweep_work =
    R"toml(# Choosing a coil: `coilwright sweep FILE` solves every combination of the values in [sweep] and ranks them.
# Everything above [sweep] is an ordinary case; what a key in [sweep] lists takes the place of its value here.
title = "Which coil for the bar"

[workpiece]
material    = "steel-medium-carbon"
diameter    = "14 mm"
length      = "100 mm"

[coil]
turns     = 8
bore      = "30 mm"
pitch     = "7.5 mm"
conductor = { tube = "6 mm", wall = "1 mm", material = "copper-tube" }
leads     = { length = "120 mm", spacing = "20 mm" }
coolant   = { flow = "0.5 L/min", inlet = "20 degC" }
)toml";

constexpr std::string_view sweep_plan = R"toml(
[sweep]
# Any key of the case: a list of values, or a range in steps. Combinations that do not go together are told with the
# reason, and the rest goes on.
vary = [{ key = "coil.turns", values = [7, 8, 9] },
        { key = "coil.pitch", from = "6.5 mm", to = "8.5 mm", count = 2 },
        { key = "drive.supply", values = ["15 V", "18 V"] }]
# What to rank by: any key of result.json, states by name; - in front for largest first.
rank    = "-states.cold.power.workpiece_W"
# against = "states.cold.supply.demand_A"       # a second key, for the chart of what the first costs in it
# Designs that break the rating of a part are ranked apart; what else they must keep:
require = [{ key = "states.cold.efficiency", least = 0.5 }]
# sampling  = { kind = "latin-hypercube", count = 100 }   # or "sobol": draws designs instead of trying all
# optimiser = { evaluations = 60, starts = 2 }            # for `coilwright sweep FILE --optimise`
)toml";

struct Starter {
  std::string_view work, heat;
};

constexpr std::array<std::string_view, 5> starter_names = {"bar", "cup", "pancake", "empty",
                                                           "sweep"};
constexpr std::array<Starter, 5> starters = {
    Starter{bar_work, bar_heat}, Starter{cup_work, cup_heat}, Starter{pancake_work, pancake_heat},
    Starter{empty_work, ""}, Starter{sweep_work, sweep_plan}};

}  // namespace

std::span<const std::string_view> starter_kinds() {
  return starter_names;
}

std::string starter_case(std::string_view kind) {
  if (kind.empty()) kind = starter_names.front();
  for (std::size_t i = 0; i < starter_names.size(); ++i) {
    if (starter_names[i] == kind)
      return fmt::format("{}{}{}", starters[i].work, starter_supply, starters[i].heat);
  }
  const std::vector<std::string> known(starter_names.begin(), starter_names.end());
  const auto near = nearest(kind, known);
  throw std::invalid_argument(fmt::format("found no starter case \"{}\"; allowed: {}; write {}",
                                          kind, fmt::join(starter_names, ", "),
                                          near.value_or(known.front())));
}

}  // namespace cw::cases
