// Designs from the shelves of a folder, beside others chosen at random:
//   design_study tests/accuracy/shelves [--others 20] [--only bolt] [--list 12]
// Of each shelf: whether its designs, solved as `run` does it, reach the target in time within
// every limit, or what is missing; how many of the others, heated at low effort, do the work
// sooner. With --list: what the coils promise before any is heated, and nothing else.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <chrono>
#include <filesystem>
#include <random>

#include "cases/design/answer_shelf.hpp"
#include "cases/design/choice.hpp"
#include "cases/design/coil_rank.hpp"
#include "cases/design/design_text.hpp"
#include "cases/design/find_designs.hpp"
#include "solver/run/run_heater.hpp"

namespace {

using namespace cw;
using namespace cw::cases;

struct StudyOptions {
  std::string folder, only;
  int others = 0, list = 0;
};

/// Soonest time of a choice within every limit, heated at low effort [s]; infinite: none.
double time_of(const ShelfCase& shelf, const Choice& choice) {
  constexpr double never = 1e300;
  try {
    const Case subject = chosen_case(shelf, choice);
    if (!passes_checks(subject)) return never;
    const Result result = run_heater(subject, {Effort::fast}).result;
    const bool good = result.verdict && (result.verdict->answer == Answer::yes ||
                                         result.verdict->answer == Answer::at_supply_limit);
    return good ? *result.heat->time_to_target : never;
  } catch (const std::exception&) {
    return never;
  }
}

/// How many of so many choices at random do the work sooner than `best` by more than 3 %.
int sooner(const ShelfCase& shelf, double best, int count) {
  constexpr double by = 0.03;
  std::mt19937 draw(1);
  const auto coils = coils_to_try(shelf, choice_bounds(shelf), 100000);
  int found = 0;
  for (int k = 0; k < count; ++k) {
    const auto banks = all_wirings(shelf, coils[draw() % coils.size()]);
    const Choice choice = banks[draw() % banks.size()];
    const double time = time_of(shelf, choice);
    if (time > best * (1 - by)) continue;
    ++found;
    fmt::print("    sooner: {} in {:.4g} s\n", words_of(shelf, choice), time);
  }
  return found;
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
  if (options.others == 0) return;
  double best = 1e300;
  for (const OfferedDesign& design : found.offered)
    best = std::min(best, *design.result.heat->time_to_target);
  fmt::print("    {} of {} others are sooner by more than 3 %\n",
             sooner(shelf, best, options.others), options.others);
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"designs from shelves, beside others at random"};
  StudyOptions options;
  app.add_option("folder", options.folder, "of shelf files")->required();
  app.add_option("--others", options.others, "choices at random beside each");
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
