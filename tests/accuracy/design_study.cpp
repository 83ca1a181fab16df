// Designs from the shelves of a folder, beside others chosen at random:
//   design_study tests/accuracy/shelves [--others 20] [--grid 1.12] [--only bolt] [--list 12]
// Of each shelf: whether its designs, solved as `run` does it, reach the target in time within
// every limit, or what is missing; how many of the others, a step beside the quickest and at
// random, all heated at low effort, do the work sooner than it. With --grid: how many of all
// choices whose bores and pitches grow by this ratio, with every number of turns and every bank.
// With
// --list: what the coils promise before any is heated, and nothing else.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <random>
#include <set>

#include "cases/design/answer_shelf.hpp"
#include "cases/design/choice.hpp"
#include "cases/design/coil_rank.hpp"
#include "cases/design/design_text.hpp"
#include "cases/design/find_designs.hpp"
#include "cases/design/heat_choices.hpp"
#include "solver/run/in_parallel.hpp"
#include "solver/run/run_heater.hpp"

namespace {

using namespace cw;
using namespace cw::cases;

struct StudyOptions {
  std::string folder, only;
  int others = 0, list = 0;
  double grid = 0.0;  ///< ratio of neighbours; 0: none
};

constexpr double never = 1e300;

/// Shortest time of a choice within every limit, heated at low effort [s]; infinite: none within
/// `longest`.
double time_of(const ShelfCase& shelf, const Choice& choice, double longest = never) {
  try {
    Case subject = chosen_case(shelf, choice);
    if (subject.heat->until) subject.heat->until = std::min(*subject.heat->until, longest);
    if (!passes_checks(subject)) return never;
    const Result result = run_heater(subject, {Effort::fast}).result;
    return does_its_job(result) ? *result.heat->time_to_target : never;
  } catch (const std::exception&) {
    return never;
  }
}

/// Choices beside the best: those a step to each side of it with banks a can larger and smaller,
/// and `count` at random of all coils and banks.
std::vector<Choice> others_of(const ShelfCase& shelf, const Choice& best, int count) {
  std::set<Choice> all;
  const ChoiceBounds bounds = choice_bounds(shelf);
  std::vector<Choice> near = neighbours(shelf, bounds, best);
  near.push_back(best);
  for (const Choice& coil : near)
    for (Choice wired : all_wirings(shelf, coil))
      if (wired.in_series == best.in_series && std::abs(wired.strings - best.strings) <= 1)
        all.insert(wired);
  std::mt19937 draw(1);
  const auto coils = coils_to_try(shelf, bounds, 100000);
  for (int k = 0; k < count; ++k) {
    const auto banks = all_wirings(shelf, coils[draw() % coils.size()]);
    all.insert(banks[draw() % banks.size()]);
  }
  all.erase(best);
  return {all.begin(), all.end()};
}

/// From a least value by a ratio to at least `most` times it, rounded to the steps of a maker.
std::vector<double> growing(double least, double most, double ratio, double step) {
  std::vector<double> values{least};
  for (double wanted = least * ratio; values.back() < most * least; wanted *= ratio)
    if (const double next = step * std::round(wanted / step); next > values.back() + step / 2)
      values.push_back(next);
  return values;
}

/// Every choice of a grid: whole numbers of turns, bores and pitches in a ratio, all banks, and
/// positions of the work where they matter. What the shelf fixes stays as it is.
std::vector<Choice> grid_of(const ShelfCase& shelf, double ratio) {
  const ChoiceBounds b = choice_bounds(shelf);
  std::vector<double> turns, bores{shelf.first.bore}, pitches{shelf.first.pitch}, shifts{0.0};
  for (int n = 1; n <= b.most_turns; ++n) turns.push_back(n);
  if (!shelf.turns_free) turns = {shelf.first.turns};
  if (shelf.bore_free) bores = growing(b.least_bore, 1.6, ratio, b.bore_step);
  if (shelf.pitch_free) pitches = growing(b.least_pitch, 2.2, ratio, b.pitch_step);
  for (const int k : {-3, -2, -1, 1, 2, 3})
    if (b.shift_step > 0.0) shifts.push_back(k * b.shift_step);
  std::vector<Choice> all;
  for (const double n : turns)
    for (const double bore : bores)
      for (const double pitch : pitches)
        for (const double shift : shifts) {
          Choice c = shelf.first;
          c.turns = n;
          c.bore = bore;
          c.pitch = pitch;
          c.shift = shelf.first.shift + shift;
          if (!can_be_wound(shelf, b, c)) continue;
          const auto banks = all_wirings(shelf, c);
          all.insert(all.end(), banks.begin(), banks.end());
        }
  return all;
}

/// How many of the others do the work sooner than `best`, which is heated at low effort too, by
/// more than 3 %. A run that takes longer than `best` is not computed to its end.
void tell_sooner(const ShelfCase& shelf, const Choice& best, const std::vector<Choice>& others) {
  constexpr double by = 0.03;
  const double own = time_of(shelf, best);
  fmt::print("    {} others beside {}\n", others.size(), words_of(shelf, best));
  std::fflush(stdout);
  std::vector<double> times(others.size());
  in_parallel(others.size(), [&](std::size_t k) { times[k] = time_of(shelf, others[k], own); });
  int sooner = 0;
  double least = own;
  for (std::size_t k = 0; k < others.size(); ++k) {
    least = std::min(least, times[k]);
    if (times[k] > own * (1 - by)) continue;
    ++sooner;
    fmt::print("    sooner: {} in {:.4g} s\n", words_of(shelf, others[k]), times[k]);
  }
  fmt::print("    best of {} others {:.4g} s against {:.4g} s; {} sooner by more than 3 %\n",
             others.size(), least, own, sooner);
}

/// The best of each kind as they are ranked before any heating is solved.
void list_promises(const ShelfCase& shelf, int count) {
  KnownCoils known;
  const DesignSearchOptions silent;
  CoilRank rank(shelf, known, silent);
  rank.look_at(coils_to_try(shelf, rank.bounds(), 48), "");
  rank.sharpen(DesignKind::quickest);
  rank.sharpen(DesignKind::quickest);
  for (const DesignKind kind : {DesignKind::quickest, DesignKind::coolest_supply}) {
    fmt::print("{}\n", words_of(kind));
    int told = 0;
    for (const Candidature& c : rank.best(kind)) {
      if (told++ == count) break;
      const Promise& p = c.promise;
      fmt::print("  {}: {:.4g} s, {:.0f} degC, {:.3g} A, {:.3g} of a limit{}\n",
                 words_of(shelf, c.choice), p.time.value_or(-1.0), p.end.in_celsius(),
                 p.supply_current, rank.share_of_limit(c), p.rings ? "" : ", does not ring");
    }
  }
}

void study(const std::filesystem::path& file, const StudyOptions& options) {
  const ShelfCase shelf = read_shelf_case({file, case_bytes(file)});
  if (options.list > 0) return list_promises(shelf, options.list);
  const auto begin = std::chrono::steady_clock::now();
  const FoundDesigns found = answer_shelf(shelf).found;
  const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin;
  fmt::print("{}: {} designs, {} purchases, {:.0f} s\n{}", file.stem().string(),
             found.offered.size(), found.purchases.size(), spent.count(),
             design_text(shelf, found));
  if (options.others > 0 && !found.offered.empty())
    tell_sooner(shelf, found.offered.front().choice,
                others_of(shelf, found.offered.front().choice, options.others));
  if (options.grid > 1 && !found.offered.empty())
    tell_sooner(shelf, found.offered.front().choice, grid_of(shelf, options.grid));
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"designs from shelves, beside others at random"};
  StudyOptions options;
  app.add_option("folder", options.folder, "of shelf files")->required();
  app.add_option("--others", options.others, "choices at random beside each");
  app.add_option("--grid", options.grid, "all choices in this ratio of sizes beside each");
  app.add_option("--list", options.list, "so many promises of each kind");
  app.add_option("--only", options.only, "this shelf alone");
  CLI11_PARSE(app, argc, argv);
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(options.folder))
    if (options.only.empty() || entry.path().stem() == options.only) files.push_back(entry.path());
  std::ranges::sort(files);
  for (const auto& file : files) {
    try {
      study(file, options);
    } catch (const std::exception& error) {
      fmt::print("{}: {}\n", file.stem().string(), error.what());
    }
    std::fflush(stdout);
  }
}
