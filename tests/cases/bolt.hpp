#pragma once

#include <string>

namespace cw::cases {

/// A bolt in an unsuitable coil: a few wide turns that demand several times what the supply gives.
/// No [heat].
inline const std::string bolt = R"(title = "Bolt for bending"
[workpiece]
material = "steel-low-carbon"
diameter = "10.9 mm"      # under the rust
length   = "80 mm"
[coil]
shape     = "helix"
turns     = 6
bore      = "22 mm"
pitch     = "8 mm"
conductor = { tube = "6 mm", wall = "1 mm", material = "copper-tube" }
[tank]
capacitance = "3.3 uF"
cans        = 10
dissipation_factor = 8e-4
can_limits  = { current = "20 A", voltage = "200 V" }
[drive]
kind         = "push-pull"
supply       = "24 V"
supply_limit = "20 A"
limit_kind   = "fold"
switch       = { resistance = "10 mohm" }
choke        = { count = 2, inductance = "150 uH", resistance = "14 mohm" }
)";

/// The same with a target.
inline const std::string bolt_to_900 = bolt + "[heat]\ntarget = \"900 degC\"\nuntil  = \"180 s\"\n";

}  // namespace cw::cases
