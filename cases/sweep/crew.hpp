#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace cw::cases {

/// A piece of work, as bytes that the worker understands.
struct Task {
  std::size_t number = 0;  ///< chosen by the caller; returned with the answer
  std::string order;
};

/// The answer to a task.
struct Answer {
  std::size_t number = 0;
  std::string bytes;  ///< result of the work; empty if the worker died
  std::string death;  ///< why the worker died: "signal 11 (Segmentation fault)"; empty if it lives
};

/// Workers as forked processes, each with one task at a time. A crash loses only its task, and a
/// new worker replaces the crashed one. Workers end with this process, however it ends. Not to be
/// used beside running threads: a fork copies only one of them.
class Crew {
 public:
  /// Runs in the worker; must not throw. Its state lives as long as the worker.
  using Work = std::function<std::string(const std::string& order)>;

  Crew(int size, Work work);
  ~Crew();  ///< ends the workers; unfinished tasks are lost
  Crew(const Crew&) = delete;
  Crew& operator=(const Crew&) = delete;

  [[nodiscard]] int size() const { return static_cast<int>(workers_.size()); }
  [[nodiscard]] int free() const;
  /// Requires free() > 0. Throws std::runtime_error when no process can be started.
  void give(const Task& task);
  /// The answers so far; waits up to `milliseconds` for one, less if a signal arrives.
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
