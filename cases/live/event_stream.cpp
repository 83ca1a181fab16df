#include "cases/live/event_stream.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cw::cases {

std::uint64_t EventStreams::open() {
  const std::lock_guard lock(mutex_);
  open_.push_back(++last_);
  if (open_.size() > most) open_.pop_front();
  return last_;
}

bool EventStreams::holds(std::uint64_t number) const {
  const std::lock_guard lock(mutex_);
  return std::ranges::find(open_, number) != open_.end();
}

void EventStreams::close(std::uint64_t number) {
  const std::lock_guard lock(mutex_);
  std::erase(open_, number);
}

EventStream::EventStream(const LiveSession& session, EventStreams& all, std::uint64_t after)
    : session_(session), all_(all), number_(all.open()), after_(after) {}

EventStream::~EventStream() {
  all_.close(number_);
}

std::optional<std::string> EventStream::next() {
  constexpr auto wait = std::chrono::seconds(1), silence = std::chrono::seconds(3);
  const bool news = session_.wait_for_news(after_, wait);
  if (!all_.holds(number_)) return std::nullopt;
  const auto now = Clock::now();
  if (!news && now - last_ < silence) return "";
  last_ = now;
  if (!news) return ":\n\n";  // nobody reads it; a reader that is gone makes the writing fail
  const LiveNews told = session_.news(after_);
  after_ = told.sequence;
  return fmt::format("retry: 2000\nid: {}\ndata: {}\n\n", told.sequence, told.json);
}

}  // namespace cw::cases
