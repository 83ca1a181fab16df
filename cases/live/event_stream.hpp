#pragma once

#include <chrono>
#include <cstdint>
#include <deque>
#include <mutex>
#include <optional>
#include <string>

#include "cases/live/live_session.hpp"

namespace cw::cases {

/// The streams of events that are open. Each holds a thread of the server and a connection of the
/// browser, so that there are few: a new one closes the oldest.
class EventStreams {
 public:
  /// Fewer than the six connections that browsers open to one host.
  static constexpr std::size_t most = 4;

  /// The number of a new stream.
  std::uint64_t open();
  [[nodiscard]] bool holds(std::uint64_t number) const;
  void close(std::uint64_t number);

 private:
  mutable std::mutex mutex_;
  std::deque<std::uint64_t> open_;  ///< the oldest first
  std::uint64_t last_ = 0;
};

/// What one page is told, as server-sent events whose data are LiveSession::answer(). Source of the
/// form: HTML Living Standard, 9.2 Server-sent events.
class EventStream {
 public:
  /// Tells what follows the message `after`.
  EventStream(const LiveSession& session, EventStreams& all, std::uint64_t after);
  ~EventStream();
  EventStream(const EventStream&) = delete;
  EventStream& operator=(const EventStream&) = delete;

  /// The next bytes, empty if there is no news within a second; nothing if the stream is closed.
  std::optional<std::string> next();

 private:
  using Clock = std::chrono::steady_clock;
  const LiveSession& session_;
  EventStreams& all_;
  std::uint64_t number_, after_;
  Clock::time_point last_{};  ///< when it last said something
};

}  // namespace cw::cases
