#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace cw::cases {

/// A piece of work, as bytes that the worker understands.
struct Task {
  std::size_t number = 0;  ///< of the caller; comes back with the answer
  std::string order;
};

/// What came back.
struct Answer {
  std::size_t number = 0;
  std::string bytes;  ///< of the work; empty where the worker died
  std::string death;  ///< why the worker died: "signal 11 (Segmentation fault)"; empty if it lives
};

/// Workers as forked processes, one task at a time each: one that crashes costs its task alone, and
/// another takes its place. They die with this process, however it ends. Not to be used beside
/// running threads: a fork copies one of them only.
class Crew {
 public:
  /// Runs in the worker; must not throw. What it keeps between tasks lives as long as the worker.
  using Work = std::function<std::string(const std::string& order)>;

  Crew(int size, Work work);
  ~Crew();  ///< ends the workers; tasks in hand are lost
  Crew(const Crew&) = delete;
  Crew& operator=(const Crew&) = delete;

  [[nodiscard]] int size() const { return static_cast<int>(workers_.size()); }
  [[nodiscard]] int free() const;
  /// Requires free() > 0. Throws std::runtime_error when no process can be started.
  void give(const Task& task);
  /// What has come back; waits for something up to `milliseconds`, less when a signal arrives.
  std::vector<Answer> collect(int milliseconds);

 private:
  struct Worker;
  void start(Worker& worker);
  bool receive(Worker& worker, Answer& answer);
  static void bury(Worker& worker, Answer& answer);

  Work work_;
  std::vector<std::unique_ptr<Worker>> workers_;
};

}  // namespace cw::cases
