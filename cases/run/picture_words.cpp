#include "cases/run/picture_words.hpp"

#include <fmt/format.h>

#include "solver/heater/rings.hpp"

namespace cw::cases {

std::map<std::string, std::string> picture_labels(const Case& subject) {
  std::map<std::string, std::string> labels;
  if (subject.workpiece)
    labels["workpiece"] = fmt::format("workpiece, {}", subject.workpiece->material.name);
  for (const Body& body : subject.bodies)
    labels[body.name] = fmt::format("{}, {}", body.name, body.material.name);
  return labels;
}

std::vector<DimensionLine> picture_dimensions(const Case& subject, bool with_work) {
  using Kind = DimensionLine::Kind;
  const CoilExtent coil = extent_of(subject.coil);
  std::vector<DimensionLine> dimensions{{Kind::diameter, "bore", 0, coil.inner, coil.low},
                                        {Kind::length, "coil", coil.low, coil.high,
                                         coil.inner + subject.coil.conductor.radial_size()}};
  if (!with_work) return dimensions;
  const OutlineExtent work = extent_of(subject.workpiece->outline);
  dimensions.push_back({Kind::diameter, "workpiece", 0, work.outer, work.high});
  dimensions.push_back({Kind::length, "workpiece", work.low, work.high, work.outer});
  return dimensions;
}

}  // namespace cw::cases
