#pragma once

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <vector>

#include "cases/design/choice.hpp"
#include "cases/design/find_designs.hpp"
#include "cases/design/promise.hpp"

namespace cw::cases {

/// Fields of coils that were solved, kept for every bank and supply; nothing where a coil cannot be
/// built or solved.
using KnownCoils = std::map<std::vector<double>, std::optional<CoilKernel>>;

/// A choice with what it is expected to do.
struct Candidature {
  Choice choice;
  Promise promise;
  double tube = 0.0;  ///< [m]
};

/// Orders the choices of one shelf by what they promise.
class CoilRank {
 public:
  CoilRank(const ShelfCase& shelf, KnownCoils& known, const DesignSearchOptions& options);

  /// Solves the coils that are not known yet, and judges some banks on each.
  void look_at(const std::vector<Choice>& coils, const std::string& stage);
  /// Judges every bank on the best coils.
  void look_at_banks(DesignKind kind, std::size_t most);
  /// Solves the work once more, in the coil that is best so far, and judges all anew.
  void sharpen(DesignKind kind);

  /// Of every coil, with its best bank, best first; those that do the work within the limits come
  /// before the others. `slower`: what the time promised is multiplied with.
  [[nodiscard]] std::vector<Candidature> best(DesignKind kind, double slower) const;
  [[nodiscard]] bool does_it(const Candidature& c, double slower) const;

  [[nodiscard]] const ChoiceBounds& bounds() const { return bounds_; }
  [[nodiscard]] int coils() const { return static_cast<int>(coils_.size()); }
  [[nodiscard]] int banks() const { return static_cast<int>(all_.size()); }

 private:
  void add(const std::vector<Choice>& choices);
  void judge(std::vector<Candidature>& all) const;
  [[nodiscard]] TankCircuit circuit_of(const Choice& choice) const;
  [[nodiscard]] double badness(const Candidature& c, DesignKind kind, double slower) const;

  const ShelfCase& shelf_;
  KnownCoils& known_;
  const DesignSearchOptions& options_;
  ChoiceBounds bounds_;
  Case base_;
  QuickHeating heating_;
  std::optional<WorkReference> reference_;
  std::vector<Choice> coils_;
  std::vector<Candidature> all_;
  std::set<Choice> judged_;
};

}  // namespace cw::cases
