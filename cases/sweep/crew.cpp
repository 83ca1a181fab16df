#include "cases/sweep/crew.hpp"

#include <fmt/format.h>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cassert>
#include <cerrno>
#include <csignal>
#include <cstdint>
#include <cstring>
#include <stdexcept>

namespace cw::cases {

/// A process and our end of the socket to it.
struct Crew::Worker {
  pid_t process = -1;
  int socket = -1;
  bool busy = false;
  std::size_t task = 0;
  std::string received;  ///< of the incomplete answer
};

namespace {

/// A message is its length followed by its bytes.
using Length = std::uint64_t;

bool send_all(int socket, const char* bytes, std::size_t count) {
  while (count > 0) {
    const ssize_t n = ::send(socket, bytes, count, MSG_NOSIGNAL);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    bytes += n;
    count -= static_cast<std::size_t>(n);
  }
  return true;
}

bool send_message(int socket, const std::string& bytes) {
  const Length length = bytes.size();
  std::string message(sizeof length, '\0');
  std::memcpy(message.data(), &length, sizeof length);
  message += bytes;
  return send_all(socket, message.data(), message.size());
}

bool read_all(int socket, char* bytes, std::size_t count) {
  while (count > 0) {
    const ssize_t n = ::recv(socket, bytes, count, 0);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    bytes += n;
    count -= static_cast<std::size_t>(n);
  }
  return true;
}

/// The main function of a worker. Nothing of the parent may run at its end: no destructors, no exit
/// handlers.
[[noreturn]] void labour(int socket, pid_t parent, const Crew::Work& work) {
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (::getppid() != parent) ::_exit(0);  // the parent died before it could be watched
  // Ctrl-C reaches all processes of the terminal; the parent decides about its workers.
  ::signal(SIGINT, SIG_IGN);
  ::signal(SIGTERM, SIG_DFL);
  while (true) {
    Length length = 0;
    if (!read_all(socket, reinterpret_cast<char*>(&length), sizeof length)) ::_exit(0);
    std::string order(length, '\0');
    if (!read_all(socket, order.data(), order.size())) ::_exit(0);
    if (!send_message(socket, work(order))) ::_exit(0);
  }
}

}  // namespace

Crew::Crew(int size, Work work) : work_(std::move(work)) {
  for (int k = 0; k < size; ++k) workers_.push_back(std::make_unique<Worker>());
}

Crew::~Crew() {
  for (const auto& worker : workers_)
    if (worker->process > 0) ::kill(worker->process, SIGKILL);
  for (const auto& worker : workers_) {
    if (worker->process > 0) ::waitpid(worker->process, nullptr, 0);
    if (worker->socket >= 0) ::close(worker->socket);
  }
}

int Crew::free() const {
  return static_cast<int>(std::count_if(workers_.begin(), workers_.end(),
                                        [](const auto& worker) { return !worker->busy; }));
}

void Crew::start(Worker& worker) {
  int ends[2];
  if (::socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends) != 0)
    throw std::runtime_error(
        fmt::format("no worker could be started: {}; try fewer --jobs", std::strerror(errno)));
  const pid_t parent = ::getpid();
  const pid_t process = ::fork();
  if (process < 0) {
    const std::string why = std::strerror(errno);
    ::close(ends[0]);
    ::close(ends[1]);
    throw std::runtime_error(fmt::format("no worker could be started: {}; try fewer --jobs", why));
  }
  if (process == 0) {
    for (const auto& other : workers_)
      if (other->socket >= 0) ::close(other->socket);
    ::close(ends[0]);
    labour(ends[1], parent, work_);
  }
  ::close(ends[1]);
  worker.process = process;
  worker.socket = ends[0];
}

void Crew::give(const Task& task) {
  const auto place = std::find_if(workers_.begin(), workers_.end(),
                                  [](const auto& worker) { return !worker->busy; });
  assert(place != workers_.end());
  Worker& worker = **place;
  if (worker.process < 0) start(worker);
  if (!send_message(worker.socket, task.order)) {  // the worker died while idle
    Answer notice;
    bury(worker, notice);
    start(worker);
    send_message(worker.socket, task.order);
  }
  worker.busy = true;
  worker.task = task.number;
}

void Crew::bury(Worker& worker, Answer& answer) {
  int status = 0;
  ::kill(worker.process, SIGKILL);
  ::waitpid(worker.process, &status, 0);
  answer.death = WIFSIGNALED(status) ? fmt::format("signal {} ({})", WTERMSIG(status),
                                                   ::strsignal(WTERMSIG(status)))
                                     : fmt::format("exit code {}", WEXITSTATUS(status));
  ::close(worker.socket);
  worker = Worker{};
}

bool Crew::receive(Worker& worker, Answer& answer) {
  char buffer[65536];
  const ssize_t n = ::recv(worker.socket, buffer, sizeof buffer, MSG_DONTWAIT);
  if (n < 0 && (errno == EINTR || errno == EAGAIN)) return false;
  answer.number = worker.task;
  if (n <= 0) {
    const bool busy = worker.busy;
    bury(worker, answer);
    return busy;
  }
  worker.received.append(buffer, static_cast<std::size_t>(n));
  Length length = 0;
  if (worker.received.size() < sizeof length) return false;
  std::memcpy(&length, worker.received.data(), sizeof length);
  if (worker.received.size() < sizeof length + length) return false;
  answer.bytes = worker.received.substr(sizeof length);
  worker.received.clear();
  worker.busy = false;
  return true;
}

std::vector<Answer> Crew::collect(int milliseconds) {
  std::vector<pollfd> watched;
  std::vector<Worker*> of;
  for (const auto& worker : workers_) {
    if (worker->socket < 0) continue;
    watched.push_back({worker->socket, POLLIN, 0});
    of.push_back(worker.get());
  }
  std::vector<Answer> answers;
  if (::poll(watched.data(), watched.size(), milliseconds) <= 0) return answers;
  for (std::size_t k = 0; k < watched.size(); ++k) {
    Answer answer;
    if (watched[k].revents != 0 && receive(*of[k], answer)) answers.push_back(std::move(answer));
  }
  return answers;
}

}  // namespace cw::cases
