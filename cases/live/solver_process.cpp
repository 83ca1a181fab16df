#include "cases/live/solver_process.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <stdexcept>
#include <utility>

namespace cw::cases {

namespace {

/// Before the bytes of every message, in both directions.
struct FrameHead {
  std::uint64_t order = 0, length = 0;
  std::uint64_t kind = 0;
};

bool write_exactly(int to, const char* bytes, std::size_t count) {
  while (count > 0) {
    const ssize_t n = ::write(to, bytes, count);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    bytes += n;
    count -= static_cast<std::size_t>(n);
  }
  return true;
}

bool read_exactly(int from, char* bytes, std::size_t count) {
  while (count > 0) {
    const ssize_t n = ::read(from, bytes, count);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    bytes += n;
    count -= static_cast<std::size_t>(n);
  }
  return true;
}

bool write_frame(int to, FrameHead head, const std::string& bytes) {
  head.length = bytes.size();
  std::string whole(sizeof head, '\0');
  std::memcpy(whole.data(), &head, sizeof head);
  whole += bytes;
  return write_exactly(to, whole.data(), whole.size());
}

bool read_frame(int from, FrameHead& head, std::string& bytes) {
  if (!read_exactly(from, reinterpret_cast<char*>(&head), sizeof head)) return false;
  bytes.resize(head.length);
  return read_exactly(from, bytes.data(), bytes.size());
}

/// Ends with the parent: by the signal that also ends it cleanly while it writes files.
void end_with(pid_t parent) {
  ::prctl(PR_SET_PDEATHSIG, SIGINT);
  if (::getppid() != parent) ::_exit(0);  // the parent died before it could be watched
}

/// The overseer: forwards only whole messages of the process that solves, so that ending it never
/// leaves half a message.
class Overseer {
 public:
  Overseer(int socket, const SolverProcess::Work& work) : socket_(socket), work_(work) {}

  [[noreturn]] void run() {
    while (true) {
      std::array<pollfd, 2> watched{{{socket_, POLLIN, 0}, {from_, POLLIN, 0}}};
      if (::poll(watched.data(), from_ < 0 ? 1 : 2, -1) < 0) continue;
      if (watched[0].revents != 0)
        take_order();
      else if (watched[1].revents != 0)
        forward();
    }
  }

 private:
  void take_order() {
    FrameHead head;
    std::string text;
    const bool more = read_frame(socket_, head, text);
    end_work();
    if (!more) ::_exit(0);
    order_ = head.order;
    if (!text.empty()) start(text);
  }

  void start(const std::string& text) {
    std::array<int, 2> ends{};
    const pid_t parent = ::getpid();
    if (::pipe2(ends.data(), O_CLOEXEC) != 0) return tell(SolverAnswer::Kind::death, no_process());
    process_ = ::fork();
    if (process_ == 0) solve(ends[1], parent, text);
    ::close(ends[1]);
    from_ = ends[0];
    if (process_ > 0) return;
    tell(SolverAnswer::Kind::death, no_process());
    ::close(std::exchange(from_, -1));
  }

  [[noreturn]] void solve(int to, pid_t parent, const std::string& text) {
    end_with(parent);
    ::close(socket_);
    work_(text, [to](const std::string& bytes) {
      if (!write_frame(to, {}, bytes)) ::_exit(0);
    });
    ::_exit(0);
  }

  /// Frames may arrive in pieces: an order must not wait for the rest of one.
  void forward() {
    std::array<char, 65536> part{};
    const ssize_t n = ::read(from_, part.data(), part.size());
    if (n < 0 && errno == EINTR) return;
    if (n <= 0) return note_end();
    received_.append(part.data(), static_cast<std::size_t>(n));
    FrameHead head;
    while (received_.size() >= sizeof head) {
      std::memcpy(&head, received_.data(), sizeof head);
      if (received_.size() < sizeof head + head.length) return;
      tell(SolverAnswer::Kind::part, received_.substr(sizeof head, head.length));
      received_.erase(0, sizeof head + head.length);
    }
  }

  void note_end() {
    int status = 0;
    while (::waitpid(process_, &status, 0) < 0 && errno == EINTR) {
    }
    process_ = -1;
    end_work();
    if (WIFEXITED(status) && WEXITSTATUS(status) == 0) return tell(SolverAnswer::Kind::end, "");
    tell(SolverAnswer::Kind::death, WIFSIGNALED(status)
                                        ? fmt::format("signal {}", WTERMSIG(status))
                                        : fmt::format("exit code {}", WEXITSTATUS(status)));
  }

  void end_work() {
    if (process_ > 0) {
      ::kill(process_, SIGKILL);
      while (::waitpid(process_, nullptr, 0) < 0 && errno == EINTR) {
      }
    }
    process_ = -1;
    if (from_ >= 0) ::close(std::exchange(from_, -1));
    received_.clear();
  }

  void tell(SolverAnswer::Kind kind, const std::string& bytes) const {
    if (!write_frame(socket_, {order_, 0, static_cast<std::uint64_t>(kind)}, bytes)) ::_exit(0);
  }

  static std::string no_process() {
    return fmt::format("no process could be started: {}", std::strerror(errno));
  }

  int socket_;
  const SolverProcess::Work& work_;
  pid_t process_ = -1;
  int from_ = -1;
  std::uint64_t order_ = 0;
  std::string received_;
};

}  // namespace

SolverProcess::SolverProcess(const Work& work, const std::function<void()>& prepare) {
  std::array<int, 2> ends{};
  if (::socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends.data()) != 0)
    throw std::runtime_error(
        fmt::format("no process could be started to solve: {}", std::strerror(errno)));
  const pid_t parent = ::getpid();
  overseer_ = ::fork();
  if (overseer_ == 0) {
    end_with(parent);
    ::close(ends[0]);
    if (prepare) prepare();
    Overseer(ends[1], work).run();
  }
  ::close(ends[1]);
  socket_ = ends[0];
  if (overseer_ > 0) return;
  ::close(socket_);
  throw std::runtime_error(
      fmt::format("no process could be started to solve: {}", std::strerror(errno)));
}

SolverProcess::~SolverProcess() {
  ::close(socket_);
  ::waitpid(overseer_, nullptr, 0);
}

void SolverProcess::begin(std::uint64_t order, const std::string& text) const {
  write_frame(socket_, {order, 0, 0}, text);
}

void SolverProcess::stop() const {
  ::shutdown(socket_, SHUT_RDWR);
}

bool SolverProcess::next(SolverAnswer& answer) const {
  FrameHead head;
  if (!read_frame(socket_, head, answer.bytes)) return false;
  answer.order = head.order;
  answer.kind = static_cast<SolverAnswer::Kind>(head.kind);
  return true;
}

}  // namespace cw::cases
