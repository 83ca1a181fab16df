#include "cases/compare/read_readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cases/read/case_file.hpp"
#include "cases/read/read_case.hpp"
#include "cases/read/reading.hpp"

namespace cw::cases {

namespace {

using enum Need;

template <ReadingKind K, Dimension D>
void reading(Reading& from, const Entry& entry, Measured& to) {
  const auto value = read_quantity(from, entry, D);
  if (!value) return;
  if (*value <= 0)
    from.complain(entry.path, fmt::format("found {}; allowed: above zero; leave the line out where "
                                          "nothing was read",
                                          entry.node.text));
  to.value[static_cast<std::size_t>(K)] = *value;
}

constexpr std::array readings_keys = {
    Key<Measured>{"empty_inductance", optional,
                  reading<ReadingKind::empty_inductance, Dimension::inductance>, "\"1.02 uH\""},
    Key<Measured>{"empty_frequency", optional,
                  reading<ReadingKind::empty_frequency, Dimension::frequency>, "\"110 kHz\""},
    Key<Measured>{"loaded_frequency", optional,
                  reading<ReadingKind::loaded_frequency, Dimension::frequency>, "\"112 kHz\""},
    Key<Measured>{"empty_current", optional,
                  reading<ReadingKind::empty_current, Dimension::current>, "\"4.2 A\""},
    Key<Measured>{"loaded_current", optional,
                  reading<ReadingKind::loaded_current, Dimension::current>, "\"32 A\""},
    Key<Measured>{"transformer_voltage", optional,
                  reading<ReadingKind::transformer_voltage, Dimension::voltage>, "\"1.1 V\""},
    Key<Measured>{"pickup_voltage", optional,
                  reading<ReadingKind::pickup_voltage, Dimension::voltage>, "\"85 mV\""},
    Key<Measured>{"accuracy", optional, keys::number<&Measured::accuracy>, "0.02"},
    Key<Measured>{"supply", optional, keys::quantity<&Measured::supply, Dimension::voltage>,
                  "\"36 V\""},
};

[[noreturn]] void refuse(const std::filesystem::path& file, TextPlace at, std::string text) {
  throw CaseError({as_line(file.string(), {at, "", std::move(text)})});
}

}  // namespace

Measured read_readings_text(std::string_view text, const std::filesystem::path& file) {
  if (const auto at = not_text(text))
    refuse(file, *at, "found a byte that is not UTF-8 text; save the file as UTF-8");
  auto parsed = parse_toml(text);
  if (const auto* error = std::get_if<SyntaxError>(&parsed)) refuse(file, error->at, error->text);
  Reading reading_file;
  reading_file.file = file;
  Measured measured;
  reading_file.where.at[""] = {1, 1};
  read_table<Measured>(reading_file, {"", std::get<Node>(parsed), ""}, readings_keys, measured);
  if (reading_file.complaints.empty() && !(measured.accuracy >= 0.001 && measured.accuracy <= 0.3))
    reading_file.complain("accuracy", fmt::format("found {}; allowed: 0.001 to 0.3; write 0.02 for "
                                                  "2 %",
                                                  measured.accuracy));
  const auto given =
      std::ranges::count_if(measured.value, [](const auto& v) { return v.has_value(); });
  if (reading_file.complaints.empty() && given < 2)
    reading_file.complain("", fmt::format("found {} reading{}; allowed: two at least; write for "
                                          "example empty_frequency = \"110 kHz\" and "
                                          "empty_current = \"4.2 A\"",
                                          given, given == 1 ? "" : "s"));
  if (!reading_file.complaints.empty())
    throw CaseError(as_lines(file.string(), reading_file.complaints));
  return measured;
}

Measured read_readings(const std::filesystem::path& file) {
  const FileText text = read_file(file);
  if (!text.complaint.empty())
    throw CaseError({fmt::format("{}: {}", file.string(), text.complaint)});
  return read_readings_text(text.bytes, file);
}

}  // namespace cw::cases
