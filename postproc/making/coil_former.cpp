#include "postproc/making/coil_former.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "postproc/making/winding_plan.hpp"

namespace cw {

namespace {

using std::numbers::pi;
using Loop = std::vector<std::uint32_t>;

constexpr double most_triangles = 90e3, narrowest = 2e-3, steepest = pi / 3.0;

/// The middle of the conductor in the half-plane, as wound: a straight line.
struct MiddleLine {
  Point from, to;      ///< at the beginning and at the end of the winding [m]
  double pitch = 0.0;  ///< along the line, from turn to turn [m]
  double tilt = 0.0;   ///< of the line against the axis; for a cone positive if it opens upwards
  bool flat = false;
};

MiddleLine middle_line(const Coil& coil) {
  const double half = coil.conductor.radial_size() / 2.0, length = coil.turns * coil.pitch;
  MiddleLine line;
  line.flat = coil.shape == CoilShape::flat;
  line.from = {coil.bore / 2.0 + half, -length / 2.0};
  line.to = {line.from.r, length / 2.0};
  if (coil.shape == CoilShape::cone) line.to.r = coil.bore_end.value_or(coil.bore) / 2.0 + half;
  if (line.flat)  // from the clear bore outwards
    line.from.z = 0.0, line.to = {line.from.r + length, 0.0};
  line.from.r = wound_radius(coil, line.from.r);
  line.to.r = wound_radius(coil, line.to.r);
  const double dr = line.to.r - line.from.r, dz = line.to.z - line.from.z;
  line.pitch = std::hypot(dr, dz) / coil.turns;
  line.tilt = std::atan2(dr, dz);
  return line;
}

/// Profile of the former for one turn, relative to the middle of the conductor: along r and z [m].
struct GrooveProfile {
  std::vector<Point> points;  ///< the groove, then the middle of the land behind it
};

GrooveProfile groove_profile(const MiddleLine& line, double radius, int arcs) {
  const double edge = std::acos(1.0 - 2.0 * groove_depth), along_r = std::sin(line.tilt),
               along_z = std::cos(line.tilt), upright = 0.49 * pi;
  // The half-plane cuts the conductor at an angle.
  const double stretch =
      std::hypot(1.0, line.pitch / (pi * (std::abs(line.from.r) + std::abs(line.to.r))));
  // No undercut: seen from outside, r (for a flat coil z) has one value everywhere.
  const double lean = line.flat ? 0.0 : line.tilt;
  const double low = std::max(-edge, -upright - lean), high = std::min(edge, upright - lean);
  GrooveProfile profile;
  const auto place = [&](double along, double inwards) {
    const double side = line.flat ? -1.0 : 1.0;  // the spiral is on the upper side
    profile.points.push_back(
        {along * along_r - side * inwards * along_z, along * along_z + side * inwards * along_r});
  };
  for (int i = 0; i <= arcs; ++i) {
    const double angle = low + (high - low) * i / arcs;
    place(radius * std::sin(angle) * stretch, radius * std::cos(angle));
  }
  place(line.pitch / 2.0, radius * std::cos(edge));
  return profile;
}

/// Builds the former from strips between closed loops of points.
class FormerBuilder {
 public:
  FormerBuilder(const MiddleLine& line, const GrooveProfile& profile, int columns)
      : line_(line), profile_(profile), columns_(columns) {}

