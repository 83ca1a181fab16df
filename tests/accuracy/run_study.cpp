#include "tests/accuracy/run_study.hpp"

#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/time.h>
#include <unistd.h>

#include <cmath>
#include <csignal>
#include <deque>
#include <sstream>

#include "cases/sweep/crew.hpp"

namespace cw::accuracy {

namespace {

/// Ends this process when it has used this many seconds of processor time, or ten times as many of
/// wall-clock time.
void limit_time(double seconds) {
  itimerval timer{};
  timer.it_value.tv_sec = static_cast<time_t>(seconds);
  timer.it_value.tv_usec = static_cast<suseconds_t>(1e6 * (seconds - std::floor(seconds)));
  setitimer(ITIMER_PROF, &timer, nullptr);
  alarm(static_cast<unsigned>(std::ceil(10 * seconds)));
}

/// Limits memory, so that one case cannot exhaust the machine.
void limit_memory() {
#ifndef __SANITIZE_ADDRESS__                 // which needs address space without end
  constexpr rlim_t most = rlim_t{8} << 30U;  // bytes of address space
  const rlimit limit{most, most};
  setrlimit(RLIMIT_AS, &limit);
#endif
}

/// Solves an order, which is a seed and an effort.
std::string work(const std::string& order, double seconds) {
  std::istringstream words(order);
  std::uint64_t seed = 0;
  std::string effort;
  words >> seed >> effort;
  limit_memory();
  limit_time(seconds);
  std::string line = as_line(solve_row(random_case(seed), effort));
  limit_time(0);
  return line;
}

/// The row of a solution whose process ended.
Row lost(std::uint64_t seed, const std::string& effort, const std::string& death, double seconds) {
  Row row{.seed = seed, .text_hash = text_hash(random_case(seed).text), .effort = effort};
  const bool late = death.starts_with(fmt::format("signal {} ", SIGPROF)) ||
                    death.starts_with(fmt::format("signal {} ", SIGALRM));
  row.message = late ? fmt::format("took more than {} s", seconds) : "ended by " + death;
  row.seconds = late ? seconds : 0.0;
  return row;
}

class Study {
 public:
  Study(const StudyPlan& plan, Rows& rows, const std::function<void(const Row&)>& put)
      : plan_(plan),
        rows_(rows),
        put_(put),
        crew_(plan.processes, [&plan](const std::string& o) { return work(o, plan.seconds); }) {}

  void run() {
    for (const std::uint64_t seed : plan_.seeds) waiting_.push_back({seed, plan_.effort});
    int busy = 0;
    while (busy > 0 || !waiting_.empty()) {
      while (crew_.free() > 0 && !waiting_.empty())
        if (give_next()) ++busy;
      if (busy == 0) continue;
      for (const cases::Answer& answer : crew_.collect(1000)) {
        --busy;
        take(answer);
      }
    }
  }

 private:
  struct Order {
    std::uint64_t seed;
    std::string effort;
  };

  /// False if the answer is known already.
  bool give_next() {
    const Order order = waiting_.front();
    waiting_.pop_front();
    const auto known = rows_.find({order.seed, order.effort});
    if (known != rows_.end() &&
        known->second.text_hash == text_hash(random_case(order.seed).text)) {
      follow(known->second);
      return false;
    }
    given_.push_back(order);
    crew_.give({given_.size() - 1, fmt::format("{} {}", order.seed, order.effort)});
    return true;
  }

  void take(const cases::Answer& answer) {
    const Order& order = given_[answer.number];
    auto row = row_of(answer.bytes);
    if (!row) row = lost(order.seed, order.effort, answer.death, plan_.seconds);
    put_(*row);
    follow(*row);
    rows_.insert_or_assign({order.seed, order.effort}, std::move(*row));
  }

  /// Orders the reference of a row that was solved.
  void follow(const Row& row) {
    if (plan_.reference && row.effort == plan_.effort && row.outcome == Outcome::solved)
      waiting_.push_front({row.seed, "reference"});
  }

  const StudyPlan& plan_;
  Rows& rows_;
  const std::function<void(const Row&)>& put_;
  cases::Crew crew_;
  std::deque<Order> waiting_;
  std::vector<Order> given_;
};

}  // namespace

void run_study(const StudyPlan& plan, Rows& rows, const std::function<void(const Row&)>& put) {
  Study(plan, rows, put).run();
}

}  // namespace cw::accuracy
