#pragma once

#include <cstdint>
#include <functional>
#include <string>

namespace cw::cases {

/// One message from the process that solves.
struct SolverAnswer {
  enum class Kind : char { part = 'p', end = 'e', death = 'd' };
  std::uint64_t order = 0;  ///< the number of the order that it belongs to
  Kind kind = Kind::part;
  std::string bytes;  ///< the part; how the process died
};

/// Solves one order at a time in a process of its own; a newer order ends the older one at once,
/// wherever it is. The processes are forked by an overseer that has a single thread, whatever
/// threads the caller has.
class SolverProcess {
 public:
  using Send = std::function<void(const std::string&)>;
  using Work = std::function<void(const std::string& order, const Send& send)>;

  /// Forks the overseer: to be called before the program starts any thread. It ends with the
  /// calling process. `prepare` runs once in the overseer, which then has a single thread again:
  /// every process of the solver begins with what it leaves in memory. Throws std::runtime_error if
  /// no process can be started.
  explicit SolverProcess(const Work& work, const std::function<void()>& prepare = {});
  ~SolverProcess();
  SolverProcess(const SolverProcess&) = delete;
  SolverProcess& operator=(const SolverProcess&) = delete;

  /// Ends what is being solved and starts this. An empty text only ends.
  void begin(std::uint64_t order, const std::string& text) const;
  /// Ends all processes; next() returns false from then on.
  void stop() const;
  /// Waits for the next message; false if the overseer is gone. For one thread.
  bool next(SolverAnswer& answer) const;

 private:
  int overseer_ = -1;  // its process
  int socket_ = -1;
};

}  // namespace cw::cases
