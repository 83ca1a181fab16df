#include "postproc/output/among_processes.hpp"

#include <fcntl.h>
#include <malloc.h>
#include <signal.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <cstddef>
#include <exception>
#include <new>
#include <string>
#include <thread>
#include <utility>

#include "postproc/result/write_error.hpp"

namespace cw {

namespace {

using Tasks = std::vector<std::function<void()>>;

/// The number of the next task, in memory shared by all processes.
class Counter {
 public:
  Counter() {
    void* place = ::mmap(nullptr, sizeof(std::atomic<std::size_t>), PROT_READ | PROT_WRITE,
                         MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (place == MAP_FAILED) throw std::bad_alloc();
    next_ = new (place) std::atomic<std::size_t>(0);
  }
  ~Counter() { ::munmap(next_, sizeof *next_); }
  Counter(const Counter&) = delete;
  Counter& operator=(const Counter&) = delete;

  std::size_t take() { return (*next_)++; }
  void end() { *next_ = past_all; }

 private:
  static constexpr std::size_t past_all = std::size_t{1} << 62U;
  std::atomic<std::size_t>* next_;
};

/// Runs tasks until none are left; after one fails, no further one begins.
void work_off(const Tasks& tasks, Counter& next) {
  try {
    for (std::size_t k = next.take(); k < tasks.size(); k = next.take()) tasks[k]();
  } catch (...) {
    next.end();
    throw;
  }
}

enum Ending { done, failed, out_of_memory };

/// A process that works beside this one, and the end of the pipe through which it reports a
/// failure.
struct Helper {
  pid_t process;
  int words;
};

/// The main function of a helper. Nothing of the parent may run at its end: no destructors, no exit
/// handlers.
[[noreturn]] void help(int words, pid_t parent, const Tasks& tasks, Counter& next) {
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (::getppid() != parent) ::_exit(failed);  // the parent died before it could be watched
  try {
    work_off(tasks, next);
  } catch (const std::bad_alloc&) {
    ::_exit(out_of_memory);
  } catch (const std::exception& error) {
    const std::string what = error.what();
    static_cast<void>(!::write(words, what.data(), std::min<std::size_t>(what.size(), 4096)));
    ::_exit(failed);
  }
  ::_exit(done);
}

class Helpers {
 public:
  Helpers() = default;
  ~Helpers() {
    for (const Helper& helper : helpers_) ended(helper);
  }
  Helpers(const Helpers&) = delete;
  Helpers& operator=(const Helpers&) = delete;

  /// False if no process can be started.
  bool add(const Tasks& tasks, Counter& next) {
    std::array<int, 2> ends{};
    if (::pipe2(ends.data(), O_CLOEXEC) != 0) return false;
    const pid_t parent = ::getpid(), process = ::fork();
    if (process == 0) help(ends[1], parent, tasks, next);
    ::close(ends[1]);
    if (process < 0)
      ::close(ends[0]);
    else
      helpers_.push_back({process, ends[0]});
    return process > 0;
  }

  /// Waits for all; if any failed, throws with the message of the first.
  void join() {
    std::vector<std::pair<int, std::string>> all;
    while (!helpers_.empty()) {
      all.push_back(ended(helpers_.back()));
      helpers_.pop_back();
    }
    for (const auto& [status, words] : all) {
      if (WIFEXITED(status) && WEXITSTATUS(status) == done) continue;
      if (WIFEXITED(status) && WEXITSTATUS(status) == out_of_memory) throw std::bad_alloc();
      throw WriteError(words.empty() ? "a process that wrote results ended before its time"
                                     : words);
    }
  }

 private:
  static std::pair<int, std::string> ended(const Helper& helper) {
    std::string words;
    std::array<char, 512> part{};
    for (ssize_t n = 0; (n = ::read(helper.words, part.data(), part.size())) != 0;) {
      if (n > 0) words.append(part.data(), static_cast<std::size_t>(n));
      if (n < 0 && errno != EINTR) break;
    }
    ::close(helper.words);
    int status = 0;
    while (::waitpid(helper.process, &status, 0) < 0 && errno == EINTR) {
    }
    return {status, words};
  }

  std::vector<Helper> helpers_;
};

}  // namespace

void among_processes(const Tasks& tasks) {
  Counter next;
  Helpers helpers;
  // Pages of freed memory would be copied when either process uses them again.
  ::malloc_trim(0);
  const std::size_t most =
      std::min<std::size_t>(tasks.size(), std::max(1U, std::thread::hardware_concurrency()));
  for (std::size_t k = 1; k < most && helpers.add(tasks, next); ++k) {
  }
  work_off(tasks, next);
  helpers.join();
}

}  // namespace cw
