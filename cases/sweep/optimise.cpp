#include "cases/sweep/optimise.hpp"

#include <nlopt.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <memory>

#include "cases/sweep/plan.hpp"
#include "cases/sweep/sampling.hpp"

namespace cw::cases {

namespace {

constexpr double hopeless = 1e30;

/// Data for the callback of the library.
struct Search {
  const Sweep& sweep;
  const Evaluate& evaluate;
  nlopt_opt engine = nullptr;
  int start = 0, step = 0;
  bool stopped = false;
  std::exception_ptr failure = nullptr;  // none may pass through the library, which is written in C
};

/// The design at a point of the unit cube. Coordinates are rounded to 1/1000: nobody bends copper
/// more accurately, and equal designs are solved once.
std::vector<Change> design_at(const Sweep& sweep, const double* x) {
  std::vector<Change> changes;
  for (std::size_t d = 0; d < sweep.vary.size(); ++d) {
    const SweepAxis& axis = sweep.vary[d];
    SweepAxis smooth = axis;
    if (axis.range) smooth.values.clear();
    changes.push_back(
        {axis.key, drawn_value(smooth, std::round(1000 * std::clamp(x[d], 0.0, 1.0)) / 1000)});
  }
  return changes;
}

double value_at(unsigned /*dimensions*/, const double* x, double* /*gradient*/, void* data) {
  Search& search = *static_cast<Search*>(data);
  try {
    const auto row = search.evaluate(design_at(search.sweep, x), search.start, ++search.step);
    if (row) return objective_of(search.sweep, *row);
    search.stopped = true;
  } catch (...) {
    search.failure = std::current_exception();
  }
  nlopt_force_stop(search.engine);
  return hopeless;
}

void run_from(std::vector<double> x, int evaluations, Search& search) {
  const std::unique_ptr<nlopt_opt_s, void (*)(nlopt_opt)> engine(
      nlopt_create(NLOPT_LN_SBPLX, static_cast<unsigned>(x.size())), nlopt_destroy);
  search.engine = engine.get();
  nlopt_set_lower_bounds1(engine.get(), 0.0);
  nlopt_set_upper_bounds1(engine.get(), 1.0);
  nlopt_set_min_objective(engine.get(), value_at, &search);
  nlopt_set_maxeval(engine.get(), evaluations);
  nlopt_set_initial_step1(engine.get(), 0.25);
  nlopt_set_xtol_abs1(engine.get(), 1e-3);
  double best = 0;
  nlopt_optimize(engine.get(), x.data(), &best);  // the return value only tells why it ended
  if (search.failure) std::rethrow_exception(search.failure);
}

}  // namespace

double objective_of(const Sweep& sweep, const DesignRow& row) {
  if (row.outcome.status != DesignStatus::solved) return hopeless;
  const bool largest = sweep.rank.starts_with('-');
  const RankedDesign design = judge_design(sweep, sweep.rank.substr(largest ? 1 : 0), row);
  if (!design.value) return hopeless;
  return (largest ? -1 : 1) * *design.value + 10 * std::abs(*design.value) * design.excess;
}

bool optimise(const Sweep& sweep, const Optimiser& settings, const Evaluate& evaluate) {
  const int starts = std::min(settings.starts, settings.evaluations);
  // The first Sobol point is the middle.
  const auto points = sample_points({SamplingKind::sobol, starts, 1}, sweep.vary.size());
  Search search{sweep, evaluate};
  for (const auto& point : points) {
    ++search.start;
    search.step = 0;
    run_from(point, settings.evaluations / starts, search);
    if (search.stopped) return false;
  }
  return true;
}

}  // namespace cw::cases
