#include "tests/accuracy/solve_for_study.hpp"

namespace cw::accuracy {

namespace {

cw::SolvedState solve(const Case& subject, cw::Effort effort, const cw::StateMeans& means) {
  cw::Spent spent;
  std::vector<std::string> warnings;
  return std::move(cw::solve_states(subject, effort, spent, warnings, means).front());
}

}  // namespace

cw::SolvedState solve_for_study(const Case& subject, cw::Effort effort) {
  return solve(subject, effort, {});
}

cw::SolvedState solve_reference(const Case& subject) {
  // Starts from another mesh than any run, and refines it to a tenth of the error that `normal`
  // permits.
  cw::StateMeans means;
  means.maker = [](const Section& section, const Sizing& sizing, const Media& media) {
    return cw::system_from_nothing(section, sizing.scaled(0.77), media);
  };
  means.allowed_error = 2e-4;
  return solve(subject, cw::Effort::normal, means);
}

}  // namespace cw::accuracy
