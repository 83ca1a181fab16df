#pragma once

#include <deque>
#include <memory>
#include <optional>
#include <string>

#include "cases/sweep/design.hpp"
#include "solver/outcome/result.hpp"

namespace cw::cases {

/// Solves designs that differ only in the frequency, with one stored model of the coil over the
/// band (see FrequencySweep). For grids with `drive.frequency` among their keys, fixed drives,
/// massive turns, and no saturation; with bodies of any shape. Such a result lacks the estimate of
/// the mesh's error.
class FrequencyDesigns {
 public:
  explicit FrequencyDesigns(Effort effort);
  ~FrequencyDesigns();
  FrequencyDesigns(const FrequencyDesigns&) = delete;
  FrequencyDesigns& operator=(const FrequencyDesigns&) = delete;

  /// The result, or nothing if the method does not apply. Throws MeshError, SolveError.
  std::optional<Result> solve(const Case& design, const std::vector<Change>& changes);

 private:
  struct Band;
  struct Kept;
  static std::optional<Band> band_of(const Case& design);
  Kept& kept(const Case& design, const std::string& key, const Band& band, Temperature coil);

  Effort effort_;
  std::deque<std::unique_ptr<Kept>> kept_;  ///< latest first
};

/// Identifies a design apart from its frequency.
std::string without_frequency(const std::vector<Change>& changes);

}  // namespace cw::cases
