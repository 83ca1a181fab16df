#pragma once

#include <map>

#include "cases/sweep/crew.hpp"
#include "cases/sweep/hosts.hpp"

namespace cw::cases {

/// The workers of this machine and, on rank 0 of a launch, those of all other ranks.
class Fleet {
 public:
  /// `hosts` null: only this machine.
  Fleet(int jobs, Crew::Work work, Hosts* hosts);
  ~Fleet();  ///< lets the other ranks end
  Fleet(const Fleet&) = delete;
  Fleet& operator=(const Fleet&) = delete;

  [[nodiscard]] bool free() const;
  [[nodiscard]] int in_hand() const { return in_hand_; }
  /// Requires free().
  void give(const Task& task);
  /// As Crew::collect().
  std::vector<Answer> collect(int milliseconds);

 private:
  Crew crew_;
  Hosts* hosts_;
  std::map<int, int> idle_;  ///< number of idle workers, by rank
  int in_hand_ = 0;
};

/// Main loop of a rank other than 0: its workers solve tasks from rank 0 until that lets it end.
void serve(int jobs, Crew::Work work, const Hosts& hosts);

}  // namespace cw::cases
