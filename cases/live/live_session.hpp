#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <filesystem>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "cases/live/solver_process.hpp"

namespace cw::cases {

/// The answer to a request: an HTTP status and JSON.
struct LiveReply {
  int status = 200;
  std::string json;
};

/// What has become known up to the message of that number, as a line of JSON: change, computing,
/// accuracy, report and parts.
struct LiveNews {
  std::uint64_t sequence = 0;
  std::string json;
};

/// What solves for a session: changes, the report, a sweep.
struct LiveProcesses {
  SolverProcess &solver, &reporter, &sweeper;
};

/// The text of a case, what is known about it, and what is still being computed. Every member may
/// be called from any thread.
class LiveSession {
 public:
  /// `file`: where the text belongs; it need not exist. The processes must outlive the session,
  /// whose end stops them.
  LiveSession(std::filesystem::path file, std::string text, LiveProcesses processes);
  ~LiveSession();
  LiveSession(const LiveSession&) = delete;
  LiveSession& operator=(const LiveSession&) = delete;

  /// Body {text} or {text, key, value}: a text, or one with another value of a field. Checks it
  /// and, if nothing is wrong, has it solved instead of what was being solved. Replies with the
  /// text, its fields, mistakes and warnings, and the number of the change.
  LiveReply change(const std::string& body);
  /// The text of the last change, which a page that is loaded again begins with.
  [[nodiscard]] std::string text() const;
  /// Waits until there is a message after the one of this number; false if there is none in time.
  bool wait_for_news(std::uint64_t after, std::chrono::milliseconds most) const;
  /// What has become known since the message of this number.
  [[nodiscard]] LiveNews news(std::uint64_t after) const;
  /// The whole result shown last, as in result.json; 404 without one.
  [[nodiscard]] LiveReply result() const;
  /// Body {text}: writes the file. Refuses (409) if another program changed it meanwhile.
  LiveReply save(const std::string& body);
  /// Body {text}: starts what `coilwright run` does.
  LiveReply report(const std::string& body);
  /// Body {text, keys: [{key, from, to, count}]}, all texts: starts a sweep over one or two fields
  /// of the text, instead of one that is going on.
  LiveReply sweep(const std::string& body);
  /// The pages of the last report and of the last sweep; empty if there is none.
  [[nodiscard]] std::string report_page() const;
  [[nodiscard]] std::string sweep_page() const;

 private:
  struct Part {
    std::uint64_t sequence = 0;
    std::string json;  ///< of its value
  };

  using Taker = void (LiveSession::*)(const SolverAnswer&);
  void listen(const SolverProcess& process, Taker take);
  void take(const SolverAnswer& answer);
  void take_report(const SolverAnswer& answer);
  void take_sweep(const SolverAnswer& answer);
  void put(const std::string& name, std::string json);
  std::uint64_t note();

  const std::filesystem::path file_;
  const LiveProcesses processes_;
  mutable std::mutex mutex_;
  mutable std::condition_variable noted_;
  std::optional<std::string> on_disk_;  ///< what the file held when it was last read or written
  std::string text_;
  std::uint64_t change_ = 0;           ///< number of the last change
  std::uint64_t sequence_ = 0;         ///< of the last message
  std::map<std::string, Part> parts_;  ///< of the last change that was solved
  std::string computing_, result_;
  std::string accuracy_;  ///< of a whole solution that is shown: fast, normal; empty: none yet
  bool reporting_ = false;
  std::uint64_t sweep_ = 0;  ///< number of the last sweep
  std::string report_says_, sweep_says_;
  std::vector<std::thread> listeners_;
};

}  // namespace cw::cases
