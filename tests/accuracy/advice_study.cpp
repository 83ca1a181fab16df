// Does the advice help? Random heaters that do not do their job follow the first advice. They are
// then solved again at normal accuracy, while the advice was found at low effort.
//   advice_study --from 1 --count 50
#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <algorithm>
#include <cstdio>
#include <set>

#include "materials/library.hpp"
#include "solver/run/candidates.hpp"
#include "solver/run/job_verdict.hpp"
#include "solver/run/run_heater.hpp"
#include "tests/accuracy/draw.hpp"

namespace {

using namespace cw;
using accuracy::Draw;

/// A bar in a coil of tube with a bank of cans and a supply, none of them chosen to match.
Heater random_heater(std::uint64_t seed) {
  Draw draw(seed);
  Heater h;
  const std::vector<std::string> metals{"steel-low-carbon",  "steel-medium-carbon", "stainless-304",
                                        "aluminium-6061-t6", "brass-c26000",        "copper-pure"};
  const double radius = 1e-3 * draw.over_decades(3, 15), half = radius * draw.over_decades(2, 6);
  h.workpiece.emplace().material = find_material(draw.of(metals));
  h.workpiece->outline.profile = {{0, -half}, {radius, -half}, {radius, half}, {0, half}};
  const double tube = 1e-3 * draw.of(std::vector<double>{5, 6, 8});
  h.coil.turns = 3 + draw.below(12);
  h.coil.bore = 2 * radius + 1e-3 * draw.over_decades(4, 25);
  h.coil.pitch = tube + 1e-3 * draw.over_decades(1, 6);
  h.coil.conductor = {RoundTube{tube, 1e-3}, find_material("copper-tube")};
  h.coil.coolant = Coolant{};
  h.coil.coolant->flow = 1e-3 / 60;
  const int cans = 4 + draw.below(26);
  h.tank.emplace().capacitance = cans * 1e-7;
  h.tank->cans = cans;
  h.tank->dissipation_factor = 8e-4;
  CanLimits& can = h.tank->can_limits.emplace();
  can.current = 9.0;
  can.voltage = 250.0;
  PushPullDrive drive;
  drive.supply = draw.of(std::vector<double>{12, 24, 36, 48});
  drive.supply_limit = draw.over_decades(8, 60);
  drive.transistor.resistance = 10e-3;
  drive.choke.inductance = 330e-6;
  h.drive = drive;
  h.heat.emplace().target = Temperature::celsius(50 * (6 + draw.below(15)));
  const auto& melting = h.workpiece->material.melting;
  if (melting && *h.heat->target > melting->solidus)
    h.heat->target = Temperature{melting->solidus.kelvin - 100};
  h.heat->until = 240.0;
  return h;
}

std::set<std::string> passed(const Result& result) {
  std::set<std::string> names;
  for (const LimitResult& limit : result.limits)
    if (limit.verdict == Verdict::stop) names.insert(limit.part + " " + limit.quantity);
  return names;
}

struct Tally {
  int good = 0, no_advice = 0, helped = 0, harmed = 0, failed = 0;
};

/// Whether the heater does better with the advice, and exceeds no limit that it kept before.
bool helps(const Result& before, const Result& after) {
  const auto was = passed(before), is = passed(after);
  if (!std::ranges::includes(was, is)) return false;
  const HeatResult &a = *before.heat, &b = *after.heat;
  if (a.reached) return b.reached && is.size() < was.size();
  return b.reached || end_of_heating(b) > end_of_heating(a);
}

void follow(std::uint64_t seed, Tally& tally) {
  const Heater heater = random_heater(seed);
  const Run advised = run_heater(heater, {.effort = Effort::fast, .advise = true});
  if (!advised.result.verdict) return;
  const Answer answer = advised.result.verdict->answer;
  if (answer == Answer::yes || answer == Answer::at_supply_limit) {
    ++tally.good;
    return;
  }
  if (advised.result.remedies.empty()) {
    ++tally.no_advice;
    fmt::print("{}: no advice. {}\n", seed, advised.result.verdict->sentence);
    return;
  }
  const Remedy& first = advised.result.remedies.front();
  const Run before = run_heater(heater), after = run_heater(changed(heater, first.steps));
  const bool helped = helps(before.result, after.result);
  ++(helped ? tally.helped : tally.harmed);
  fmt::print("{}: {}. {} ({}). Then: {}\n", seed, helped ? "helped" : "NOT HELPED",
             before.result.verdict->sentence, first.change, after.result.verdict->sentence);
}

}  // namespace

int main(int argc, char** argv) {
  std::uint64_t from = 1;
  int count = 50;
  CLI::App app{"Does advice help?"};
  app.add_option("--from", from, "first seed");
  app.add_option("--count", count, "how many heaters");
  CLI11_PARSE(app, argc, argv);
  Tally tally;
  for (int k = 0; k < count; ++k) {
    try {
      follow(from + static_cast<std::uint64_t>(k), tally);
    } catch (const std::exception& error) {
      ++tally.failed;
      fmt::print("{}: {}\n", from + static_cast<std::uint64_t>(k), error.what());
    }
    std::fflush(stdout);
  }
  fmt::print(
      "{} do their job as they are, {} were helped, {} were not, {} got no advice, {} could "
      "not be solved\n",
      tally.good, tally.helped, tally.harmed, tally.no_advice, tally.failed);
  return tally.harmed == 0 ? 0 : 1;
}
