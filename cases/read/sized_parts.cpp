#include "cases/read/sized_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <span>

#include "cases/read/part_keys.hpp"
#include "materials/usual_parts.hpp"

namespace cw::cases {

namespace {

using Size = std::array<double, 3>;
constexpr std::string_view sink_size = "[\"100 mm\", \"60 mm\", \"40 mm\"]";
constexpr std::string_view can_size = "[\"32 mm\", \"20 mm\", \"37 mm\"]";

/// As in the file; `part` is what the program uses.
struct WrittenSink {
  HeatSink part;
  std::optional<Size> size;
  std::optional<double> air;
};
struct WrittenCan {
  Warming part;
  std::optional<Size> size;
};

template <class W, auto M, Dimension Kind>
void of(Reading& reading, const Entry& entry, W& to) {
  keys::quantity<M, Kind>(reading, entry, to.part);
}

constexpr std::array sink_keys = {
    Key<WrittenSink>{"junction_to_case", optional,
                     of<WrittenSink, &HeatSink::junction_to_case, D::thermal_resistance>,
                     "\"0.5 K/W\""},
    Key<WrittenSink>{"case_to_sink", optional,
                     of<WrittenSink, &HeatSink::case_to_sink, D::thermal_resistance>,
                     "\"0.4 K/W\""},
    Key<WrittenSink>{"sink_to_air", optional,
                     of<WrittenSink, &HeatSink::sink_to_air, D::thermal_resistance>, "\"3 K/W\""},
    Key{"size", optional, keys::three_lengths<&WrittenSink::size>, sink_size},
    Key{"air", optional, keys::quantity<&WrittenSink::air, D::speed>, "\"2 m/s\""},
    Key<WrittenSink>{"junction_to_air", optional,
                     of<WrittenSink, &HeatSink::junction_to_air, D::thermal_resistance>,
                     "\"40 K/W\""},
    Key<WrittenSink>{"heat_capacity", optional,
                     of<WrittenSink, &HeatSink::heat_capacity, D::thermal_capacity>, "\"3 J/K\""},
    Key<WrittenSink>{"limit", optional, of<WrittenSink, &HeatSink::junction_limit, D::temperature>,
                     "\"150 degC\""},
};

constexpr std::array can_keys = {
    Key{"size", optional, keys::three_lengths<&WrittenCan::size>, can_size},
    Key<WrittenCan>{"heat_capacity", optional,
                    of<WrittenCan, &Warming::heat_capacity, D::thermal_capacity>, "\"20 J/K\""},
    Key<WrittenCan>{"to_air", optional, of<WrittenCan, &Warming::to_air, D::thermal_resistance>,
                    "\"12 K/W\""},
    Key<WrittenCan>{"limit", optional, of<WrittenCan, &Warming::limit, D::temperature>,
                    "\"85 degC\""},
};

bool sound(const Size& size) {
  return std::ranges::all_of(size, [](double length) { return length > 1e-3 && length < 1.0; });
}

/// Whether the file gives a size from which something can be computed.
bool sized(Reading& reading, const Entry& entry, const std::optional<Size>& size,
           std::string_view sample) {
  if (size && !sound(*size))
    reading.complain(dotted(entry.path, "size"),
                     fmt::format("found a side that is not between 1 mm and 1 m; write for "
                                 "example size = {}",
                                 sample));
  return size && sound(*size);
}

/// Reads the table, part and size; false if it is not a table.
template <class W, class Part>
bool read_sized(Reading& reading, const Entry& entry, std::span<const Key<W>> keys, W& written,
                std::optional<Part>& to) {
  read_table<W>(reading, entry, keys, written);
  to = written.part;
  return entry.node.kind == Node::Kind::table;
}

}  // namespace

void read_heat_sink(Reading& reading, const Entry& entry, Switch& to) {
  WrittenSink sink;
  if (!read_sized<WrittenSink>(reading, entry, sink_keys, sink, to.heat_sink)) return;
  const auto has = [&](std::string_view name) { return entry.node.table.contains(name); };
  if (!has("size")) {
    static constexpr std::array<std::string_view, 1> speed = {"air"};
    forbid(reading, entry, speed, "it goes with the size of a heat sink");
    if (!has("junction_to_case")) demand(reading, entry, "junction_to_case", "\"0.5 K/W\"");
    if (!has("sink_to_air") && !has("junction_to_air"))
      demand(reading, entry, "sink_to_air", "\"3 K/W\" (or junction_to_air = \"40 K/W\" for none)");
    return;
  }
  static constexpr std::array<std::string_view, 2> others = {"sink_to_air", "junction_to_air"};
  forbid(reading, entry, others, "size already determines the thermal resistance to the air");
  if (!sized(reading, entry, sink.size, sink_size)) return;
  to.heat_sink->sink_to_air = finned_sink_to_air(*sink.size, sink.air.value_or(0.0));
  if (!has("junction_to_case")) to.heat_sink->junction_to_case = usual_junction_to_case;
  if (!has("case_to_sink")) to.heat_sink->case_to_sink = usual_pad;
}

void read_can_warming(Reading& reading, const Entry& entry, Tank& to) {
  WrittenCan can;
  if (!read_sized<WrittenCan>(reading, entry, can_keys, can, to.can_warming)) return;
  const auto has = [&](std::string_view name) { return entry.node.table.contains(name); };
  if (!has("size")) {
    for (const auto& key : std::span(can_keys).subspan(1))
      if (!has(key.name)) demand(reading, entry, key.name, key.sample);
    return;
  }
  if (!sized(reading, entry, can.size, can_size)) return;
  const BoxedCan box = boxed_can(*can.size);
  if (!has("heat_capacity")) to.can_warming->heat_capacity = box.heat_capacity;
  if (!has("to_air")) to.can_warming->to_air = box.to_air;
  if (!has("limit")) to.can_warming->limit = Temperature::celsius(usual_can_limit);
}

}  // namespace cw::cases
