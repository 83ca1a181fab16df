#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "cases/check/findings.hpp"
#include "cases/parts.hpp"
#include "cases/wording.hpp"
#include "mesh/planar/outline.hpp"

namespace cw::cases {

namespace {

constexpr std::size_t most_corners = 500;

void check_corners(Findings& findings, const PartView& part) {
  const auto& profile = part.outline.profile;
  for (std::size_t i = 0; i < profile.size(); ++i) {
    const std::string key = fmt::format("{}.profile.{}", part.key, i);
    if (profile[i].r < 0.0) {
      findings.error(key, fmt::format("found a corner at r = {}; allowed: 0 mm (on the axis) and "
                                      "above; only one half of the section is given",
                                      mm(profile[i].r)));
    }
    if (std::max(profile[i].r, std::abs(profile[i].z)) > 5.0) {
      findings.error(
          key,
          fmt::format("found a corner at r = {}, z = {}; allowed: within 5 m; is the unit right?",
                      mm(profile[i].r), mm(profile[i].z)));
    }
    const Point& next = profile[(i + 1) % profile.size()];
    if (std::hypot(profile[i].r - next.r, profile[i].z - next.z) > touching) continue;
    findings.error(
        key,
        i + 1 == profile.size()
            ? "found the first corner again at the end; the outline closes by itself: remove it"
            : "found the same corner twice; remove one");
  }
}

/// Whether an outline can be used: at least three corners, none twice, some area, no crossing.
bool check_profile(Findings& findings, const PartView& part) {
  const auto& profile = part.outline.profile;
  const std::size_t before = findings.errors.size();
  const std::string key = part.key + ".profile";
  if (profile.size() < 3 || profile.size() > most_corners) {
    findings.error(key,
                   fmt::format("found {} corners; allowed: 3 to {}", profile.size(), most_corners));
    return false;
  }
  check_corners(findings, part);
  if (findings.errors.size() > before) return false;
  if (const auto cross = crossing(profile)) {
    findings.error(
        fmt::format("{}.{}", key, cross->second),
        fmt::format("found the side from corner {} that crosses or touches the side from corner "
                    "{}; allowed: an outline that does not cross or touch itself, with its corners "
                    "in order",
                    cross->second + 1, cross->first + 1));
    return false;
  }
  constexpr double least = 1e-8;  // 0.01 mm2
  if (std::abs(area(profile)) >= least) return true;
  findings.error(key, fmt::format("found an area of {:.3g} mm2; allowed: at least {:.3g} mm2",
                                  std::abs(area(profile)) * 1e6, least * 1e6));
  return false;
}

/// Whether the size of a part given by diameter has passed check_sizes.
bool usable(const Findings& findings, const PartView& part) {
  if (!part.outline.diameter) return true;
  return std::ranges::none_of(findings.errors, [&](const Complaint& error) {
    return error.key.starts_with(part.key + ".");
  });
}

void check_coil_clearance(Findings& findings, const PartView& part) {
  const Coil& coil = findings.subject.coil;
  const auto turns = ring_places(coil);
  const double sweep = sweep_of_turn(coil);
  const auto touches = [&](const RingPlace& turn) {
    return clearance(part.outline, coil.conductor, turn) < smallest_gap;
  };
  const auto tight = std::ranges::find_if(turns, [&](const RingPlace& turn) {
    return touches({turn.r - sweep, turn.z}) || touches({turn.r + sweep, turn.z});
  });
  if (tight == turns.end()) return;
  const double half = coil.conductor.radial_size() / 2.0 + sweep;
  findings.error(size_key(part),
                 fmt::format("found {} in contact with turn {} of the coil, whose metal spans r = "
                             "{} to {} about z = {}; allowed: at least {} from it",
                             part.name, tight - turns.begin() + 1, mm(tight->r - half),
                             mm(tight->r + half), mm(tight->z), mm(smallest_gap)));
}

void check_position(Findings& findings, const PartView& part) {
  const auto turns = ring_places(findings.subject.coil);
  if (part.key != "workpiece" || turns.empty()) return;
  const double half = findings.subject.coil.conductor.axial_size() / 2.0;
  const auto [bottom, top] = std::ranges::minmax(turns, {}, &RingPlace::z);
  const auto [low, high] = std::ranges::minmax(part.outline.profile, {}, &Point::z);
  const CoilShape shape = findings.subject.coil.shape;
  // A flat coil, or explicit rings, may lie beside a face and need not surround the workpiece.
  const bool flat = shape == CoilShape::flat || shape == CoilShape::rings;
  const bool meant = findings.subject.workpiece->insertion.has_value();
  if (!flat && !meant && (low.z >= top.z + half || high.z <= bottom.z - half)) {
    findings.warn(part.key,
                  fmt::format("found the workpiece (z = {} to {}) wholly outside the coil (z = {} "
                              "to {}); the coil's middle is z = 0 mm",
                              mm(low.z), mm(high.z), mm(bottom.z - half), mm(top.z + half)));
  }
  const auto& heat = findings.subject.heat;
  constexpr double slack = 1e-5;  // [m]
  if (heat && heat->heated &&
      (heat->heated->from < low.z - slack || heat->heated->to > high.z + slack)) {
    findings.error(
        "heat.heated",
        fmt::format("found a stretch from {} to {} beyond the workpiece; allowed: within {} to {}",
                    mm(heat->heated->from), mm(heat->heated->to), mm(low.z), mm(high.z)));
  }
}

}  // namespace

void check_outlines(Findings& findings) {
  const auto parts = parts_of(findings.subject);
  std::vector<const PartView*> good;
  for (const PartView& part : parts) {
    const bool shaped =
        part.outline.diameter ? usable(findings, part) : check_profile(findings, part);
    if (shaped) good.push_back(&part);
  }
  for (std::size_t i = 0; i < good.size(); ++i) {
    check_coil_clearance(findings, *good[i]);
    check_position(findings, *good[i]);
    for (std::size_t j = 0; j < i; ++j) {
      if (!overlap(good[i]->outline.profile, good[j]->outline.profile)) continue;
      findings.error(size_key(*good[i]), fmt::format("found {} overlapping {}; allowed: they may "
                                                     "touch but not overlap; move or shrink one",
                                                     good[i]->name, good[j]->name));
    }
  }
}

}  // namespace cw::cases
