#include "cases/run/run_case.hpp"

#include <chrono>

#include "cases/run/build_info.hpp"
#include "cases/run/checkpoint.hpp"
#include "cases/run/stop_signal.hpp"

namespace cw::cases {

namespace {

/// Stores the run from time to time, and tells when to stop.
class Keeper {
 public:
  Keeper(const Case& subject, const RunOptions& options) : subject_(subject), options_(options) {}

  bool operator()(const HeatingState& state) {
    if (options_.progress) options_.progress(state.moments.back());
    const bool stop = options_.stoppable && StopSignal::raised();
    const auto now = std::chrono::steady_clock::now();
    if (!options_.checkpoint.empty() && (stop || now - last_ > between)) {
      write_checkpoint(options_.checkpoint, subject_, options_.effort, state);
      last_ = now;
    }
    return stop;
  }

 private:
  static constexpr auto between = std::chrono::milliseconds(500);
  const Case& subject_;
  const RunOptions& options_;
  std::chrono::steady_clock::time_point last_{};
};

}  // namespace

void sign(const Case& subject, Result& result) {
  result.title = subject.title;
  result.case_sha256 = subject.sha256;
  result.build = build_info();
}

Run run_case(const Case& subject, const RunOptions& options) {
  HeaterRunOptions run{options.effort, options.further, options.maker};
  if (options.resume && subject.heat && subject.workpiece)
    run.from = read_checkpoint(options.checkpoint, subject, options.effort);
  run.stop = [keeper = std::make_shared<Keeper>(subject, options)](const HeatingState& state) {
    return (*keeper)(state);
  };
  if (options.stoppable) {
    run.while_heating = [] { return std::make_shared<StopSignal>(); };
    run.remedies.enough = StopSignal::raised;
  }
  run.advise = options.advise;
  run.give_up = options.give_up;
  run.remedies.trying = options.trying;
  run.state_solved = options.state_solved;
  if (options.states_solved)
    run.states_solved = [&](Run& so_far) {
      sign(subject, so_far.result);
      options.states_solved(so_far);
    };
  Run found = run_heater(subject, run);
  sign(subject, found.result);
  return found;
}

Run run_case(const Case& subject, Effort effort, const SystemMaker& maker) {
  Run found = run_states(subject, effort, maker);
  sign(subject, found.result);
  return found;
}

}  // namespace cw::cases
