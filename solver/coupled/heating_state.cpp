#include "solver/coupled/heating_state.hpp"

#include <cstdint>
#include <istream>
#include <ostream>
#include <stdexcept>
#include <type_traits>

namespace cw {

namespace {

constexpr std::uint64_t mark = 0x34746165682d7763;  // "cw-heat4"
constexpr std::uint64_t most_items = 1ULL << 32U;

/// One list of members serves writing and reading, so that the two cannot differ.
class Writer {
 public:
  explicit Writer(std::ostream& out) : out_(out) {}
  template <class T>
  requires std::is_trivially_copyable_v<T>
  void operator()(const T& value) {
    out_.write(reinterpret_cast<const char*>(&value), sizeof value);
  }
  template <class T>
  void operator()(const std::vector<T>& values) {
    (*this)(static_cast<std::uint64_t>(values.size()));
    for (const T& v : values) (*this)(v);
  }
  template <class T>
  void operator()(const Eigen::Matrix<T, Eigen::Dynamic, 1>& values) {
    (*this)(static_cast<std::uint64_t>(values.size()));
    for (const T& v : values) (*this)(v);
  }
  void operator()(const std::string& text) { (*this)(std::vector<char>(text.begin(), text.end())); }
  void operator()(const HeatingEvent& event) {
    (*this)(event.name);
    (*this)(event.time);
  }
  void operator()(const HeatingSnapshot& shot);

 private:
  std::ostream& out_;
};

class Reader {
 public:
  explicit Reader(std::istream& in) : in_(in) {}
  template <class T>
  requires std::is_trivially_copyable_v<T>
  void operator()(T& value) {
    in_.read(reinterpret_cast<char*>(&value), sizeof value);
    if (!in_) throw std::runtime_error("the stored heating run ends early");
  }
  template <class T>
  void operator()(std::vector<T>& values) {
    values.resize(count());
    for (T& v : values) (*this)(v);
  }
  template <class T>
  void operator()(Eigen::Matrix<T, Eigen::Dynamic, 1>& values) {
    values.resize(static_cast<Eigen::Index>(count()));
    for (T& v : values) (*this)(v);
  }
  void operator()(std::string& text) {
    std::vector<char> letters;
    (*this)(letters);
    text.assign(letters.begin(), letters.end());
  }
  void operator()(HeatingEvent& event) {
    (*this)(event.name);
    (*this)(event.time);
  }
  void operator()(HeatingSnapshot& shot);

