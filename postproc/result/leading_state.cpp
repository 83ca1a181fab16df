#include "postproc/result/leading_state.hpp"

#include <algorithm>
#include <tuple>

namespace cw {

const StateResult* leading_state(const Result& result) {
  const auto rank = [](const StateResult& s) {
    return std::tuple(s.met, s.power.workpiece.has_value(), s.power.total);
  };
  const auto most = std::ranges::max_element(result.states, {}, rank);
  return most == result.states.end() ? nullptr : &*most;
}

}  // namespace cw
