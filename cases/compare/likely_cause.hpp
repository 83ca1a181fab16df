#pragma once

#include <functional>
#include <string>
#include <vector>

#include "cases/compare/fault.hpp"
#include "cases/compare/first_power.hpp"

namespace cw::cases {

/// The readings; empty where nothing was measured.
struct Measured {
  ReadingValues value;
  double accuracy = 0.02;        ///< relative standard deviation of every reading
  std::optional<double> supply;  ///< voltage at which it was measured [V]
};

/// A cause and how well it fits.
struct CauseFit {
  Fault fault;
  double misfit = 0.0;      ///< chi squared of all readings
  double likelihood = 0.0;  ///< share among all causes, sound included, with equal prior for each
                            ///< kind
  ReadingValues predicted;
};

enum class Finding { sound, cause, unexplained };

struct Comparison {
  Finding finding = Finding::sound;
  std::vector<CauseFit> ranked;  ///< best of each kind, most likely first; `sound` among them
  int readings = 0;
  double sound_misfit = 0.0, misfit_limit = 0.0;  ///< a cause above the limit does not explain the
                                                  ///< readings
  double odds = 1.0;  ///< of the most likely cause against a sound heater; 1e9 at most

  [[nodiscard]] bool may_be_sound() const { return sound_misfit <= misfit_limit; }
};

/// All heaters from which the readings may come, solved once for a case: sound, with its
/// tolerances, and with each fault. Interpolates between lengths of leads.
class FaultLibrary {
 public:
  /// Solves them all; `progress` gets how many are done, of how many, and the next one.
  FaultLibrary(const Case& subject,
               const std::function<void(int, int, const std::string&)>& progress = {});
  /// Ranks the causes. Readings are compared by their logarithms; their accuracy and the tolerances
  /// of the parts (as uniform distributions) make the covariance. A cause explains the readings if
  /// its chi squared is below the value that one heater in a thousand exceeds. The finding is the
  /// most likely such cause; or sound, unless that is excluded or ten times less likely.
  [[nodiscard]] Comparison compare(const Measured& measured) const;
  [[nodiscard]] const Expectation& expected() const { return expected_; }

 private:
  const Case subject_;
  Expectation expected_;
  struct Entry {
    Fault fault;
    ReadingValues value;
  };
  std::vector<Entry> entries_;
};

/// The value that chi squared with 1 to 7 degrees of freedom exceeds once in a thousand. Source:
/// table of the distribution in any textbook of statistics (from memory).
double chi_squared_limit(int degrees);

}  // namespace cw::cases
