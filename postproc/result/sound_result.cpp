#include "postproc/result/sound_result.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <vector>

#include "postproc/result/read_result.hpp"

namespace cw {

namespace {

/// Reports inconsistencies of one file.
struct Judge {
  const std::string& name;

  void need(bool good, const char* key, std::string_view found, const char* allowed) const {
    if (!good)
      throw ResultFileError(fmt::format("{}: {}: found {}; allowed: {}; run the case again.", name,
                                        key, found, allowed));
  }
  void need_length(const char* key, std::size_t found, std::size_t wanted) const {
    need(found == wanted, key, fmt::format("{} numbers", found),
         fmt::format("{}, as many as its neighbours have", wanted).c_str());
  }
  void need_positive(const char* key, const std::vector<double>& values) const {
    need(std::ranges::all_of(values, [](double v) { return v > 0; }), key,
         "a number that is zero or negative", "above zero");
  }
  /// Requires that a table of the page lies in the result directory.
  void need_inside(const char* key, const std::string& table) const {
    const std::filesystem::path path(table);
    need(path.is_relative() && std::ranges::find(path, "..") == path.end(), key, table,
         "a file in the result directory");
  }
};

}  // namespace

void require_sound(const Result& result, const std::string& name) {
  const Judge judge{name};
  for (const StateResult& state : result.states)
    judge.need_length("states.coil.rings", state.coil.turns.size(),
                      result.states.front().coil.turns.size());
  if (result.demand) {
    const std::size_t wanted = result.demand->temperatures.size();
    judge.need_length("demand.currents_A", result.demand->currents.size(), wanted);
    judge.need_length("demand.frequencies_Hz", result.demand->frequencies.size(), wanted);
  }
  if (result.heat) judge.need_inside("heat.history", result.heat->history);
  if (result.cooling && result.cooling->air)
    judge.need_inside("cooling.still_air.history", result.cooling->air->history);
  if (!result.exposure) return;
  const ExposureResult& exposure = *result.exposure;
  const std::size_t wanted = exposure.distances.size();
  judge.need_length("exposure.field_T_rms", exposure.field_rms.size(), wanted);
  judge.need_positive("exposure.distances_m", exposure.distances);
  if (!exposure.axis_rms.empty() || !exposure.beside_rms.empty()) {
    judge.need_length("exposure.axis_T_rms", exposure.axis_rms.size(), wanted);
    judge.need_length("exposure.beside_T_rms", exposure.beside_rms.size(), wanted);
  }
  for (const ExposureLevel& level : exposure.levels)
    judge.need(level.level > 0, "exposure.levels", fmt::format("{}", level.level), "above zero");
}

}  // namespace cw
