#include "tests/accuracy/study_row.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <ctime>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "solver/run/state_result.hpp"
#include "tests/accuracy/solve_for_study.hpp"

namespace cw::accuracy {

namespace {

constexpr std::array<const char*, 3> outcome_names{"solved", "refused", "failed"};
constexpr const char* heading =
    "seed,case,effort,outcome,unknowns,processor_s,figures name=value:stated_error,message\n";
constexpr std::size_t columns = 8;

double processor_seconds() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

/// Inductance, coil loss and the power of every other conductor, with the errors that the program
/// states for them.
std::vector<Figure> figures_of(const StateResult& r) {
  std::vector<Figure> figures{{"inductance", r.coil.inductance, r.accuracy.inductance},
                              {"coil", r.power.coil, r.accuracy.coil_power}};
  if (r.accuracy.workpiece_power)
    figures.push_back({"workpiece", *r.power.workpiece, r.accuracy.workpiece_power});
  for (const auto& [name, power] : r.power.bodies) {
    const auto stated = r.accuracy.bodies_power.find(name);
    figures.push_back({name, power, {}});
    if (stated != r.accuracy.bodies_power.end()) figures.back().estimate = stated->second;
  }
  return figures;
}

cw::SolvedState solve_with_effort(const Case& subject, const std::string& effort) {
  if (effort == "reference") return solve_reference(subject);
  return solve_for_study(subject, effort == "fast"   ? cw::Effort::fast
                                  : effort == "fine" ? cw::Effort::fine
                                                     : cw::Effort::normal);
}

void solve_into(Row& row, const std::string& text) {
  const Case subject = read_case_text(text, "case.toml");
  const CheckResult checked = check_case(subject);
  if (!checked.errors.empty()) {
    row.outcome = Outcome::refused;
    row.message = checked.errors.front();
    return;
  }
  const cw::SolvedState state = solve_with_effort(subject, row.effort);
  row.unknowns = state.unknowns;
  row.figures = figures_of(cw::state_result(subject, state));
  row.outcome = Outcome::solved;
}

std::string written_figures(const std::vector<Figure>& figures) {
  std::string text;
  for (const Figure& f : figures)
    text += fmt::format("{}{}={}:{}", text.empty() ? "" : " ", f.name, f.value,
                        f.estimate ? fmt::format("{:.4g}", *f.estimate) : "-");
  return text;
}

std::vector<Figure> figures_of(const std::string& text) {
  std::vector<Figure> figures;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    const std::size_t is = word.find('='), colon = word.find(':', is);
    Figure f{word.substr(0, is), std::stod(word.substr(is + 1)), {}};
    if (word.substr(colon + 1) != "-") f.estimate = std::stod(word.substr(colon + 1));
    figures.push_back(f);
  }
  return figures;
}

/// The message is the last column, up to the end of the line.
std::string one_line(std::string text) {
  std::ranges::replace(text, '\n', ' ');
  std::ranges::replace(text, '"', '\'');
  return text;
}

}  // namespace

std::string text_hash(const std::string& text) {
  // FNV-1a (Fowler, Noll & Vo; constants from memory): only distinguishes texts.
  std::uint64_t h = 14695981039346656037ULL;
  for (const char c : text) h = (h ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  return fmt::format("{:016x}", h);
}

Row solve_row(const RandomCase& drawn, const std::string& effort) {
  Row row{.seed = drawn.seed, .text_hash = text_hash(drawn.text), .effort = effort};
  const double begin = processor_seconds();
  try {
    solve_into(row, drawn.text);
  } catch (const std::bad_alloc&) {
    row.message = "out of memory";
  } catch (const std::exception& error) {
    row.message = error.what();
  }
  row.seconds = processor_seconds() - begin;
  return row;
}

std::string as_line(const Row& row) {
  return fmt::format("{},{},{},{},{},{:.3f},{},\"{}\"", row.seed, row.text_hash, row.effort,
                     outcome_names[static_cast<std::size_t>(row.outcome)], row.unknowns,
                     row.seconds, written_figures(row.figures), one_line(row.message));
}

std::optional<Row> row_of(const std::string& line) {
  std::vector<std::string> cells;
  std::size_t at = 0;
  while (cells.size() + 1 < columns) {
    const std::size_t comma = line.find(',', at);
    if (comma == std::string::npos) return std::nullopt;
    cells.push_back(line.substr(at, comma - at));
    at = comma + 1;
  }
  const std::string last = line.substr(at);
  const auto outcome = std::ranges::find(outcome_names, cells[3]);
  if (last.size() < 2 || !last.ends_with('"') || outcome == outcome_names.end())
    return std::nullopt;
  Row row{.seed = std::stoull(cells[0]), .text_hash = cells[1], .effort = cells[2]};
  row.outcome = static_cast<Outcome>(outcome - outcome_names.begin());
  row.unknowns = std::stoi(cells[4]);
  row.seconds = std::stod(cells[5]);
  row.figures = figures_of(cells[6]);
  row.message = last.substr(1, last.size() - 2);
  return row;
}

Rows read_rows(const std::filesystem::path& file) {
  Rows rows;
  std::ifstream in(file);
  for (std::string line; std::getline(in, line);)
    if (auto row = row_of(line)) {
      auto key = std::pair(row->seed, row->effort);
      rows.insert_or_assign(std::move(key), std::move(*row));
    }
  return rows;
}

RowFile::RowFile(std::filesystem::path file) : file_(std::move(file)) {
  if (file_.empty()) return;
  std::ifstream in(file_, std::ios::ate | std::ios::binary);
  if (!in || in.tellg() == 0) {
    put(heading);
    return;
  }
  in.seekg(-1, std::ios::end);
  if (in.get() != '\n') put("\n");  // the last run was killed within a line
}

void RowFile::append(const Row& row) const {
  if (!file_.empty()) put(as_line(row) + '\n');
}

void RowFile::put(const std::string& text) const {
  std::ofstream out(file_, std::ios::app | std::ios::binary);
  out << text << std::flush;
  if (!out) throw std::runtime_error(fmt::format("cannot write {}", file_.string()));
}

}  // namespace cw::accuracy
