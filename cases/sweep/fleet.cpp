#include "cases/sweep/fleet.hpp"

#include <algorithm>
#include <cassert>
#include <cstdint>
#include <cstring>

namespace cw::cases {

namespace {

/// Bytes of a message: the task's number, the length of the cause of death, the cause, the rest.
std::string packed(std::uint64_t number, const std::string& death, const std::string& rest) {
  const std::uint64_t length = death.size();
  std::string bytes(2 * sizeof number, '\0');
  std::memcpy(bytes.data(), &number, sizeof number);
  std::memcpy(bytes.data() + sizeof number, &length, sizeof length);
  return bytes + death + rest;
}

Answer unpacked(const std::string& bytes) {
  std::uint64_t number = 0, length = 0;
  std::memcpy(&number, bytes.data(), sizeof number);
  std::memcpy(&length, bytes.data() + sizeof number, sizeof length);
  constexpr std::size_t head = 2 * sizeof number;
  return {number, bytes.substr(head + length), bytes.substr(head, length)};
}

}  // namespace

Fleet::Fleet(int jobs, Crew::Work work, Hosts* hosts)
    : crew_(jobs, std::move(work)), hosts_(hosts) {}

Fleet::~Fleet() {
  if (hosts_ == nullptr) return;
  for (int rank = 1; rank < hosts_->size(); ++rank) Hosts::send({Message::Kind::stop, rank, ""});
}

bool Fleet::free() const {
  return crew_.free() > 0 ||
         std::any_of(idle_.begin(), idle_.end(), [](const auto& rank) { return rank.second > 0; });
}

void Fleet::give(const Task& task) {
  ++in_hand_;
  if (crew_.free() > 0) return crew_.give(task);
  for (auto& [rank, idle] : idle_) {
    if (idle == 0) continue;
    --idle;
    Hosts::send({Message::Kind::task, rank, packed(task.number, "", task.order)});
    return;
  }
  assert(false && "give() without a free worker");
}

std::vector<Answer> Fleet::collect(int milliseconds) {
  // Messages of other ranks do not interrupt a wait: check often.
  constexpr int often = 2;
  auto answers = crew_.collect(hosts_ == nullptr ? milliseconds : std::min(often, milliseconds));
  if (hosts_ != nullptr) {
    while (const auto message = Hosts::receive()) {
      ++idle_[message->rank];
      if (message->kind == Message::Kind::answer) answers.push_back(unpacked(message->bytes));
    }
  }
  in_hand_ -= static_cast<int>(answers.size());
  return answers;
}

void serve(int jobs, Crew::Work work, const Hosts& /*hosts*/) {
  constexpr int often = 2;
  Crew crew(jobs, std::move(work));
  for (int k = 0; k < jobs; ++k) Hosts::send({Message::Kind::ready, 0, ""});
  while (true) {
    while (const auto message = Hosts::receive()) {
      if (message->kind == Message::Kind::stop) return;
      const Answer task = unpacked(message->bytes);
      crew.give({task.number, task.bytes});
    }
    for (const Answer& answer : crew.collect(often))
      Hosts::send({Message::Kind::answer, 0, packed(answer.number, answer.death, answer.bytes)});
  }
}

}  // namespace cw::cases