  /// The grooved surface between two positions along z, for a flat coil along r.
  void groove(double low, double high) {
    low_ = low, high_ = high;
    const double reach = line_.flat ? line_.from.r : line_.from.z;
    const double rise = line_.pitch * (line_.flat ? 1.0 : std::cos(line_.tilt));
    first_turn_ = static_cast<int>(std::floor((low - reach) / rise)) - 3;
    turns_ = static_cast<int>(std::ceil((high - reach) / rise)) + 3 - first_turn_;
    for (int column = 0; column < columns_; ++column) add_column(column);
    const std::size_t per_turn = profile_.points.size();
    Loop shifted(ids_[0].begin() + static_cast<std::ptrdiff_t>(per_turn), ids_[0].end());
    shifted.resize(ids_[0].size(), ids_[0].back());  // the first column, one turn later
    ids_.push_back(std::move(shifted));
    for (std::size_t i = 0; i + 1 < ids_.size(); ++i)
      for (std::size_t k = 0; k + 1 < ids_[i].size(); ++k)
        add_quad(ids_[i][k], ids_[i + 1][k], ids_[i + 1][k + 1], ids_[i][k + 1]);
  }

  [[nodiscard]] Loop lower_end() const { return ends(0); }
  [[nodiscard]] Loop upper_end() const { return ends(ids_[0].size() - 1); }

  /// A circle about the axis; a single point on it where r is 0.
  Loop circle(double r, double z) {
    Loop loop;
    for (int i = 0; i < columns_; ++i)
      loop.push_back(r > 0.0 || i == 0 ? add_point(i, {r, z}) : loop.front());
    return loop;
  }

  /// The surface between two loops, the second further along the outline of the former.
  void strip(const Loop& from, const Loop& to) {
    for (std::size_t i = 0; i < from.size(); ++i) {
      const std::size_t next = (i + 1) % from.size();
      add_quad(from[i], from[next], to[next], to[i]);
    }
  }

  TriangleSurface surface() && {
    if (volume_of(surface_) < 0.0)
      for (auto& t : surface_.triangles) std::swap(t[1], t[2]);
    return std::move(surface_);
  }

 private:
  [[nodiscard]] Point place(int column, std::size_t k) const {
    const std::size_t per_turn = profile_.points.size();
    const std::size_t whole = k / per_turn;
    const double turns =
        first_turn_ + static_cast<double>(whole) + static_cast<double>(column) / columns_;
    const Point& offset = profile_.points[k % per_turn];
    const double along = turns * line_.pitch;
    return {line_.from.r + along * std::sin(line_.tilt) + offset.r,
            line_.from.z + along * std::cos(line_.tilt) + offset.z};
  }

  [[nodiscard]] double measure(const Point& p) const { return line_.flat ? p.r : p.z; }

  /// The point at which the outline of a column crosses a limit, just before or after station k.
  [[nodiscard]] Point crossing(int column, std::size_t k, double limit) const {
    const Point a = place(column, k - 1), b = place(column, k);
    const double share = (limit - measure(a)) / (measure(b) - measure(a));
    Point p{a.r + share * (b.r - a.r), a.z + share * (b.z - a.z)};
    (line_.flat ? p.r : p.z) = limit;
    return p;
  }

  /// Adds all stations of a column; those beyond a limit coincide in one point on it.
  void add_column(int column) {
    const std::size_t count = static_cast<std::size_t>(turns_) * profile_.points.size();
    const double snap = 1e-3 * line_.pitch;  // no slivers
    std::size_t first = 1;
    while (measure(place(column, first)) <= low_ + snap) ++first;
    std::size_t last = first;
    while (measure(place(column, last)) < high_ - snap) ++last;
    Loop ids(first, add_point(column, crossing(column, first, low_)));
    for (std::size_t k = first; k < last; ++k) ids.push_back(add_point(column, place(column, k)));
    ids.resize(count, add_point(column, crossing(column, last, high_)));
    ids_.push_back(std::move(ids));
  }

  std::uint32_t add_point(int column, const Point& p) {
    const double angle = 2.0 * pi * column / columns_;
    surface_.points.push_back({p.r * std::cos(angle), p.r * std::sin(angle), p.z});
    return static_cast<std::uint32_t>(surface_.points.size() - 1);
  }

  void add_quad(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
    if (a != b && b != c && a != c) surface_.triangles.push_back({a, b, c});
    if (a != c && c != d && a != d) surface_.triangles.push_back({a, c, d});
  }

