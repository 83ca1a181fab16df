// How accurate are random cases, and is the stated error right?
//   accuracy_study --from 1 --count 1000 --processes 2 --out rows.csv     solves and reports
//   accuracy_study --report rows.csv                                      only reports
//   accuracy_study --print 17                                             a case as TOML
// The same command continues a study that was interrupted.
#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <cstdio>
#include <numeric>

#include "tests/accuracy/random_case.hpp"
#include "tests/accuracy/run_study.hpp"
#include "tests/accuracy/study_report.hpp"

namespace {

using namespace cw::accuracy;

struct Options {
  std::uint64_t from = 1;
  std::size_t count = 100;
  bool no_reference = false;
  std::string out, report;
  std::uint64_t print = 0;
  StudyPlan plan;
};

void study(Options& options) {
  options.plan.seeds.resize(options.count);
  std::iota(options.plan.seeds.begin(), options.plan.seeds.end(), options.from);
  options.plan.reference = !options.no_reference;
  Rows rows = read_rows(options.out);
  const RowFile file(options.out);
  run_study(options.plan, rows, [&](const Row& row) {
    file.append(row);
    if (row.outcome == Outcome::failed)
      fmt::print("seed {} {}: {}\n", row.seed, row.effort, row.message);
    std::fflush(stdout);
  });
  fmt::print("{}", study_report(rows, options.plan.effort));
}

void add_options(CLI::App& app, Options& options) {
  app.add_option("--from", options.from, "first seed");
  app.add_option("--count", options.count, "how many");
  app.add_option("--processes", options.plan.processes, "at once")->check(CLI::Range(1, 64));
  app.add_option("--accuracy", options.plan.effort, "what is compared with the reference")
      ->check(CLI::IsMember({"fast", "normal", "fine"}));
  app.add_option("--seconds", options.plan.seconds, "of processor, that a solution may take")
      ->check(CLI::Range(0.01, 86400.0));
  app.add_flag("--no-reference", options.no_reference, "only whether it is solved");
  app.add_option("--out", options.out, "file of rows, to be continued");
  app.add_option("--report", options.report, "reports a file of rows, solves nothing")
      ->check(CLI::ExistingFile);
  app.add_option("--print", options.print, "prints the case of a seed, solves nothing");
}

}  // namespace

int main(int argc, char** argv) {
  try {
    Options options;
    CLI::App app{"Accuracy of random cases"};
    add_options(app, options);
    CLI11_PARSE(app, argc, argv);
    if (app.count("--print") > 0) {
      const RandomCase drawn = random_case(options.print);
      fmt::print("# seed {}: {}\n{}", options.print, drawn.about, drawn.text);
    } else if (!options.report.empty()) {
      fmt::print("{}", study_report(read_rows(options.report), options.plan.effort));
    } else {
      study(options);
    }
  } catch (const std::exception& error) {
    fmt::print(stderr, "accuracy_study: {}\n", error.what());
    return 1;
  }
  return 0;
}
