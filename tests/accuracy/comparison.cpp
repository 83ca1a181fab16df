#include "tests/accuracy/comparison.hpp"

#include <algorithm>
#include <cmath>

namespace cw::accuracy {

namespace {

double total_power(const Row& row) {
  double sum = 0;
  for (const Figure& f : row.figures)
    if (f.name != "inductance") sum += f.value;
  return sum;
}

}  // namespace

std::vector<Difference> differences(const Row& row, const Row& reference) {
  std::vector<Difference> all;
  const double least = 1e-3 * total_power(reference);
  for (const Figure& truth : reference.figures) {
    const auto found = std::ranges::find(row.figures, truth.name, &Figure::name);
    if (found == row.figures.end()) continue;
    const bool power = truth.name != "inductance";
    if (power && truth.value < least) continue;
    const bool body = power && truth.name != "coil";
    all.push_back(
        {body ? "body" : truth.name, std::abs(found->value / truth.value - 1), found->estimate});
  }
  return all;
}

bool reaches(const Row& reference) {
  constexpr double enough = 5e-4;
  const double least = 1e-3 * total_power(reference);
  return std::ranges::all_of(reference.figures, [&](const Figure& f) {
    const bool aside = f.name != "inductance" && f.value < least;
    return aside || !f.estimate || *f.estimate <= enough;
  });
}

double ComparedCase::worst() const {
  double most = 0;
  for (const Difference& d : differences) most = std::max(most, d.off);
  return most;
}

Comparison compare(const Rows& rows, const std::string& effort) {
  Comparison all;
  for (const auto& [key, row] : rows) {
    if (row.effort != effort) continue;
    ComparedCase c{random_case(row.seed), row, {}, true, {}};
    const std::string hash = text_hash(c.drawn.text);
    if (row.text_hash != hash) {
      ++all.strangers;
      continue;
    }
    const auto reference = rows.find({row.seed, "reference"});
    if (c.solved() && reference != rows.end() && reference->second.text_hash == hash) {
      c.reference = reference->second;
      if (c.reference->outcome == Outcome::solved) {
        c.reached = reaches(*c.reference);
        if (c.reached) c.differences = differences(row, *c.reference);
      }
    }
    all.cases.push_back(std::move(c));
  }
  return all;
}

}  // namespace cw::accuracy
