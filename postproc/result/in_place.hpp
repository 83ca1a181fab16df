#pragma once

#include <csignal>
#include <filesystem>
#include <functional>
#include <string>

namespace cw {

/// While it lives SIGINT and SIGTERM wait.
class SignalsWait {
 public:
  SignalsWait();
  ~SignalsWait();
  SignalsWait(const SignalsWait&) = delete;
  SignalsWait& operator=(const SignalsWait&) = delete;

 private:
  sigset_t before_;
};

/// A file or a directory under a name of its own beside `target`, which takes the place of `target`
/// when it is whole, or goes. The name is one that nobody else has, whatever its process; a lock
/// (flock) tells others that it is in use, and those of killed programs, which hold none, go when
/// the next one is made. While it lives SIGINT and SIGTERM wait: what they find is whole or gone.
class Fresh {
 public:
  enum class Kind { file, directory };
  Fresh(const std::filesystem::path& target, Kind kind);
  ~Fresh();
  Fresh(const Fresh&) = delete;
  Fresh& operator=(const Fresh&) = delete;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  /// All of it on the disk, then in the place of `target`, never through a link there. A power cut
  /// leaves the old one or the new one.
  void put();

  /// Whether a file of this name is one that a killed program left.
  static bool left_over(const std::string& name);

 private:
  bool take();

  SignalsWait whole_or_gone_;
  std::filesystem::path target_, path_;
  Kind kind_;
  int lock_ = -1;
};

/// Readers see the old file or the new one, never half of it; after a failure the old one stands.
/// Throws WriteError.
void replace_file(const std::filesystem::path& path, const std::string& bytes);

/// The same for what others write: `fill` makes the file of the name it is given, and throws where
/// it cannot.
void replace_file(const std::filesystem::path& path,
                  const std::function<void(const std::filesystem::path&)>& fill);

/// Writes bytes to a file of a directory that nobody reads yet, that of a Fresh. Throws WriteError;
/// also when the user asked to stop.
void write_file(const std::filesystem::path& path, const std::string& bytes);

}  // namespace cw
