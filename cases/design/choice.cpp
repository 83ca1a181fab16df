#include "cases/design/choice.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "cases/check/findings.hpp"
#include "solver/heater/rings.hpp"
#include "solver/heater/target.hpp"
#include "solver/run/coil_tube.hpp"

namespace cw::cases {

namespace {

// Common practice, no source.
constexpr double gap_to_work = 2e-3;         ///< clear, all round [m]
constexpr double gap_between_turns = 1e-3;   ///< of bare tube [m]
constexpr double share_between_turns = 0.3;  ///< of a thinner conductor's size

double rounded_up(double value, double step) {
  return step * std::ceil(value / step - 1e-9);
}

bool is_flat(const ShelfCase& shelf) {
  return shelf.subject.coil.shape == CoilShape::flat;
}

/// Outermost radius of what stands inside a coil round the work: the work, and bodies round it
/// without room for a turn between them [m].
double room_needed(const Case& subject) {
  const double turn = subject.coil.conductor.radial_size();
  double outer = extent_of(subject.workpiece->outline).outer;
  std::vector<OutlineExtent> bodies;
  for (const Body& body : subject.bodies) bodies.push_back(extent_of(body.outline));
  std::ranges::sort(bodies, {}, &OutlineExtent::inner);
  for (const OutlineExtent& body : bodies)
    if (body.inner < outer + turn) outer = std::max(outer, body.outer);
  return outer;
}

double stretch_length(const ShelfCase& shelf) {
  if (const auto& heated = shelf.subject.heat->heated) return heated->to - heated->from;
  const OutlineExtent work = extent_of(shelf.subject.workpiece->outline);
  return work.high - work.low;
}

/// A tenth of the stretch, where work and stretch do not have one middle.
double shift_step(const ShelfCase& shelf) {
  const auto& heated = shelf.subject.heat->heated;
  if (!shelf.position_free || !heated) return 0.0;
  const OutlineExtent work = extent_of(shelf.subject.workpiece->outline);
  const bool even = std::abs(heated->from + heated->to - work.low - work.high) < 1e-6;
  return even ? 0.0 : std::max(1e-3, rounded_up(0.1 * stretch_length(shelf), 5e-4));
}

Coil coil_of(const ShelfCase& shelf, const Choice& choice) {
  Coil coil = shelf.subject.coil;
  coil.turns = choice.turns;
  coil.bore = choice.bore;
  coil.pitch = choice.pitch;
  return coil;
}

/// Whole numbers from 1 to `most`, the larger ones further apart.
std::vector<double> turns_to_try(int most) {
  std::vector<double> turns;
  for (double n = 1; n <= most; n = std::max(n + 1, std::round(1.17 * n))) turns.push_back(n);
  return turns;
}

}  // namespace

ChoiceBounds choice_bounds(const ShelfCase& shelf) {
  const Conductor& metal = shelf.subject.coil.conductor;
  const double size = is_flat(shelf) ? metal.radial_size() : metal.axial_size();
  ChoiceBounds b;
  b.pitch_step = size >= 4e-3 ? 5e-4 : 1e-4;
  b.bore_step = size >= 4e-3 ? 1e-3 : 5e-4;
  b.least_pitch =
      rounded_up(size + std::min(gap_between_turns, share_between_turns * size), b.pitch_step);
  const double bend = std::visit([](const auto& s) { return 2 * s.least_bend(); }, metal.section) -
                      metal.radial_size();
  b.least_bore = rounded_up(
      std::max(bend, is_flat(shelf) ? 0.0 : 2 * (room_needed(shelf.subject) + gap_to_work)),
      b.bore_step);
  b.shift_step = shift_step(shelf);
  if (is_flat(shelf)) {
    b.most_length = 1e300;
    return b;
  }
  const double stretch = stretch_length(shelf);
  b.least_length = 0.4 * stretch;
  b.most_length = 2 * stretch + 3 * b.least_bore;
  return b;
}

double tube_needed(const ShelfCase& shelf, const Choice& choice) {
  return coil_tube(coil_of(shelf, choice)).length;
}

bool can_be_wound(const ShelfCase& shelf, const ChoiceBounds& bounds, const Choice& choice) {
  constexpr double rounding = 1e-9;
  if (choice.turns < 1 || (shelf.turns_free && choice.turns > bounds.most_turns)) return false;
  if (shelf.bore_free && choice.bore < bounds.least_bore - rounding) return false;
  if (shelf.pitch_free && choice.pitch < bounds.least_pitch - rounding) return false;
  const double length = choice.turns * choice.pitch;
  const bool free = shelf.turns_free && shelf.pitch_free;
  if (free && (length < bounds.least_length || length > bounds.most_length)) return false;
  const auto& on_hand = shelf.subject.shelf;
  return !on_hand || !on_hand->tube_length ||
         tube_needed(shelf, choice) <= *on_hand->tube_length + rounding;
}

std::vector<Choice> coils_to_try(const ShelfCase& shelf, const ChoiceBounds& bounds,
                                 std::size_t most) {
  std::vector<double> all_turns{shelf.first.turns}, bores{shelf.first.bore},
      pitches{shelf.first.pitch};
  if (shelf.turns_free) all_turns = turns_to_try(bounds.most_turns);
  if (shelf.bore_free) {
    bores.clear();
    for (const double share : {1.0, 1.25, 1.6})
      bores.push_back(rounded_up(share * bounds.least_bore, bounds.bore_step));
  }
  if (shelf.pitch_free) {
    pitches.clear();
    for (const double share : {1.0, 1.25, 1.6, 2.2})
      pitches.push_back(rounded_up(share * bounds.least_pitch, bounds.pitch_step));
  }
  std::vector<Choice> all;
  for (const double bore : bores)
    for (const double pitch : pitches)
      for (const double turns : all_turns) {
        Choice c = shelf.first;
        c.turns = turns;
        c.bore = bore;
        c.pitch = pitch;
        if (can_be_wound(shelf, bounds, c)) all.push_back(c);
      }
  if (all.size() <= most) return all;
  std::vector<Choice> some;
  for (std::size_t k = 0; k < most; ++k) some.push_back(all[k * all.size() / most]);
  return some;
}

std::vector<Choice> neighbours(const ShelfCase& shelf, const ChoiceBounds& bounds,
                               const Choice& choice) {
  std::vector<Choice> near;
  const auto add = [&](Choice c) {
    if (c != choice && can_be_wound(shelf, bounds, c)) near.push_back(c);
  };
  for (const int way : {-1, 1}) {
    Choice c = choice;
    c.turns += way;
    if (shelf.turns_free) add(c);
    Choice b = choice;
    b.bore = 1e-4 * std::round(1e4 * (b.bore + way * bounds.bore_step));
    if (shelf.bore_free) add(b);
    Choice p = choice;
    p.pitch = 1e-4 * std::round(1e4 * (p.pitch + way * bounds.pitch_step));
    if (shelf.pitch_free) add(p);
    Choice moved = choice;
    moved.shift += way * bounds.shift_step;
    add(moved);
    // A coil of the same length.
    Choice both = p;
    both.turns = std::round(choice.turns * choice.pitch / p.pitch);
    if (shelf.turns_free && shelf.pitch_free && both.turns != choice.turns) add(both);
  }
  return near;
}

std::vector<Choice> all_wirings(const ShelfCase& shelf, const Choice& coil) {
  if (!shelf.bank_free) return {coil};
  std::vector<Choice> all;
  for (int series = 1; series <= 2; ++series)
    for (int strings = 1; strings * series <= shelf.cans; ++strings) {
      Choice c = coil;
      c.strings = strings;
      c.in_series = series;
      all.push_back(c);
    }
  return all;
}

std::vector<Choice> wirings(const ShelfCase& shelf, const Choice& coil) {
  constexpr std::array shares = {1.0, 0.75, 0.55, 0.4, 0.3, 0.2, 0.1};
  if (!shelf.bank_free) return {coil};
  std::vector<Choice> some;
  for (int series = 1; series <= 2; ++series)
    for (const double share : shares) {
      Choice c = coil;
      c.in_series = series;
      c.strings = static_cast<int>(std::lround(share * shelf.cans / series));
      if (c.strings < 1 || (!some.empty() && some.back() == c)) continue;
      some.push_back(c);
    }
  return some;
}

}  // namespace cw::cases
