#include "solver/thermal/arkode_session.hpp"

#include <arkode/arkode_arkstep.h>
#include <fmt/format.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sundials/sundials_nonlinearsolver.h>
#include <sundials/sundials_version.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "solver/fem/factorisation.hpp"
#include "solver/thermal/sundials_names.hpp"

namespace cw {

namespace {

using View = Eigen::Map<Eigen::VectorXd>;

View view(N_Vector v) {
  return {N_VGetArrayPointer(v), static_cast<Eigen::Index>(N_VGetLength(v))};
}

N_Vector vector_of(const Eigen::VectorXd& values, SUNContext context) {
  N_Vector v = N_VNew_Serial(static_cast<sunindextype>(values.size()), context);
  view(v) = values;
  return v;
}

/// Data that the integrator passes to its callbacks.
struct Callbacks {
  ImplicitSystem system;
  void* memory = nullptr;  ///< the integrator's own
  Eigen::VectorXd in, out;
  double begin = 0.0;     ///< of the present step
  Eigen::VectorXd from;   ///< y there
  Eigen::VectorXd drift;  ///< approximate rate of change of y from there, per second; empty:
                          ///< unknown
  std::string message;
};

// The integrator is written in C: no exception may pass through it. A failure is recoverable (by a
// smaller step).
template <class Action>
int guarded(const Action& action) {
  try {
    action();
    return 0;
  } catch (const SolveError&) {
    return 1;
  } catch (...) {
    return -1;
  }
}

int rate(double t, N_Vector y, N_Vector slope, void* data) {
  auto* c = static_cast<Callbacks*>(data);
  return guarded([&] {
    c->in = view(y);
    c->system.rate(t, c->in, c->out);
    view(slope) = c->out;
    if (!c->out.allFinite()) throw SolveError("a rate is not finite");
  });
}

int roots(double t, N_Vector y, double* values, void* data) {
  auto* c = static_cast<Callbacks*>(data);
  return guarded([&] {
    c->in = view(y);
    Eigen::VectorXd found(static_cast<Eigen::Index>(c->system.directions.size()));
    c->system.roots(t, c->in, found);
    View(values, found.size()) = found;
  });
}

/// First guess of a stage: from the start of the step along the drift.
int predict(double t, N_Vector stage, void* data) {
  auto* c = static_cast<Callbacks*>(data);
  if (c->drift.size() > 0) view(stage) = c->from + (t - c->begin) * c->drift;
  return 0;
}

SUNNonlinearSolver_Type kind(SUNNonlinearSolver /*s*/) {
  return SUNNONLINEARSOLVER_ROOTFIND;
}
int take_residual(SUNNonlinearSolver /*s*/, SUNNonlinSolSysFn /*residual*/) {
  return SUN_SUCCESS;  // the system has its own residual
}
/// Change from the guess of a stage to its solution.
// NOLINTNEXTLINE(readability-function-size): the integrator's own signature
int solve(SUNNonlinearSolver s, N_Vector guess, N_Vector change, N_Vector /*weights*/,
          double /*tolerance*/, int /*set_up*/, void* /*memory*/) {
  auto* c = static_cast<Callbacks*>(s->content);
  double time = 0.0, gamma = 0.0;
  N_Vector predicted = nullptr, stage = nullptr, slope = nullptr, known = nullptr;
  void* data = nullptr;
  if (ARKodeGetNonlinearSystemData(c->memory, &time, &predicted, &stage, &slope, &gamma, &known,
                                   &data) < 0)
    return SUN_ERR_EXT_FAIL;
  bool solved = false;
  const int flag = guarded([&] {
    c->in = view(guess) + view(known);
    c->out = view(guess);
    // The first stage is 2 gamma after the start, the others at the end of the step.
    constexpr double between = 0.5 * (2 + 1 / ArkodeSession::diagonal);
    const bool first = time - c->begin < between * gamma;
    solved = c->system.solve({time, gamma, c->in, first}, c->out) && c->out.allFinite();
    if (!solved) return;
    view(change) = c->out - view(guess);
    if (time > c->begin) c->drift = (c->out - c->from) / (time - c->begin);
  });
  if (flag < 0) return SUN_ERR_EXT_FAIL;
  return flag == 0 && solved ? SUN_SUCCESS : SUN_NLS_CONV_RECVR;
}

#if SUNDIALS_VERSION_MAJOR < 7
void keep_message(int code, const char* /*module*/, const char* /*function*/, char* text,
                  void* data) {
  if (code < 0) static_cast<Callbacks*>(data)->message = text;
}
int take_messages(Callbacks& calls, SUNContext /*context*/) {
  return ARKStepSetErrHandlerFn(calls.memory, keep_message, &calls);
}
#else
// NOLINTNEXTLINE(readability-function-size): the integrator's own signature
void keep_message(int /*line*/, const char* /*function*/, const char* /*file*/, const char* text,
                  SUNErrCode code, void* data, SUNContext /*context*/) {
  if (code < 0) static_cast<Callbacks*>(data)->message = text;
}
/// Keeps errors for our own message and drops warnings; by default the integrator prints both.
int take_messages(Callbacks& calls, SUNContext context) {
  SUNLogger logger = nullptr;
  if (SUNContext_GetLogger(context, &logger) == SUN_SUCCESS && logger != nullptr)
    SUNLogger_SetWarningFilename(logger, "/dev/null");
  SUNContext_ClearErrHandlers(context);
  return SUNContext_PushErrHandler(context, keep_message, &calls);
}
#endif

/// The order 3(2) pair of A. Kvaerno, BIT 44 (2004) 489: four stages, the first explicit, stiffly
/// accurate and L-stable. Slopes are computed from the stages, not evaluated at them: thin layers
/// would magnify the remaining residual of a stage until no step is accepted.
constexpr auto method = ARKODE_KVAERNO_4_2_3;

/// Attempts at a step before giving up: steps shrink very much where nodes begin or end melting.
constexpr int most_failures = 60;

}  // namespace

struct ArkodeSession::Work {
  Callbacks calls;
  SUNContext context = nullptr;
  N_Vector vector = nullptr, tolerance = nullptr, errors = nullptr;
  SUNNonlinearSolver solver = nullptr;
  void* memory = nullptr;
  double time = 0.0;
  Eigen::VectorXd y;