  [[nodiscard]] Loop ends(std::size_t k) const {
    Loop loop;
    for (int i = 0; i < columns_; ++i) loop.push_back(ids_[static_cast<std::size_t>(i)][k]);
    return loop;
  }

  const MiddleLine& line_;
  const GrooveProfile& profile_;
  int columns_;
  double low_ = 0.0, high_ = 0.0;
  int first_turn_ = 0, turns_ = 0;
  std::vector<Loop> ids_;
  TriangleSurface surface_;
};

bool is_round(const Coil& coil) {
  return std::holds_alternative<RoundTube>(coil.conductor.section) ||
         std::holds_alternative<RoundWire>(coil.conductor.section);
}

/// Whether the stations, and those of the next turn, always progress along the former.
bool runs_on(const MiddleLine& line, const GrooveProfile& profile) {
  const auto measure = [&](const Point& p) { return line.flat ? p.r : p.z; };
  const auto& points = profile.points;
  const double next = line.pitch * (line.flat ? 1.0 : std::cos(line.tilt));
  for (std::size_t k = 0; k + 1 < points.size(); ++k)
    if (!(measure(points[k + 1]) > measure(points[k]))) return false;
  return measure(points.front()) + next > measure(points.back());
}

/// Number of columns round the former: within 0.04 mm of round if the number of triangles allows;
/// 0: too many.
int columns_for(double radius, double turns, std::size_t per_turn) {
  const double exact = pi / std::acos(1.0 - std::min(0.5, 0.04e-3 / radius));
  const double most = most_triangles / (2.0 * (turns + 4.0) * static_cast<double>(per_turn));
  const double columns = std::min(std::clamp(exact, 48.0, 180.0), most);
  return columns < 36.0 ? 0 : static_cast<int>(columns);
}

TriangleSurface turned_former(FormerBuilder builder, double low, double high) {
  builder.groove(low, high);
  builder.strip(builder.upper_end(), builder.circle(0.0, high));
  builder.strip(builder.circle(0.0, low), builder.lower_end());
  return std::move(builder).surface();
}

TriangleSurface spiral_plate(FormerBuilder builder, double inner, double outer, double base) {
  builder.groove(inner, outer);
  const Loop rim = builder.circle(outer, base), hole = builder.circle(inner, base);
  builder.strip(builder.upper_end(), rim);
  builder.strip(rim, hole);
  builder.strip(hole, builder.lower_end());
  return std::move(builder).surface();
}

}  // namespace

std::optional<TriangleSurface> coil_former(const Coil& coil) {
  const double half = coil.conductor.radial_size() / 2.0;
  if (coil.shape == CoilShape::rings || !is_round(coil) || !(half > 0.0) || !(coil.pitch > 0.0) ||
      !(coil.turns > 0.0) || !(coil.bore > 0.0))
    return {};
  const MiddleLine line = middle_line(coil);
  const double beyond = half + former_beyond, slope = line.flat ? 0.0 : std::tan(line.tilt);
  const double least = std::min(line.from.r, line.to.r) - std::abs(slope) * beyond -
                       (line.flat ? 0.0 : half / std::cos(line.tilt));
  if (!(least > narrowest) || (!line.flat && std::abs(line.tilt) > steepest)) return {};
  const double widest = std::max(line.from.r, line.to.r) + beyond;
  for (const int arcs : {8, 6}) {
    const GrooveProfile profile = groove_profile(line, half, arcs);
    if (!runs_on(line, profile)) return {};
    const int columns = columns_for(widest, coil.turns, profile.points.size());
    if (columns == 0) continue;
    FormerBuilder builder(line, profile, columns);
    if (!line.flat)
      return turned_former(std::move(builder), line.from.z - beyond, line.to.z + beyond);
    return spiral_plate(std::move(builder), std::max(line.from.r - beyond, narrowest),
                        line.to.r + beyond, -half - former_base);
  }
  return {};
}

}  // namespace cw
