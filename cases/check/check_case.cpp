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

}  // namespace

CheckResult check_case(const Case& subject) {
  Findings findings{subject};
  check_sizes(findings);
  check_names(findings);
  check_temperatures(findings);
  const bool coil_sized = std::ranges::none_of(
      findings.errors, [](const Complaint& error) { return error.key.starts_with("coil."); });
  if (coil_sized) {
    check_winding(findings);
    check_outlines(findings);
    check_circuit(findings);
    check_frequency(findings);
    check_parts(findings);
  }
  check_assumed(findings);
  const std::string file = subject.file.string();
  return {as_lines(file, findings.errors), as_lines(file, findings.warnings)};
}

}  // namespace cw::cases
