#include "postproc/result/in_place.hpp"

#include <fcntl.h>
#include <fmt/core.h>
#include <signal.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <random>
#include <system_error>

#include "postproc/result/write_error.hpp"

namespace cw {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view infix = ".part-";
constexpr std::size_t name_digits = 12;  ///< at the end of a name, hexadecimal

fs::filesystem_error failure(const fs::path& path) {
  return {"could not be written", path, {errno, std::generic_category()}};
}

/// Closes a file at the end of its life.
struct Closed {
  int file;
  ~Closed() { ::close(file); }
};

fs::path new_name(const fs::path& target) {
  std::random_device random;
  const unsigned long number = (static_cast<unsigned long>(random()) << 32U) | random();
  return target.parent_path() / fmt::format(".{}{}{:0{}x}", target.filename().string(), infix,
                                            number >> (64 - 4 * name_digits), name_digits);
}

/// Whether the lock was taken: not if another process has it, or if the file system has no locks.
bool locked(int file) {
  return ::flock(file, LOCK_EX | LOCK_NB) == 0;
}

/// Whether this is still the name of the open file.
bool names(const fs::path& path, int file) {
  struct stat by_name {
  }, open{};
  return ::lstat(path.c_str(), &by_name) == 0 && ::fstat(file, &open) == 0 &&
         by_name.st_ino == open.st_ino && by_name.st_dev == open.st_dev;
}

void remove_unlocked(const fs::path& path) {
  const int file = ::open(path.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
  if (file < 0) return;
  const Closed closed{file};
  std::error_code ignored;
  if (locked(file) && names(path, file)) fs::remove_all(path, ignored);
}

/// Removes what killed programs have left beside `target`.
void remove_leftovers(const fs::path& target) {
  const std::string start = fmt::format(".{}{}", target.filename().string(), infix);
  std::error_code unreadable;  // if set, there is nothing to remove
  std::vector<fs::path> left;
  for (fs::directory_iterator it(target.parent_path(), unreadable), end; !unreadable && it != end;
       it.increment(unreadable)) {
    const std::string name = it->path().filename().string();
    if (name.starts_with(start) && name.size() == start.size() + name_digits &&
        Fresh::left_over(name))
      left.push_back(it->path());
  }
  for (const fs::path& path : left) remove_unlocked(path);
}

/// Waits until it is on the disk. Failures are ignored: a file that cannot be opened for this, or a
/// file system that does not support it.
void sync(const fs::path& path) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) return;
  const Closed closed{file};
  if (::fsync(file) != 0 && errno != EINVAL && errno != ENOTSUP) throw failure(path);
}

void sync_all(const fs::path& path) {
  if (fs::is_directory(path))
    for (const auto& entry : fs::recursive_directory_iterator(path)) sync(entry.path());
  sync(path);
}

/// Exchanges `fresh` and `directory`; the earlier contents are then at `fresh`.
void exchange(const fs::path& fresh, const fs::path& directory) {
  // Another run may create the directory meanwhile.
  for (int tries = 0; tries < 100; ++tries) {
    if (renameat2(AT_FDCWD, fresh.c_str(), AT_FDCWD, directory.c_str(), RENAME_EXCHANGE) == 0)
      return;
    if (errno == EINVAL || errno == ENOSYS) break;
    if (errno != ENOENT) throw failure(directory);
    if (std::rename(fresh.c_str(), directory.c_str()) == 0) return;
    if (errno != ENOTEMPTY && errno != EEXIST) throw failure(directory);
  }
  // Some network file systems cannot exchange names: two steps, the first undone if the second
  // fails.
  if (!fs::exists(directory)) return fs::rename(fresh, directory);
  const fs::path aside = fresh.string() + ".old";
  fs::rename(directory, aside);
  std::error_code error;
  fs::rename(fresh, directory, error);
  fs::rename(aside, error ? directory : fresh);
  if (error) throw fs::filesystem_error("rename", directory, error);
}

