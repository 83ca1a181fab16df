#include "cases/sweep/plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cases/read/case_sections.hpp"
#include "cases/sweep/sampling.hpp"

namespace cw::cases {

namespace {

std::vector<std::vector<Change>> every_combination(const Case& subject) {
  constexpr std::size_t most = 1000000;
  std::size_t count = 1;
  for (const SweepAxis& axis : subject.sweep->vary) {
    count *= axis.values.size();
    if (count > most)
      throw CaseError({fmt::format(
          "{}:{}: sweep.vary: found more than {} combinations; allowed: fewer; write fewer values, "
          "or sampling = {{ kind = \"latin-hypercube\", count = 200 }}",
          subject.file.string(), subject.where.of("sweep.vary").line, most)});
  }
  std::vector<std::vector<Change>> designs(count);
  for (std::size_t k = 0; k < count; ++k) {
    std::size_t block = count;
    for (const SweepAxis& axis : subject.sweep->vary) {
      block /= axis.values.size();
      designs[k].push_back({axis.key, axis.values[k / block % axis.values.size()]});
    }
  }
  return designs;
}

std::vector<std::vector<Change>> drawn(const Sweep& sweep) {
  std::vector<std::vector<Change>> designs;
  std::set<std::string> seen;
  for (const auto& point : sample_points(*sweep.sampling, sweep.vary.size())) {
    std::vector<Change> design;
    std::string all;
    for (std::size_t d = 0; d < point.size(); ++d) {
      design.push_back({sweep.vary[d].key, drawn_value(sweep.vary[d], point[d])});
      all += design.back().value + "\n";
    }
    if (seen.insert(all).second) designs.push_back(std::move(design));
  }
  return designs;
}

}  // namespace

std::string drawn_value(const SweepAxis& axis, double share) {
  if (axis.values.empty()) return sweep_value(*axis.range, share);
  const auto place = static_cast<std::size_t>(share * static_cast<double>(axis.values.size()));
  return axis.values[std::min(place, axis.values.size() - 1)];
}

std::vector<std::vector<Change>> plan_designs(const Case& subject) {
  return subject.sweep->sampling ? drawn(*subject.sweep) : every_combination(subject);
}

}  // namespace cw::cases
