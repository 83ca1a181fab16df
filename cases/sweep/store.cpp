#include "cases/sweep/store.hpp"

#include <fmt/format.h>
#include <sqlite3.h>
#include <unistd.h>

#include <array>
#include <stdexcept>
#include <utility>

#include "cases/run/build_info.hpp"
#include "cases/sweep/stored_row.hpp"
#include "postproc/result/write_error.hpp"

namespace cw::cases {

namespace {

constexpr int application = 0x43574453;  ///< marks our files: "CWDS"
constexpr int schema_version = 1;

constexpr const char* schema = R"sql(
CREATE TABLE designs (
  number INTEGER PRIMARY KEY,      -- in the order they came
  id TEXT NOT NULL UNIQUE,         -- SHA-256 of all it is made of, see planned()
  study TEXT NOT NULL,             -- SHA-256 of the case without its sweep
  case_sha256 TEXT NOT NULL,       -- of the case file's bytes
  inputs TEXT NOT NULL,            -- JSON: key to value, in the order of the sweep
  status TEXT NOT NULL,            -- solved, invalid, failed, crashed
  reason TEXT NOT NULL,            -- empty when solved
  verdict TEXT,                    -- worst of all limits: ok, watch, stop; NULL: nothing judged
  result TEXT NOT NULL,            -- JSON: states, limits, warnings; empty unless solved
  mesh_s REAL NOT NULL, solve_s REAL NOT NULL, total_s REAL NOT NULL,
  version TEXT NOT NULL, method TEXT NOT NULL, accuracy TEXT NOT NULL,
  finished TEXT NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%SZ', 'now')));
CREATE INDEX designs_by_study ON designs (study);
CREATE TABLE runs (
  number INTEGER PRIMARY KEY, study TEXT NOT NULL, case_file TEXT NOT NULL, case_text TEXT NOT NULL,
  version TEXT NOT NULL, host TEXT NOT NULL, process INTEGER NOT NULL,
  began TEXT NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%SZ', 'now')), ended TEXT);
CREATE TABLE trace (
  study TEXT NOT NULL, start INTEGER NOT NULL, step INTEGER NOT NULL, design TEXT NOT NULL,
  objective REAL NOT NULL, PRIMARY KEY (study, start, step));
)sql";

std::string host() {
  std::array<char, 256> name{};
  ::gethostname(name.data(), name.size() - 1);
  return name.data();
}

}  // namespace

/// The open file.
class Store::Session {
 public:
  explicit Session(std::filesystem::path file) : file_(std::move(file)) {
    std::error_code error;
    const auto status = std::filesystem::status(file_, error);
    if (std::filesystem::exists(status) && !std::filesystem::is_regular_file(status))
      refuse("is not a file; move it away, or give another directory with --out");
    int code = sqlite3_open(file_.c_str(), &base_);
    if (code == SQLITE_OK) code = forbid_its_own_code();
    if (code != SQLITE_OK) {
      const std::string text = complaint(code);
      sqlite3_close(base_);
      throw WriteError(text);
    }
    sqlite3_busy_timeout(base_, 60000);
  }
  ~Session() { sqlite3_close(base_); }
  Session(const Session&) = delete;
  Session& operator=(const Session&) = delete;

  void run(const char* sql) { require(sqlite3_exec(base_, sql, nullptr, nullptr, nullptr)); }

  int number(const char* sql);
  /// The schema of the file, a line per entry.
  std::string form();
  /// Two runs that start at once on a new file can conflict here, because SQLite does not wait by
  /// itself.
  void start_log() {
    constexpr int tries = 200, pause_us = 50000;
    int code = SQLITE_BUSY;
    for (int k = 0; k < tries && (code & 0xff) == SQLITE_BUSY; ++k) {
      if (k > 0) ::usleep(pause_us);
      code = sqlite3_exec(base_, "PRAGMA journal_mode = WAL", nullptr, nullptr, nullptr);
    }
    require(code);
  }
  void require(int code) const {
    if (code != SQLITE_OK) throw WriteError(complaint(code));
  }
  [[noreturn]] void refuse(const std::string& why) const {
    throw WriteError(fmt::format("{}: {}", file_.string(), why));
  }
  [[nodiscard]] std::string complaint(int code) const {
    const int kind = code & 0xff;
    const char* what = kind == SQLITE_FULL ? "the disk is full; designs solved so far are kept: "
                                             "make room and run the same command again"
                       : kind == SQLITE_READONLY || kind == SQLITE_CANTOPEN || kind == SQLITE_PERM
                           ? "cannot be written; give another directory with --out"
                       : kind == SQLITE_NOTADB || kind == SQLITE_CORRUPT
                           ? "is not a store of designs, or is damaged; move it away, or give "
                             "another directory with --out"
                           : "could not be written; designs solved so far are kept: run the same "
                             "command again";
    return fmt::format("{}: {} ({})", file_.string(), what,
                       base_ != nullptr ? sqlite3_errmsg(base_) : sqlite3_errstr(code));
  }
  [[nodiscard]] sqlite3* base() const { return base_; }

