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
  bool reference = true;  ///< solve that too, for what `effort` solved
  int processes = 1;
  double seconds = 120;  ///< of processor, that a solution may take
};

/// Solves what `rows` lacks in forked workers: a solution that crashes, throws or takes too long is
/// one failed row. Rows are added, and handed to `put` as they come.
void run_study(const StudyPlan& plan, Rows& rows, const std::function<void(const Row&)>& put);

}  // namespace cw::accuracy
