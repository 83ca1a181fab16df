#pragma once

#include <csignal>
#include <filesystem>
#include <functional>
#include <string>

namespace cw {

/// While it exists, SIGINT and SIGTERM wait.
class SignalsWait {
 public:
  SignalsWait();
  ~SignalsWait();
  SignalsWait(const SignalsWait&) = delete;
  SignalsWait& operator=(const SignalsWait&) = delete;

 private:
  sigset_t before_;
};

/// A file or a directory with a temporary name beside `target`. It replaces `target` when it is
/// complete, or is removed. The name is unique, whatever the process number. A lock (flock) tells
/// others that it is in use; files of killed programs have no lock and are removed when the next
/// one is made. While it exists SIGINT and SIGTERM wait, so they never leave anything incomplete.
class Fresh {
 public:
  enum class Kind { file, directory };
  Fresh(const std::filesystem::path& target, Kind kind);
  ~Fresh();
  Fresh(const Fresh&) = delete;
  Fresh& operator=(const Fresh&) = delete;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  /// Synchronises all of it to disk, then replaces `target`, never through a link there. After a
  /// power cut either the old or the new one is there.
  void put();

  /// Whether this is the name of a file that a killed program may have left.
  static bool left_over(const std::string& name);

 private:
  bool take();

  SignalsWait whole_or_gone_;
  std::filesystem::path target_, path_;
  Kind kind_;
  int lock_ = -1;
};

/// Readers see the old file or the new one, never half of it; after a failure the old one remains.
/// Throws WriteError.
void replace_file(const std::filesystem::path& path, const std::string& bytes);

/// The same for files that others write: `fill` writes the file with the given name, and throws if
/// it cannot.
void replace_file(const std::filesystem::path& path,
                  const std::function<void(const std::filesystem::path&)>& fill);

/// Writes bytes to a file in a directory that nobody reads yet, that of a Fresh. Throws WriteError,
/// also if the user asked to stop.
void write_file(const std::filesystem::path& path, const std::string& bytes);

}  // namespace cw