 private:
  std::uint64_t count() {
    std::uint64_t n = 0;
    (*this)(n);
    if (n > most_items) throw std::runtime_error("the stored heating run is damaged");
    return n;
  }
  std::istream& in_;
};

template <class Stream, class Snapshot>
void each_of_snapshot(Stream& s, Snapshot& shot) {
  s(shot.time);
  s(shot.kelvin);
  s(shot.current);
  s(shot.field.frequency);
  s(shot.field.media);
  s(shot.field.potential);
  s(shot.field.loop_voltage);
  s(shot.field.impressed);
  s(shot.field.local_reluctivity);
  s(shot.field.saturating);
}

void Writer::operator()(const HeatingSnapshot& shot) {
  each_of_snapshot(*this, shot);
}
void Reader::operator()(HeatingSnapshot& shot) {
  each_of_snapshot(*this, shot);
}

template <class Stream, class Thermal>
void each_of_thermal(Stream& s, Thermal& t) {
  s(t.time);
  s(t.enthalpy);
  s(t.by_route);
  s(t.supplied);
  s(t.at_start);
  s(t.next_step);
  s(t.reached);
}

template <class Stream, class Point>
void each_of_point(Stream& s, Point& p) {
  s(p.frequency);
  s(p.current);
  s(p.tank);
  s(p.demand);
  s(p.stopped);
  s(p.body_W);
  s(p.work_W);
  s(p.coil_W);
  s(p.leads_W);
  s(p.total_W);
  s(p.load);
}

template <class Stream, class State>
void each_of(Stream& s, State& state) {
  each_of_thermal(s, state.thermal);
  s(state.coil.local);
  s(state.coil.potential);
  s(state.coil.turn_voltage);
  s(state.coil.current);
  each_of_point(s, state.now);
  s(state.slope);
  s(state.part_slope);
  s(state.bend);
  s(state.order);
  s(state.frequency_trend);
  s(state.current_trend);
  s(state.capacity);
  s(state.interval);
  s(state.next);
  s(state.refused_until);
  s(state.hunting.last_change);
  s(state.hunting.turned);
  s(state.hunting.induced);
  s(state.hunting.kept);
  s(state.hunting.looked_ahead);
  s(state.missed);
  s(state.moments);
  s(state.readings);
  s(state.snapshots);
  s(state.events);
  s(state.energy);
  s(state.interpolation_error);
  s(state.judged);
  s(state.mesh_error);
  s(state.net_share);
  s(state.updates);
  s(state.rejected);
}

}  // namespace

void write_state(std::ostream& out, const HeatingState& state) {
  Writer writer(out);
  writer(mark);
  each_of(writer, state);
  writer(mark);
}

HeatingState read_state(std::istream& in) {
  Reader reader(in);
  HeatingState state;
  std::uint64_t found = 0;
  reader(found);
  if (found != mark) throw std::runtime_error("no stored heating run of this program");
  each_of(reader, state);
  reader(found);
  if (found != mark) throw std::runtime_error("the stored heating run is damaged");
  return state;
}

std::vector<std::string> part_names(const HeatedField& field) {
  std::vector<std::string> names;
  for (const WarmBody& body : field.bodies) names.push_back(field.mesh.region_name[body.region]);
  names.insert(names.end(), {"coil", "leads"});
  if (std::holds_alternative<TankCircuit>(field.drive))
    names.insert(names.end(), {"joints", "capacitors", "switches", "chokes", "cable", "battery"});
  else
    names.emplace_back("joints and capacitors");  // in series with the coil
  return names;
}

HeaterPoint between(const HeaterPoint& a, const HeaterPoint& b, double share) {
  const auto mix = [share](double x, double y) { return x + share * (y - x); };
  HeaterPoint p = b;
  p.frequency = {mix(a.frequency.hertz, b.frequency.hertz)};
  p.current = mix(a.current, b.current);
  p.demand = mix(a.demand, b.demand);
  for (std::size_t i = 0; i < p.body_W.size(); ++i) p.body_W[i] = mix(a.body_W[i], b.body_W[i]);
  p.work_W = mix(a.work_W, b.work_W);
  p.coil_W = mix(a.coil_W, b.coil_W);
  p.leads_W = mix(a.leads_W, b.leads_W);
  p.total_W = mix(a.total_W, b.total_W);
  p.load = a.load + share * (b.load - a.load);
  if (!p.tank || !a.tank) return p;
  p.tank->supply_current_A = mix(a.tank->supply_current_A, b.tank->supply_current_A);
  p.tank->loaded_q = mix(a.tank->loaded_q, b.tank->loaded_q);
  p.tank->can.loss_W = mix(a.tank->can.loss_W, b.tank->can.loss_W);
  for (double PowerShares::*part :
       {&PowerShares::joints_W, &PowerShares::capacitors_W, &PowerShares::switches_W,
        &PowerShares::chokes_W, &PowerShares::cable_W, &PowerShares::battery_W})
    p.tank->power.*part = mix(a.tank->power.*part, b.tank->power.*part);
  return p;
}

std::vector<double> parts_of(const HeaterPoint& point) {
  std::vector<double> parts = point.body_W;
  parts.insert(parts.end(), {point.coil_W, point.leads_W});
  if (point.tank) {
    const PowerShares& p = point.tank->power;
    parts.insert(parts.end(),
                 {p.joints_W, p.capacitors_W, p.switches_W, p.chokes_W, p.cable_W, p.battery_W});
    return parts;
  }
  constexpr double rounding = 1e-9;
  const double rest = point.total_W - point.work_W - point.coil_W - point.leads_W;
  parts.push_back(rest > rounding * point.total_W ? rest : 0.0);
  return parts;
}

}  // namespace cw
