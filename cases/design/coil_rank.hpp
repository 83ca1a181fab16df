#pragma once

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "cases/design/choice.hpp"
#include "cases/design/design_kind.hpp"
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

/// Results of the heating runs over what the quick model had predicted for the same choices, as
/// means.
struct Experience {
  double slower = 1.0;                   ///< time to the target, over that promised
  std::map<std::string, double> harder;  ///< share of a limit over that promised, by limit_key
};

/// Orders the choices of one shelf by what the quick model predicts.
class CoilRank {
 public:
  CoilRank(const ShelfCase& shelf, KnownCoils& known, const DesignSearchOptions& options);

  /// Solves the coils that are not known yet, and judges some banks on each.
  void look_at(const std::vector<Choice>& coils, const std::string& stage);
  /// Judges every bank on the best coils.
  void look_at_banks(DesignKind kind, std::size_t most);
  /// Solves the work once more, in the coil that is best so far, and judges all anew.
  void sharpen(DesignKind kind);

  /// From now on predictions are corrected by the results of heating runs.
  void learn(Experience seen) { seen_ = std::move(seen); }

  /// Of every coil, with its best bank, best first; those that do the work within the limits come
  /// before the others.
  [[nodiscard]] std::vector<Candidature> best(DesignKind kind) const;
  /// Whether the target is predicted in time and every part within its limit, with some room.
  [[nodiscard]] bool does_it(const Candidature& c) const;
  /// Time to the target as far as is known by now [s].
  [[nodiscard]] std::optional<double> time_of(const Candidature& c) const;
  /// Of the part nearest to its limit, as far as is known by now; 1: at it.
  [[nodiscard]] double share_of_limit(const Candidature& c) const;
  /// Null where the choice was not judged.
  [[nodiscard]] const Candidature* find(const Choice& choice) const;

  [[nodiscard]] const ChoiceBounds& bounds() const { return bounds_; }
  [[nodiscard]] int coils() const { return static_cast<int>(coils_.size()); }
  [[nodiscard]] int banks() const { return static_cast<int>(all_.size()); }

 private:
  void add(const std::vector<Choice>& choices);
  void judge(std::vector<Candidature>& all) const;
  [[nodiscard]] TankCircuit circuit_of(const Choice& choice) const;
  [[nodiscard]] double badness(const Candidature& c, DesignKind kind) const;

  const ShelfCase& shelf_;
  KnownCoils& known_;
  const DesignSearchOptions& options_;
  ChoiceBounds bounds_;
  Case base_;
  QuickHeating heating_;
  Experience seen_;
  std::optional<WorkReference> reference_;
  std::vector<Choice> coils_;
  std::vector<Candidature> all_;
  std::set<Choice> judged_;
};

}  // namespace cw::cases