  Work() = default;
  Work(const Work&) = delete;
  Work& operator=(const Work&) = delete;
  ~Work() {
    if (memory != nullptr) ARKodeFree(&memory);
    if (solver != nullptr) SUNNonlinSolFreeEmpty(solver);
    if (vector != nullptr) N_VDestroy(vector);
    if (tolerance != nullptr) N_VDestroy(tolerance);
    if (errors != nullptr) N_VDestroy(errors);
    if (context != nullptr) SUNContext_Free(&context);
  }

  void need(int flag, const char* what) const {
    if (flag >= 0) return;
    throw SolveError(
        fmt::format("heat conduction at t = {:.6g} s: {} failed: {}", time, what,
                    calls.message.empty() ? fmt::format("code {}", flag) : calls.message));
  }

  void make_solver() {
    solver = SUNNonlinSolNewEmpty(context);
    solver->ops->gettype = kind;
    solver->ops->setsysfn = take_residual;
    solver->ops->solve = solve;
    solver->content = &calls;
    need(ARKodeSetNonlinearSolver(memory, solver), "choosing the solver of stages");
  }

  void limit(const SessionLimits& limits) const {
    if (limits.first_step > 0.0)
      need(ARKodeSetInitStep(memory, limits.first_step), "the first step");
    if (limits.largest_step > 0.0)
      need(ARKodeSetMaxStep(memory, limits.largest_step), "the largest step");
    need(ARKodeSetStopTime(memory, limits.stop_time), "the stop time");
  }
};

ArkodeSession::ArkodeSession(ImplicitSystem system, double time, const Eigen::VectorXd& y,
                             SessionLimits limits)
    : work_(std::make_unique<Work>()) {
  Work& w = *work_;
  w.calls.system = std::move(system);
  w.time = time;
  w.y = y;
  w.need(SUNContext_Create(SUN_COMM_NULL, &w.context), "starting the integrator");
  w.vector = vector_of(y, w.context);
  w.tolerance = vector_of(w.calls.system.tolerance, w.context);
  w.errors = vector_of(w.calls.system.tolerance, w.context);
  w.memory = ARKStepCreate(nullptr, rate, time, w.vector, w.context);
  if (w.memory == nullptr) w.need(-1, "starting the integrator");
  w.calls.memory = w.memory;
  w.need(take_messages(w.calls, w.context), "taking messages");
  w.need(ARKodeSetUserData(w.memory, &w.calls), "passing data");
  w.need(ARKodeSVtolerances(w.memory, 0.0, w.tolerance), "setting tolerances");
  w.need(ARKStepSetTableNum(w.memory, method, ARKODE_ERK_NONE), "choosing the method");
  w.need(ARKodeSetMaxErrTestFails(w.memory, most_failures), "setting limits");
  w.need(ARKodeSetMaxConvFails(w.memory, most_failures), "setting limits");
  w.need(ARKodeSetMaxNumSteps(w.memory, -1), "lifting the step limit");
  const auto count = static_cast<int>(w.calls.system.directions.size());
  if (count > 0) {
    w.need(ARKodeRootInit(w.memory, count, roots), "setting events");
    w.need(ARKodeSetRootDirection(w.memory, w.calls.system.directions.data()), "setting events");
    w.need(ARKodeSetNoInactiveRootWarn(w.memory), "setting events");
  }
  w.need(ARKodeSetDeduceImplicitRhs(w.memory, SUNTRUE), "choosing the method");
  w.calls.begin = time;
  w.calls.from = y;
  w.calls.drift = w.calls.system.drift;
  w.need(ARKodeSetStagePredictFn(w.memory, predict), "choosing the predictor");
  w.make_solver();
  w.limit(limits);
}

ArkodeSession::~ArkodeSession() = default;

ArkodeSession::Outcome ArkodeSession::step() {
  Work& w = *work_;
  double stop = 0.0;
  const int flag = ARKodeEvolve(w.memory, 1e300, w.vector, &stop, ARK_ONE_STEP);
  w.need(flag, "a step");
  w.time = w.calls.begin = stop;
  w.y = w.calls.from = view(w.vector);
  if (flag == ARK_ROOT_RETURN) return Outcome::at_root;
  return flag == ARK_TSTOP_RETURN ? Outcome::at_stop_time : Outcome::stepped;
}

double ArkodeSession::time() const {
  return work_->time;
}

const Eigen::VectorXd& ArkodeSession::y() const {
  return work_->y;
}

std::vector<int> ArkodeSession::roots_found() const {
  std::vector<int> found(work_->calls.system.directions.size());
  work_->need(ARKodeGetRootInfo(work_->memory, found.data()), "reading events");
  return found;
}

double ArkodeSession::fitting_step() const {
  constexpr double safely = 0.9, at_most = 5.0, order = 3.0;  // of the error of a step
  Work& w = *work_;
  double length = 0.0;
  w.need(ARKodeGetLastStep(w.memory, &length), "reading the step");
  w.need(ARKodeGetEstLocalErrors(w.memory, w.errors), "reading the error");
  double square = 0.0;
  const View error = view(w.errors), tolerance = view(w.tolerance);
  for (Eigen::Index i = 0; i < error.size(); ++i) {
    const double share = error[i] / tolerance[i];
    square += share * share;
  }
  const double size = std::sqrt(square / static_cast<double>(error.size()));
  return length * std::min(at_most, safely * std::pow(std::max(size, 1e-12), -1.0 / order));
}

long ArkodeSession::rejected() const {
  long tests = 0;
  ARKodeGetNumErrTestFails(work_->memory, &tests);
  return tests;
}

}  // namespace cw
