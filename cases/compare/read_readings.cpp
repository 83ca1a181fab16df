#include "cases/compare/read_readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cases/read/case_file.hpp"
#include "cases/read/read_case.hpp"
#include "cases/read/reading.hpp"

namespace cw::cases {

namespace {

using D = Dimension;
using enum Need;

template <ReadingKind K, D Kind>
void reading(Reading& from, const Entry& entry, Measured& to) {
  const auto value = read_quantity(from, entry, Kind);
  if (!value) return;
  if (*value <= 0)
    from.complain(entry.path,
                  fmt::format("found {}; allowed: above zero; remove the line if nothing was read",
                              entry.node.text));
  to.value[static_cast<std::size_t>(K)] = *value;
}

constexpr std::array readings_keys = {
    Key{"empty_inductance", optional, reading<ReadingKind::empty_inductance, D::inductance>,
        "\"1.02 uH\""},
    Key{"empty_frequency", optional, reading<ReadingKind::empty_frequency, D::frequency>,
        "\"110 kHz\""},
    Key{"loaded_frequency", optional, reading<ReadingKind::loaded_frequency, D::frequency>,
        "\"112 kHz\""},
    Key{"empty_current", optional, reading<ReadingKind::empty_current, D::current>, "\"4.2 A\""},
    Key{"loaded_current", optional, reading<ReadingKind::loaded_current, D::current>, "\"32 A\""},
    Key{"transformer_voltage", optional, reading<ReadingKind::transformer_voltage, D::voltage>,
        "\"1.1 V\""},
    Key{"pickup_voltage", optional, reading<ReadingKind::pickup_voltage, D::voltage>, "\"85 mV\""},
    Key{"accuracy", optional, keys::number<&Measured::accuracy>, "0.02"},
    Key{"supply", optional, keys::quantity<&Measured::supply, D::voltage>, "\"36 V\""},
};

}  // namespace

Measured read_readings_text(std::string_view text, const std::filesystem::path& file) {
  const Node root = parse_file(text, file, "file");
  Reading reading_file;
  reading_file.file = file;
  Measured measured;
  reading_file.where.at[""] = {1, 1};
  read_table<Measured>(reading_file, {"", root, ""}, readings_keys, measured);
  if (reading_file.complaints.empty() && !(measured.accuracy >= 0.001 && measured.accuracy <= 0.3))
    reading_file.complain("accuracy", fmt::format("found {}; allowed: 0.001 to 0.3; write 0.02 for "
                                                  "2 %",
                                                  measured.accuracy));
  const auto given =
      std::ranges::count_if(measured.value, [](const auto& v) { return v.has_value(); });
  if (reading_file.complaints.empty() && given < 2)
    reading_file.complain("", fmt::format("found {} reading{}; allowed: at least two; write for "
                                          "example empty_frequency = \"110 kHz\" and "
                                          "empty_current = \"4.2 A\"",
                                          given, given == 1 ? "" : "s"));
  if (!reading_file.complaints.empty())
    throw CaseError(as_lines(file.string(), reading_file.complaints));
  return measured;
}

Measured read_readings(const std::filesystem::path& file) {
  return read_readings_text(case_bytes(file), file);
}

}  // namespace cw::cases