 private:
  /// A foreign file may contain triggers and views, which would run with our statements.
  [[nodiscard]] int forbid_its_own_code() const {
    constexpr std::array<std::pair<int, int>, 4> settings{{{SQLITE_DBCONFIG_DEFENSIVE, 1},
                                                           {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
                                                           {SQLITE_DBCONFIG_ENABLE_TRIGGER, 0},
                                                           {SQLITE_DBCONFIG_ENABLE_VIEW, 0}}};
    for (const auto& [setting, value] : settings)
      if (const int code = sqlite3_db_config(base_, setting, value, nullptr); code != SQLITE_OK)
        return code;
    return SQLITE_OK;
  }

  std::filesystem::path file_;
  sqlite3* base_ = nullptr;
};

namespace {

/// A transaction; undone unless finished.
template <class Session>
class Transaction {
 public:
  explicit Transaction(Session& session) : session_(session) { session_.run("BEGIN IMMEDIATE"); }
  ~Transaction() {
    if (!done_) sqlite3_exec(session_.base(), "ROLLBACK", nullptr, nullptr, nullptr);
  }
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  void finish() {
    session_.run("COMMIT");
    done_ = true;
  }

 private:
  Session& session_;
  bool done_ = false;
};

/// A prepared statement, bound from the left.
template <class Session>
class Statement {
 public:
  Statement(const Session& session, const char* sql) : session_(session) {
    session_.require(sqlite3_prepare_v2(session_.base(), sql, -1, &statement_, nullptr));
  }
  ~Statement() { sqlite3_finalize(statement_); }
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;

  Statement& operator<<(const std::string& text) {
    session_.require(sqlite3_bind_text(statement_, ++bound_, text.data(),
                                       static_cast<int>(text.size()), SQLITE_TRANSIENT));
    return *this;
  }
  Statement& operator<<(double value) {
    session_.require(sqlite3_bind_double(statement_, ++bound_, value));
    return *this;
  }
  Statement& operator<<(int value) {
    session_.require(sqlite3_bind_int(statement_, ++bound_, value));
    return *this;
  }
  void null() { session_.require(sqlite3_bind_null(statement_, ++bound_)); }
  /// True while there is a row.
  bool step() {
    const int code = sqlite3_step(statement_);
    if (code != SQLITE_ROW && code != SQLITE_DONE) session_.require(code);
    return code == SQLITE_ROW;
  }
  [[nodiscard]] std::string text(int column) const {
    const auto* bytes = sqlite3_column_text(statement_, column);
    return bytes == nullptr ? "" : reinterpret_cast<const char*>(bytes);
  }
  [[noreturn]] void refuse(const std::string& why) const { session_.refuse(why); }
  [[nodiscard]] double real(int column) const { return sqlite3_column_double(statement_, column); }
  [[nodiscard]] int whole(int column) const { return sqlite3_column_int(statement_, column); }

