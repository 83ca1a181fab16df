#pragma once

#include <optional>
#include <string>

namespace cw::cases {

/// What ranks say to each other.
struct Message {
  enum class Kind { ready, task, answer, stop };
  Kind kind = Kind::ready;
  int rank = 0;  ///< from whom, or to whom
  std::string bytes;
};

/// The ranks of one launch (mpirun, srun); the only place that knows MPI. Make one only where
/// launched() says so: starting MPI alone costs half a second.
class Hosts {
 public:
  /// Whether a launcher started this process with others, told from the environment it leaves.
  static bool launched();

  Hosts();
  ~Hosts();
  Hosts(const Hosts&) = delete;
  Hosts& operator=(const Hosts&) = delete;

  [[nodiscard]] int rank() const { return rank_; }
  [[nodiscard]] int size() const { return size_; }
  /// What rank 0 has, on every rank.
  [[nodiscard]] std::string share(std::string bytes) const;
  static void send(const Message& message);
  /// The next message if there is one; does not wait.
  static std::optional<Message> receive();
  /// Ends every rank of the launch.
  [[noreturn]] static void abandon(int exit_code);

 private:
  int rank_ = 0, size_ = 1;
};

}  // namespace cw::cases
