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
  double objective = 0.0;   ///< value that the optimiser minimises
};

/// Designs and their outcomes in one SQLite file, with a write-ahead log (WAL): a power cut loses
/// nothing that put() has stored, and several runs may write at once. Local disks only: WAL needs
/// memory shared between the processes. All functions throw WriteError with the file's name, also
/// for a damaged row.
class Store {
 public:
  /// Opens or creates the file. Refuses a file of another program, of a newer version or of another
  /// form; triggers and views in a file are never run.
  explicit Store(const std::filesystem::path& file);
  ~Store();
  Store(const Store&) = delete;
  Store& operator=(const Store&) = delete;

  /// Whether the design needs no solution: it is stored and did not crash.
  [[nodiscard]] bool done(const std::string& id);
  /// Ids of all designs of a study, and whether done() holds for them: one query instead of one for
  /// each of a million designs.
  [[nodiscard]] std::unordered_map<std::string, bool> known(const std::string& study);
  [[nodiscard]] std::optional<DesignRow> find(const std::string& id);
  /// All rows of a study, in the order in which they were stored.
  [[nodiscard]] std::vector<DesignRow> rows(const std::string& study);
  /// Stores all rows or none. Existing rows stay, unless they crashed or were set aside.
  void put(std::span<const DesignRow> rows);

  /// Notes that a run begins; true if another one began and has not ended (or was killed).
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
