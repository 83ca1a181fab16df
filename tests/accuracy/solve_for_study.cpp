#include "tests/accuracy/solve_for_study.hpp"

namespace cw::accuracy {

namespace {

cases::SolvedState solve(const Case& subject, cases::Effort effort,
                         const cases::StateMeans& means) {
  cases::Spent spent;
  std::vector<std::string> warnings;
  return std::move(cases::solve_states(subject, effort, spent, warnings, means).front());
}

}  // namespace

cases::SolvedState solve_for_study(const Case& subject, cases::Effort effort) {
  return solve(subject, effort, {});
}

cases::SolvedState solve_reference(const Case& subject) {
  // From another mesh than any run begins with, and to a tenth of what `normal` allows.
  cases::StateMeans means;
  means.maker = [](const Section& section, const Sizing& sizing, const Media& media) {
    return cases::system_from_nothing(section, sizing.scaled(0.77), media);
  };
  means.allowed_error = 2e-4;
  return solve(subject, cases::Effort::normal, means);
}

}  // namespace cw::accuracy
