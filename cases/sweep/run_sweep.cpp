#include "cases/sweep/run_sweep.hpp"

#include <algorithm>
#include <chrono>

#include "cases/read/fingerprint.hpp"
#include "cases/run/build_info.hpp"
#include "cases/run/stop_signal.hpp"
#include "cases/sweep/solve_design.hpp"

namespace cw::cases {

namespace {

void count(const DesignOutcome& outcome, SweepProgress& progress) {
  ++progress.done;
  ++progress.fresh;
  if (outcome.status == DesignStatus::invalid) ++progress.invalid;
  if (outcome.status == DesignStatus::failed) ++progress.failed;
  if (outcome.status == DesignStatus::crashed) ++progress.crashed;
}

std::string order_of(const DesignRow& row) {
  return order_for(row.changes,
                   {method_of(row.method), row.heating, effort_of(row.accuracy), row.give_up},
                   row.files);
}

DesignOutcome judged(const Answer& answer) {
  if (answer.death.empty()) return outcome_of(answer.bytes);
  return {DesignStatus::crashed,
          "its process ended by " + answer.death + "; the next run tries it again",
          "",
          0,
          0,
          0};
}

/// Files on which a design of the sweep depends.
NamedFiles files_of(const Case& subject, const std::vector<Change>& changes) {
  NamedFiles files = subject.files;
  for (const Change& change : changes)
    if (const auto found = subject.sweep->files.find(change.value);
        found != subject.sweep->files.end())
      files.insert(*found);
  return files;
}

}  // namespace

double SweepProgress::left() const {
  if (fresh == 0) return 0.0;
  return seconds / static_cast<double>(fresh) * static_cast<double>(total - done);
}

DesignRow planned(const Case& subject, const std::string& study, const std::vector<Change>& changes,
                  const SweepOptions& options) {
  static const std::string version = build_info().version, form = program_form();
  DesignRow row;
  row.study = study;
  row.changes = changes;
  row.case_sha256 = subject.sha256;
  row.version = version;
  row.method = word(options.means.method);
  row.accuracy = word(options.effort);
  row.heating = options.means.heating;
  row.files = files_of(subject, changes);
  row.id = sha256_hex(study + "\n" + order_for(changes, options.means, row.files) + "\n" +
                      row.accuracy + "\n" + form);
  return row;
}

bool solve_designs(Fleet& fleet, Store& store, std::vector<DesignRow> designs, bool from_behind,
                   const SweepListener& listener) {
  const auto begin = std::chrono::steady_clock::now();
  SweepProgress progress;
  progress.total = designs.size();
  if (!designs.empty()) {
    const auto known = store.known(designs.front().study);
    std::erase_if(designs, [&](const DesignRow& row) {
      const auto found = known.find(row.id);
      return found != known.end() && found->second;
    });
  }
  progress.done = progress.total - designs.size();
  // Two runs with one store work from opposite ends.
  if (from_behind) std::reverse(designs.begin(), designs.end());
  if (listener) listener(progress);
  for (std::size_t next = 0; next < designs.size() || fleet.in_hand() > 0;) {
    if (StopSignal::raised()) return false;
    while (next < designs.size() && fleet.free()) {
      if (store.done(designs[next].id)) {  // solved by another run meanwhile
        ++next;
        ++progress.done;
        continue;
      }
      fleet.give({next, order_of(designs[next])});
      ++next;
    }
    constexpr int patience_ms = 100;
    std::vector<DesignRow> rows;
    for (const Answer& answer : fleet.collect(patience_ms)) {
      designs[answer.number].outcome = judged(answer);
      count(designs[answer.number].outcome, progress);
      // A design that was set aside may be planned again with more time.
      if (designs[answer.number].outcome.status != DesignStatus::set_aside)
        rows.push_back(designs[answer.number]);
    }
    store.put(rows);
    progress.seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    if (listener) listener(progress);
  }
  return true;
}

}  // namespace cw::cases