/// Whether a signal that would end the program is pending.
bool awaited(int signal) {
  sigset_t pending;
  struct sigaction action {};
  return ::sigpending(&pending) == 0 && sigismember(&pending, signal) == 1 &&
         ::sigaction(signal, nullptr, &action) == 0 && action.sa_handler != SIG_IGN;
}

/// Throws filesystem_error.
void write_all(const fs::path& path, const std::string& bytes) {
  const int file =
      ::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC, 0666);
  if (file < 0) throw failure(path);
  const Closed closed{file};
  for (std::size_t done = 0; done < bytes.size();) {
    const ssize_t n = ::write(file, bytes.data() + done, bytes.size() - done);
    if (n < 0 && errno != EINTR) throw failure(path);
    done += static_cast<std::size_t>(std::max<ssize_t>(n, 0));
  }
}

WriteError unwritten(const fs::path& path, const fs::filesystem_error& error) {
  return WriteError(
      fmt::format("{}: could not be written: {}", path.string(), error.code().message()));
}

}  // namespace

SignalsWait::SignalsWait() {
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGINT);
  sigaddset(&set, SIGTERM);
  ::pthread_sigmask(SIG_BLOCK, &set, &before_);
}

SignalsWait::~SignalsWait() {
  ::pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

Fresh::Fresh(const fs::path& target, Kind kind) : target_(fs::absolute(target)), kind_(kind) {
  remove_leftovers(target_);
  while (!take()) {
  }
}

/// False if another program removed it as a leftover before it was locked.
bool Fresh::take() {
  path_ = new_name(target_);
  const bool folder = kind_ == Kind::directory;
  if (folder && ::mkdir(path_.c_str(), 0777) != 0) throw failure(target_);
  lock_ = ::open(path_.c_str(),
                 (folder ? O_DIRECTORY : O_RDWR | O_CREAT | O_EXCL) | O_NOFOLLOW | O_CLOEXEC, 0666);
  if (lock_ < 0 && !(folder && errno == ENOENT)) {
    const fs::filesystem_error why = failure(target_);
    if (folder) ::rmdir(path_.c_str());
    throw why;
  }
  // On a file system without locks, leftovers cannot be told from files in use, and none are
  // removed.
  if (lock_ >= 0 && (locked(lock_) || errno != EWOULDBLOCK) && names(path_, lock_)) return true;
  if (lock_ >= 0) ::close(lock_);
  return false;
}

Fresh::~Fresh() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
  ::close(lock_);
}

void Fresh::put() {
  sync_all(path_);
  if (kind_ == Kind::directory)
    exchange(path_, target_);
  else if (std::rename(path_.c_str(), target_.c_str()) != 0)
    throw failure(target_);
  try {
    sync(target_.parent_path());
  } catch (const fs::filesystem_error&) {
    // The file is in its place; when the directory reaches the disk is beyond our control.
  }
}

bool Fresh::left_over(const std::string& name) {
  const std::size_t at = name.rfind(infix);
  return name.starts_with('.') && at != std::string::npos &&
         name.size() == at + infix.size() + name_digits &&
         name.find_first_not_of("0123456789abcdef", at + infix.size()) == std::string::npos;
}

void replace_file(const fs::path& path, const std::function<void(const fs::path&)>& fill) {
  try {
    Fresh fresh(path, Fresh::Kind::file);
    fill(fresh.path());
    fresh.put();
  } catch (const fs::filesystem_error& error) {
    std::error_code ignored;
    const bool stands = fs::exists(fs::symlink_status(path, ignored));
    throw WriteError(fmt::format("{}{}", unwritten(path, error).what(),
                                 stands ? "; the earlier one stays as it was" : ""));
  }
}

void replace_file(const fs::path& path, const std::string& bytes) {
  replace_file(path, [&](const fs::path& fresh) { write_all(fresh, bytes); });
}

void write_file(const fs::path& path, const std::string& bytes) {
  if (awaited(SIGINT) || awaited(SIGTERM))
    throw WriteError(fmt::format("{}: not written, the program was stopped", path.string()));
  try {
    write_all(path, bytes);
  } catch (const fs::filesystem_error& error) {
    throw unwritten(path, error);
  }
}

}  // namespace cw
