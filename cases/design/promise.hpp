#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>

#include "cases/design/coil_kernel.hpp"
#include "solver/outcome/result.hpp"

namespace cw::cases {

/// What a design is expected to do before its heating is solved.
struct Promise {
  std::optional<double> time;            ///< to the target [s]; empty: not reached in `longest`
  Temperature end{0.0};                  ///< of the reading, where it ends
  double supply_current = 0.0;           ///< largest that flows [A]
  double supply_power = 0.0;             ///< largest [W]
  std::map<std::string, double> shares;  ///< of every limit, by limit_key; 1: at it
  bool rings = true;                     ///< the tank rings all the way
};

/// Names one of the limits of a heater: "capacitor can, current_rms_A".
std::string limit_key(const LimitResult& limit);
/// Its share of the limit, as a search for designs counts it: nothing for what harms no part.
double counted_share(const LimitResult& limit);

struct WorkRow;

/// Where a heating is followed to.
struct CourseBounds {
  double shift = 0.0;    ///< of the work from where the heater has it [m]
  double longest = 0.0;  ///< [s]
};

/// The heating of a WorkRow with the power that its share of the coil's field brings: seconds of a
/// heating in a millisecond. Good for an order, not for figures.
class QuickHeating {
 public:
  /// `heater`: with any coil; work and target are taken from it.
  explicit QuickHeating(const Heater& heater);
  ~QuickHeating();
  QuickHeating(QuickHeating&&) noexcept;

  [[nodiscard]] Promise promise(const TankCircuit& circuit, const Coil& coil,
                                const CoilKernel& kernel, const WorkReference& reference,
                                const CourseBounds& bounds) const;

 private:
  std::unique_ptr<WorkRow> row_;
};

}  // namespace cw::cases
