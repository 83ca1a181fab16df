#include "cases/check/check_case.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "cases/check/findings.hpp"

namespace cw::cases {

namespace {

void check_names(Findings& findings) {
  std::map<std::string, std::size_t> first;
  const auto& bodies = findings.subject.bodies;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    const auto [place, fresh] = first.emplace(bodies[i].name, i);
    if (fresh) continue;
    const TextPlace at = findings.subject.where.of(fmt::format("body.{}.name", place->second));
    findings.error(fmt::format("body.{}.name", i),
                   fmt::format("found \"{0}\" a second time (first in line {1}); allowed: a name "
                               "of its own for each body; write for example \"{0} 2\"",
                               bodies[i].name, at.line));
  }
}

/// A check, and the sections that must be free of mistakes for it.
struct NamedCheck {
  void (*check)(Findings&);
  std::vector<std::string_view> sections;
};

/// They come after the sizes, which they rely on.
const std::vector<NamedCheck>& checks_of_parts() {
  static const std::vector<NamedCheck> all = {
      {check_winding, {"coil"}},
      {check_outlines, {"coil", "workpiece", "body", "heat"}},
      {check_circuit, {"coil", "tank", "drive"}},
      {check_frequency, {"coil", "tank", "drive", "workpiece", "body"}},
      {check_parts, {"coil", "tank", "drive", "nearby", "tolerance", "commissioning"}}};
  return all;
}

}  // namespace

void check_sound_sections(Findings& findings, const SoundSection& sound) {
  const auto all_sound = [&](const std::vector<std::string_view>& sections) {
    return std::ranges::all_of(sections, sound);
  };
  check_sizes(findings);
  if (sound("body")) check_names(findings);
  if (all_sound({"coil", "workpiece", "body", "heat"})) check_temperatures(findings);
  const bool coil_sized = std::ranges::none_of(
      findings.errors, [](const Complaint& error) { return error.key.starts_with("coil."); });
  if (!coil_sized || !sound("coil")) return;
  for (const NamedCheck& next : checks_of_parts())
    if (all_sound(next.sections)) next.check(findings);
}

LocatedFindings findings_of(const Case& subject) {
  Findings findings{subject};
  check_sound_sections(findings, [](std::string_view) { return true; });
  check_assumed(findings);
  return {in_order(std::move(findings.errors)), in_order(std::move(findings.warnings))};
}

CheckResult check_case(const Case& subject) {
  const LocatedFindings found = findings_of(subject);
  const std::string file = subject.file.string();
  return {as_lines(file, found.errors), as_lines(file, found.warnings)};
}

}  // namespace cw::cases
