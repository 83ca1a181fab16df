#include "tests/accuracy/solve_for_study.hpp"

namespace cw::accuracy {

cases::SolvedState solve_for_study(const Case& subject, cases::Effort effort) {
  cases::Spent spent;
  std::vector<std::string> warnings;
  return std::move(cases::solve_states(subject, effort, spent, warnings).front());
}

cases::SolvedState solve_reference(const Case& subject) {
  return solve_for_study(subject, cases::Effort::fine);
}

}  // namespace cw::accuracy
