#include "tests/bench/heater.hpp"

#include <fmt/core.h>

#include <chrono>
#include <filesystem>

#include "cases/read/read_case.hpp"
#include "mesh/generate.hpp"
#include "solver/field/layering.hpp"
#include "solver/run/heating.hpp"
#include "solver/run/solve_states.hpp"
#include "tests/bench/in_turns.hpp"

namespace cw::bench {

namespace {

using namespace cw::cases;

/// The field problem of the chisel blank in the state `cold`.
struct ColdBlank {
  Frequency frequency;
  double current;
  FieldModel model;

  ColdBlank(const Case& subject, const SolvedState& cold)
      : frequency(cold.frequency),
        current(cold.current),
        model(field_model(subject, cold.temperature, {cold.frequency, cold.current})) {}

  [[nodiscard]] Mesh mesh() const {
    return generate_mesh(model.section, for_saturation(sizing_for(Effort::normal)));
  }
  /// Steps of Newton's method.
  int nonlinear(const Mesh& mesh) const {
    const EddySystem system(mesh, model.media);
    return solve_loaded_coil(system, model.winding, {model.saturating, 0.0, nullptr}, frequency,
                             current)
        .saturated->report.steps;
  }
  void linear(const Mesh& mesh) const {
    EddySystem system(mesh, model.media);
    solve_loaded_coil(system, model.winding, frequency);
  }
};

/// Sixty seconds of the chisel's heating, through its Curie point.
void print_heating_ratio(const Case& subject, const SolvedState& cold) {
  HeatingSetup setup(subject, Effort::normal, cold);
  setup.plan().until = 60.0;
  setup.plan().milestone = 0.0;
  EddySystem system(setup.mesh(), setup.field().media);
  const auto linear = [&] { solve_loaded_coil(system, setup.field().winding, cold.frequency); };
  linear();
  int updates = 0;
  double share = 0.0;
  const auto heat = [&] {
    const auto begin = std::chrono::steady_clock::now();
    const HeatingOutcome outcome = setup.run();
    const std::chrono::duration<double> all = std::chrono::steady_clock::now() - begin;
    updates = outcome.state.updates;
    share = outcome.conduction_s / all.count();
  };
  in_turns(3, heat, [&] {
    for (int k = 0; k < 20; ++k) linear();
  }).print("60 s of heating / twenty linear solutions on the same mesh");
  fmt::print(
      "  {} unknowns, {} updates of the field; wanted: at most 150/20 = 7.5; conduction of heat "
      "{:.0f} "
      "% of the time, wanted: below 25\n",
      system.unknowns(), updates, 100 * share);
}

}  // namespace

void print_heater_ratios() {
  const Case subject = read_case(std::filesystem::path(COILWRIGHT_EXAMPLES) / "chisel-blank.toml");
  const auto all_states = [&] {
    Spent spent;
    std::vector<std::string> warnings;
    return solve_states(subject, Effort::normal, spent, warnings);
  };
  const auto states = all_states();
  const ColdBlank cold(subject, states.at(1));
  const Mesh mesh = cold.mesh();
  in_turns(
      5, [&] { all_states(); }, [&] { cold.nonlinear(mesh); })
      .print("five states of the chisel blank / one nonlinear solve");
  fmt::print("  search for the peak of demand, meshes and errors counted; target: at most 16\n");
  in_turns(
      9, [&] { cold.nonlinear(cold.mesh()); }, [&] { cold.linear(cold.mesh()); })
      .print("nonlinear / linear evaluation, each from nothing");
  fmt::print("  {} unknowns, {} steps of Newton's method\n", states.at(1).unknowns,
             cold.nonlinear(mesh));
  print_heating_ratio(subject, states.at(1));
}

}  // namespace cw::bench
