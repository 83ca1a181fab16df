#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <unordered_map>
#include <vector>

#include "cases/sweep/design.hpp"

namespace cw::cases {

/// One step of an optimiser.
struct TraceStep {
  int start = 0, step = 0;  ///< from 1
  std::string design;       ///< id of its row
  double objective = 0.0;   ///< what is made small, as the optimiser sees it
};

/// Designs and what became of them in one SQLite file: written ahead (WAL), so that a power cut
/// loses nothing that put() returned for, and several runs may write at once. Local disks only:
/// WAL needs memory shared between its processes. Everything throws WriteError, naming the file,
/// also where a row is damaged.
class Store {
 public:
  /// Opens the file or makes it. Refuses a file of another program, of a newer version or of
  /// another form; nothing a file may hold of triggers and views is run.
  explicit Store(const std::filesystem::path& file);
  ~Store();
  Store(const Store&) = delete;
  Store& operator=(const Store&) = delete;

  /// Whether the design needs no solving: it stands there and did not crash.
  [[nodiscard]] bool done(const std::string& id);
  /// Ids of all designs of a study, and whether done() holds for them: one look instead of one for
  /// each of a million designs.
  [[nodiscard]] std::unordered_map<std::string, bool> known(const std::string& study);
  [[nodiscard]] std::optional<DesignRow> find(const std::string& id);
  /// All rows of a study, in the order they came.
  [[nodiscard]] std::vector<DesignRow> rows(const std::string& study);
  /// All at once or none. What is there already stays, unless it crashed or was set aside.
  void put(std::span<const DesignRow> rows);

  /// Notes that a run begins; true when another began and has not ended (or was killed).
  bool begin_run(const std::string& study, const CaseText& subject);
  void end_run();

  void put_trace(const std::string& study, const TraceStep& step);
  [[nodiscard]] std::vector<TraceStep> trace(const std::string& study);
  void clear_trace(const std::string& study);

 private:
  class Session;
  static std::string our_form();
  std::unique_ptr<Session> session_;
  long run_ = 0;
};

}  // namespace cw::cases