 private:
  const Session& session_;
  sqlite3_stmt* statement_ = nullptr;
  int bound_ = 0;
};

constexpr const char* columns =
    "id, study, case_sha256, inputs, status, reason, result, mesh_s, solve_s, total_s, version, "
    "method, accuracy";
/// The columns that row_of() reads, with the row's number.
constexpr const char* read_columns =
    "id, study, case_sha256, inputs, status, reason, result, mesh_s, solve_s, total_s, version, "
    "method, accuracy, number";

template <class S>
DesignRow row_of(const Statement<S>& s) {
  DesignRow row;
  row.id = s.text(0);
  row.study = s.text(1);
  row.case_sha256 = s.text(2);
  try {
    row.changes = changes_of(s.text(3));
    row.outcome = {status_of(s.text(4)), s.text(5), s.text(6), s.real(7), s.real(8), s.real(9)};
    require_whole(row.outcome);
  } catch (const std::exception&) {  // from the parser or our own; its text would not help the user
    s.refuse(
        fmt::format("the design in row {} is damaged; move the file away or give another "
                    "directory with --out: the same command solves its designs anew",
                    s.whole(13)));
  }
  row.version = s.text(10);
  row.method = s.text(11);
  row.accuracy = s.text(12);
  return row;
}

}  // namespace

int Store::Session::number(const char* sql) {
  Statement<Session> statement(*this, sql);
  return statement.step() ? statement.whole(0) : 0;
}

std::string Store::Session::form() {
  Statement<Session> s(*this, "SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY name");
  std::string text;
  while (s.step()) text += fmt::format("{}|{}|{}|{}\n", s.text(0), s.text(1), s.text(2), s.text(3));
  return text;
}

Store::Store(const std::filesystem::path& file) : session_(std::make_unique<Session>(file)) {
  session_->start_log();
  session_->run("PRAGMA synchronous = FULL");
  Transaction<Session> whole(*session_);
  const int owner = session_->number("PRAGMA application_id");
  const int version = session_->number("PRAGMA user_version");
  const int tables = session_->number("SELECT count(*) FROM sqlite_master");
  if (tables == 0) {
    session_->run(schema);
    session_->run(fmt::format("PRAGMA application_id = {}", application).c_str());
    session_->run(fmt::format("PRAGMA user_version = {}", schema_version).c_str());
  } else if (owner != application) {
    session_->refuse("belongs to another program; give another directory with --out");
  } else if (version > schema_version) {
    session_->refuse(
        fmt::format("was written by a newer version (format {}, this program reads {}); use that "
                    "version, or give another directory with --out",
                    version, schema_version));
  } else if (session_->form() != our_form()) {
    session_->refuse(
        "has other tables, triggers or views than this program makes; allowed: only its own; give "
        "another directory with --out, or remove what was added");
  }
  whole.finish();
}

std::string Store::our_form() {
  Session fresh(":memory:");
  fresh.run(schema);
  return fresh.form();
}

Store::~Store() = default;

bool Store::done(const std::string& id) {
  Statement<Session> s(*session_, "SELECT 1 FROM designs WHERE id = ? AND status != 'crashed'");
  s << id;
  return s.step();
}

std::unordered_map<std::string, bool> Store::known(const std::string& study) {
  Statement<Session> s(*session_, "SELECT id, status != 'crashed' FROM designs WHERE study = ?");
  s << study;
  std::unordered_map<std::string, bool> ids;
  while (s.step()) ids.emplace(s.text(0), s.whole(1) != 0);
  return ids;
}

std::optional<DesignRow> Store::find(const std::string& id) {
  Statement<Session> s(*session_,
                       fmt::format("SELECT {} FROM designs WHERE id = ?", read_columns).c_str());
  s << id;
  if (!s.step()) return std::nullopt;
  return row_of(s);
}

std::vector<DesignRow> Store::rows(const std::string& study) {
  Statement<Session> s(
      *session_,
      fmt::format("SELECT {} FROM designs WHERE study = ? ORDER BY number", read_columns).c_str());
  s << study;
  std::vector<DesignRow> rows;
  while (s.step()) rows.push_back(row_of(s));
  return rows;
}

void Store::put(std::span<const DesignRow> rows) {
  if (rows.empty()) return;
  Transaction<Session> whole(*session_);
  for (const DesignRow& row : rows) {
    Statement<Session> gone(
        *session_, "DELETE FROM designs WHERE id = ? AND status IN ('crashed', 'set aside')");
    gone << row.id;
    gone.step();
    Statement<Session> s(
        *session_,
        fmt::format(
            "INSERT OR IGNORE INTO designs ({}, verdict) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
            columns)
            .c_str());
    const DesignOutcome& o = row.outcome;
    s << row.id << row.study << row.case_sha256 << stored(row.changes)
      << std::string(word(o.status)) << o.reason << o.result << o.mesh_s << o.solve_s << o.total_s
      << row.version << row.method << row.accuracy;
    if (const std::string verdict = verdict_of(o.result); verdict.empty())
      s.null();
    else
      s << verdict;
    s.step();
  }
  whole.finish();
}

bool Store::begin_run(const std::string& study, const CaseText& subject) {
  Transaction<Session> whole(*session_);
  const bool other = session_->number("SELECT count(*) FROM runs WHERE ended IS NULL") % 2 == 1;
  Statement<Session> s(*session_,
                       "INSERT INTO runs (study, case_file, case_text, version, host, process) "
                       "VALUES (?,?,?,?,?,?)");
  s << study << subject.file.string() << subject.text << build_info().version << host()
    << static_cast<int>(::getpid());
  s.step();
  run_ = sqlite3_last_insert_rowid(session_->base());
  whole.finish();
  return other;
}

void Store::end_run() {
  session_->run(fmt::format("UPDATE runs SET ended = strftime('%Y-%m-%dT%H:%M:%SZ', 'now') WHERE "
                            "number = {}",
                            run_)
                    .c_str());
}

void Store::put_trace(const std::string& study, const TraceStep& step) {
  Statement<Session> s(*session_, "INSERT OR REPLACE INTO trace VALUES (?,?,?,?,?)");
  s << study << step.start << step.step << step.design << step.objective;
  s.step();
}

std::vector<TraceStep> Store::trace(const std::string& study) {
  Statement<Session> s(*session_,
                       "SELECT start, step, design, objective FROM trace WHERE study = ? ORDER BY "
                       "start, step");
  s << study;
  std::vector<TraceStep> steps;
  while (s.step()) steps.push_back({s.whole(0), s.whole(1), s.text(2), s.real(3)});
  return steps;
}

void Store::clear_trace(const std::string& study) {
  Statement<Session> s(*session_, "DELETE FROM trace WHERE study = ?");
  s << study;
  s.step();
}

}  // namespace cw::cases
