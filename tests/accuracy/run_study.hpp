#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "tests/accuracy/study_row.hpp"

namespace cw::accuracy {

struct StudyPlan {
  std::vector<std::uint64_t> seeds;
  std::string effort = "normal";
  bool reference = true;  ///< also solve the reference of every solved case
  int processes = 1;
  double seconds = 120;  ///< processor time that a solution may take
};

/// Solves what is missing in `rows` in forked workers: a solution that crashes, throws or takes too
/// long is one failed row. New rows are added, and passed to `put` at once.
void run_study(const StudyPlan& plan, Rows& rows, const std::function<void(const Row&)>& put);

}  // namespace cw::accuracy
