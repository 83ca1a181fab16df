#include "cases/live/size_handles.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <string_view>

#include "cases/live/case_fields.hpp"
#include "materials/units.hpp"
#include "postproc/picture/coil_drawing.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

constexpr std::string_view centre_key = "workpiece.centre";

/// The coil as it is drawn: rings without currents.
Result unsolved(const Case& subject) {
  Result result;
  result.title = subject.title;
  result.heater = subject;
  StateResult state;
  for (const RingPlace& ring : ring_places(subject.coil)) {
    TurnResult turn;
    turn.r = ring.r;
    turn.z = ring.z;
    turn.weight = ring.weight;
    state.coil.turns.push_back(turn);
  }
  result.states.push_back(std::move(state));
  return result;
}

double one_digit(double value) {
  const double unit = std::pow(10.0, std::floor(std::log10(value)));
  return unit * std::round(value / unit);
}

/// A number before its unit.
struct Measure {
  double number = 0.0;
  std::string unit;   ///< empty: a bare number
  double size = 1.0;  ///< of one unit [m]
};

/// Nothing for a fraction such as "1/4 inch".
std::optional<Measure> measure_in(const std::string& value) {
  char* end = nullptr;
  Measure m{std::strtod(value.c_str(), &end), {}};
  if (end == value.c_str()) return std::nullopt;
  m.unit = end;
  m.unit.erase(0, m.unit.find_first_not_of(' '));
  if (m.unit.empty()) return m;
  const auto size = parse_quantity("1 " + m.unit, Dimension::length).value;
  if (!size) return std::nullopt;
  m.size = *size;
  return m;
}

/// What a pull at a place does.
struct Pull {
  std::string_view key;
  Point at;
  int side = 1;  ///< -1: in the left half of the drawing
  bool upright = false;
  double per_metre = 0.0;  ///< change of the size [m, or turns] per metre outwards or upwards
};

class HandleMaker {
 public:
  HandleMaker(const Case& subject, const std::string& text, const Frame& frame)
      : subject_(subject), fields_(fields_of(text)), frame_(frame) {}

  std::vector<SizeHandle> run() {
    const std::vector<RingPlace> rings = ring_places(subject_.coil);
    if (subject_.coil.shape != CoilShape::rings) {
      bore(rings);
      subject_.coil.shape == CoilShape::flat ? spiral(rings) : row(rings);
    }
    if (subject_.workpiece) work(extent_of(subject_.workpiece->outline));
    return std::move(handles_);
  }

 private:
  /// That of a cone is at its lower end; else away from what is pulled at the ends.
  void bore(const std::vector<RingPlace>& rings) {
    const bool cone = subject_.coil.shape == CoilShape::cone;
    add({"coil.bore", {0.5 * subject_.coil.bore, cone ? rings.front().z : 0.0}, 1, false, 2.0});
  }

  /// A helix or cone, its middle at z = 0: turns are added below, the pitch opens upwards.
  void row(const std::vector<RingPlace>& rings) {
    const Coil& coil = subject_.coil;
    const double half = 0.5 * coil.conductor.axial_size();
    const RingPlace &first = rings.front(), &last = rings.back();
    if (coil.pitch > 0.0)
      add({"coil.turns", {first.r, first.z - half}, -1, true, -2.0 / coil.pitch});
    const auto count = static_cast<double>(rings.size());
    if (count > 1)
      pitch({last.r, last.z + half}, 1, true, 2.0 * count / (coil.turns * (count - 1)));
  }

  /// A flat coil: turns are added outside on the right, the pitch opens outwards on the left.
  void spiral(const std::vector<RingPlace>& rings) {
    const Coil& coil = subject_.coil;
    const Point out{rings.back().r + 0.5 * coil.conductor.radial_size(), rings.back().z};
    if (coil.pitch > 0.0) add({"coil.turns", out, 1, false, 1.0 / coil.pitch});
    const auto count = static_cast<double>(rings.size());
    if (count > 1) pitch(out, -1, false, count / (coil.turns * (count - 0.5)));
  }

  /// The case holds either the pitch or the gap; both grow alike.
  void pitch(Point at, int side, bool upright, double per_metre) {
    for (const char* key : {"coil.pitch", "coil.gap"}) add({key, at, side, upright, per_metre});
  }

  void work(const OutlineExtent& body) {
    const double low = std::max(body.low, frame_.window.bottom);
    const double high = std::min(body.high, frame_.window.top);
    if (high <= low) return;
    add({"workpiece.diameter", {body.outer, low + 0.2 * (high - low)}, -1, false, 2.0});
    // Its middle stays where it is, or with a depth its lower end.
    const double growth = field_of("workpiece.insertion") ? 1.0 : 2.0;
    if (high == body.high)
      add({"workpiece.length", {0.5 * (body.inner + body.outer), high}, -1, true, growth});
    const Point middle{body.inner > 0.0 ? 0.5 * (body.inner + body.outer) : 0.0,
                       0.5 * (low + high)};
    add({centre_key, middle, 1, true, 1.0});
    add({"workpiece.insertion", middle, 1, true, -1.0});  // a depth
  }

  void add(const Pull& pull) {
    const std::optional<CaseField> field = field_of(pull.key);
    const auto measure = field ? measure_in(field->value) : std::nullopt;
    if (!measure) return;
    const Spot spot = frame_.spot(pull.at, pull.side);
    const double way = pull.upright ? -1.0 : pull.side;  // points run rightwards and downwards
    const double turns = std::fmod(measure->number, 1.0) == 0.0 ? 1.0 : 0.5;
    constexpr double half_a_millimetre = 0.5e-3;
    SizeHandle handle{field->key, field->label, spot, pull.upright, measure->number, measure->unit};
    handle.per_point = way * pull.per_metre / frame_.scale / measure->size;
    handle.step = measure->unit.empty() ? turns : one_digit(half_a_millimetre / measure->size);
    const bool place = pull.key == centre_key || pull.key == "workpiece.insertion";
    if (!place) handle.least = handle.step;
    handles_.push_back(std::move(handle));
  }

  /// The field of this key. The place of a cylinder has one even where the text leaves it out.
  [[nodiscard]] std::optional<CaseField> field_of(std::string_view key) const {
    const auto is = [](std::string_view wanted) {
      return [wanted](const CaseField& f) { return f.key == wanted; };
    };
    if (const auto field = std::ranges::find_if(fields_, is(key)); field != fields_.end())
      return *field;
    const bool at_zero = std::ranges::any_of(fields_, is("workpiece.length")) &&
                         std::ranges::none_of(fields_, is("workpiece.insertion"));
    if (key != centre_key || !at_zero) return std::nullopt;
    return CaseField{std::string(key), "Middle of the work", "0 mm"};
  }

  const Case& subject_;
  std::vector<CaseField> fields_;
  const Frame& frame_;
  std::vector<SizeHandle> handles_;
};

}  // namespace

SizeDrawing size_drawing(const Case& subject, const std::string& text) {
  const Result result = unsolved(subject);
  const Frame frame = coil_frame(result);
  return {coil_drawing(result), frame, HandleMaker(subject, text, frame).run()};
}

}  // namespace cw::cases
