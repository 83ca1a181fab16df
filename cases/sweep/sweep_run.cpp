#include "cases/sweep/sweep_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "cases/run/stop_signal.hpp"
#include "cases/sweep/heated_designs.hpp"
#include "cases/sweep/optimise.hpp"
#include "cases/sweep/plan.hpp"
#include "cases/sweep/sheet.hpp"
#include "cases/sweep/solve_design.hpp"
#include "postproc/picture/design_charts.hpp"
#include "postproc/picture/png.hpp"
#include "postproc/report/sweep_page.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/write_error.hpp"

namespace cw::cases {

namespace {

/// Charts beside the tables, in pictures/.
constexpr std::array chart_names{"map", "pareto", "sensitivity"};

void make_directory(const std::filesystem::path& directory) {
  std::error_code error;
  std::filesystem::create_directories(directory, error);
  if (error)
    throw WriteError(fmt::format("{}: cannot be made: {}; give another directory with --out",
                                 directory.string(), error.message()));
}

/// The store of a sweep; created if there is none. Refuses a folder with files that have the names
/// of a sweep's files, but without a store: these are not ours to replace.
Store store_in(const std::filesystem::path& directory) {
  const std::filesystem::path file = directory / "designs.sqlite";
  std::vector<std::filesystem::path> written{"designs.json", "tables/designs.csv"};
  for (const char* name : chart_names)
    for (const char* kind : {"svg", "png"})
      written.emplace_back(fmt::format("pictures/{}.{}", name, kind));
  if (!std::filesystem::exists(file))
    for (const auto& name : written)
      if (std::filesystem::exists(std::filesystem::symlink_status(directory / name)))
        throw WriteError(
            fmt::format("{}: holds {} but no designs.sqlite, so it does not belong to a sweep and "
                        "would be overwritten; give another directory with --out",
                        directory.string(), name.string()));
  make_directory(directory);
  return Store(file);
}

/// Solves the best ten in full.
std::vector<CheckedDesign> check_best(const Case& subject, const Ranking& ranking, Fleet& fleet,
                                      Store& store, SweepOptions options) {
  constexpr std::size_t most = 10;
  options.means.method = SweepMethod::plain;
  const std::size_t count = std::min(most, ranking.best.size());
  std::vector<DesignRow> designs;
  for (std::size_t k = 0; k < count; ++k)
    designs.push_back(
        planned(subject, ranking.best[k].row.study, ranking.best[k].row.changes, options));
  std::vector<CheckedDesign> checked;
  if (!solve_designs(fleet, store, designs, false, nullptr)) return checked;
  for (std::size_t k = 0; k < count; ++k) {
    const auto row = store.find(designs[k].id);
    if (!row || row->outcome.status != DesignStatus::solved) continue;
    const Figures full = figures_of(row->outcome.result);
    const auto off = [&](const char* key) {
      const auto a = figure_of(ranking.best[k].figures, key), b = figure_of(full, key);
      return a && b && *b != 0 ? *a / *b - 1 : 0.0;
    };
    checked.push_back(
        {k + 1, off("power.workpiece_W"), off("power.coil_W"), off("coil.inductance_H")});
  }
  return checked;
}

/// The outcomes of the planned designs, as far as they exist.
std::vector<DesignRow> outcomes(Store& store, const std::vector<DesignRow>& planned) {
  std::vector<DesignRow> rows;
  if (planned.empty()) return rows;
  const auto known = store.known(planned.front().study);
  for (const DesignRow& design : planned) {
    if (!known.contains(design.id)) continue;
    if (auto row = store.find(design.id)) {
      row->changes = design.changes;  // the id guarantees them, whatever the file says
      rows.push_back(std::move(*row));
    }
  }
  return rows;
}

/// Adds heating runs if a key needs them; there is no fast method for those.
SweepOptions completed(SweepOptions options, const Sweep& sweep) {
  options.means.heating = asks_for_heating(sweep);
  if (options.means.heating) options.means.method = SweepMethod::plain;
  return options;
}

/// Result of without_frequency() for designs without a frequency among their keys.
std::string all_of(const DesignRow& design) {
  std::string text;
  for (const Change& change : design.changes)
    text += fmt::format("{} = {}\n", change.key, change.value);
  return text;
}

/// The order of solution: designs that differ only in their frequency are consecutive, because the
/// fast method keeps what they share.
std::vector<DesignRow> by_geometry(std::vector<DesignRow> designs) {
  if (designs.empty() || without_frequency(designs.front().changes) == all_of(designs.front()))
    return designs;  // no frequency among the keys: every design has its own geometry
  std::map<std::string, std::size_t> first;
  for (std::size_t k = 0; k < designs.size(); ++k)
    first.emplace(without_frequency(designs[k].changes), k);
  std::ranges::stable_sort(designs, {}, [&](const DesignRow& design) {
    return first.at(without_frequency(design.changes));
  });
  return designs;
}

/// Uses a design that was solved with its heating run if only its states are needed.
void take_heated(const Case& subject, SweepOptions options, Store& store,
                 std::vector<DesignRow>& designs) {
  if (options.means.heating || designs.empty()) return;
  options.means = {SweepMethod::plain, true};
  const auto known = store.known(designs.front().study);
  const auto done = [&](const std::string& id) {
    const auto found = known.find(id);
    return found != known.end() && found->second;
  };
  if (known.empty()) return;
  for (DesignRow& design : designs) {
    if (done(design.id)) continue;
    DesignRow heated = planned(subject, design.study, design.changes, options);
    if (done(heated.id)) design = std::move(heated);
  }
}

}  // namespace

SweepRun run_sweep(const Case& subject, const CaseText& text, const SweepOptions& asked,
                   const SweepBench& bench) {
  SweepOptions options = completed(asked, *subject.sweep);
  const std::string study = study_of(text);
  Store store = store_in(bench.directory);
  SweepRun run;
  std::vector<DesignRow> designs;
  for (const auto& changes : plan_designs(subject)) {
    designs.push_back(planned(subject, study, changes, options));
    run.stopped = StopSignal::raised();  // planning a million designs takes a while too
    if (run.stopped) return run;
  }
  options.from_behind = store.begin_run(study, text);
  take_heated(subject, options, store, designs);
  {
    Fleet fleet(options.jobs, DesignSolver(text, options.effort), bench.hosts);
    if (options.means.heating) {
      const auto rows = heat_designs(subject, designs, {fleet, store, options, bench.listener});
      run.stopped = !rows;
      run.ranking = rank_designs(*subject.sweep, rows ? *rows : outcomes(store, designs));
    } else {
      run.stopped =
          !solve_designs(fleet, store, by_geometry(designs), options.from_behind, bench.listener);
      run.ranking = rank_designs(*subject.sweep, outcomes(store, designs));
    }
    if (options.means.method == SweepMethod::fast && !run.stopped)
      run.checked = check_best(subject, run.ranking, fleet, store, options);
  }
  store.end_run();
  return run;
}

SweepRun run_optimiser(const Case& subject, const CaseText& text, const SweepOptions& asked,
                       const SweepBench& bench) {
  const SweepOptions options = completed(asked, *subject.sweep);
  const std::string study = study_of(text);
  const Optimiser settings = subject.sweep->optimiser.value_or(Optimiser{});
  Store store = store_in(bench.directory);
  store.begin_run(study, text);
  store.clear_trace(study);
  SweepRun run;
  SweepProgress progress;
  progress.total = static_cast<std::size_t>(settings.evaluations);
  std::vector<DesignRow> tried;
  {
    Fleet fleet(options.jobs, DesignSolver(text, options.effort), bench.hosts);
    std::map<std::string, bool> seen;
    const auto evaluate = [&](const std::vector<Change>& changes, int start, int step) {
      DesignRow row = planned(subject, study, changes, options);
      if (!solve_designs(fleet, store, {row}, false, nullptr)) return std::optional<DesignRow>{};
      row = *store.find(row.id);
      row.changes = changes;
      if (!seen[row.id]) tried.push_back(row);
      seen[row.id] = true;
      store.put_trace(study, {start, step, row.id, objective_of(*subject.sweep, row)});
      ++progress.done;
      ++progress.fresh;
      if (bench.listener) bench.listener(progress);
      return std::optional(row);
    };
    run.stopped = !optimise(*subject.sweep, settings, evaluate);
  }
  store.end_run();
  run.ranking = rank_designs(*subject.sweep, tried);
  return run;
}

std::string write_side_by_side(const Ranking& ranking, std::pair<std::size_t, std::size_t> places,
                               const std::filesystem::path& directory) {
  const auto [first, second] = places;
  const std::string name = fmt::format("tables/places-{}-and-{}.csv", first, second);
  make_directory(directory / "tables");
  replace_file(directory / name, side_by_side_csv(ranking, first, second));
  return name;
}

void write_sweep(const Case& subject, const Ranking& ranking,
                 const std::filesystem::path& directory) {
  make_directory(directory / "tables");
  replace_file(directory / "tables" / "designs.csv", designs_csv(subject, ranking));
  replace_file(directory / "designs.json", designs_json(subject, ranking));
  make_directory(directory / "pictures");
  const DesignSheet sheet = sheet_of(subject, ranking);
  constexpr double pixels_per_point = 2.0;
  const std::array charts{design_map(sheet), pareto_chart(sheet), sensitivity_chart(sheet)};
  for (std::size_t k = 0; k < charts.size(); ++k) {
    const char* name = chart_names[k];
    const auto& canvas = charts[k];
    if (!canvas) continue;
    replace_file(directory / "pictures" / fmt::format("{}.svg", name), svg_of(*canvas));
    replace_file(directory / "pictures" / fmt::format("{}.png", name),
                 png_of(raster_of(*canvas, pixels_per_point)));
  }
  write_sweep_report(directory);
}

}  // namespace cw::cases
