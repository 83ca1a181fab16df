#pragma once

#include <optional>
#include <string>

namespace cw::cases {

/// A message between ranks.
struct Message {
  enum class Kind { ready, task, answer, stop };
  Kind kind = Kind::ready;
  int rank = 0;  ///< sender or receiver
  std::string bytes;
};

/// The ranks of one launch (mpirun, srun); the only place that uses MPI. Create one only if
/// launched(): starting MPI takes half a second.
class Hosts {
 public:
  /// Whether a launcher started this process together with others, from the environment variables.
  static bool launched();

  Hosts();
  ~Hosts();
  Hosts(const Hosts&) = delete;
  Hosts& operator=(const Hosts&) = delete;

  [[nodiscard]] int rank() const { return rank_; }
  [[nodiscard]] int size() const { return size_; }
  /// Sends the bytes of rank 0 to every rank.
  [[nodiscard]] std::string share(std::string bytes) const;
  static void send(const Message& message);
  /// The next message if there is one; does not wait.
  static std::optional<Message> receive();
  /// Ends all ranks of the launch.
  [[noreturn]] static void abandon(int exit_code);

 private:
  int rank_ = 0, size_ = 1;
};

}  // namespace cw::cases
