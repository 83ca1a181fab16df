#include "tests/fuzz/any_bytes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "cases/check/check_case.hpp"
#include "cases/compare/read_readings.hpp"
#include "cases/read/case_file.hpp"
#include "cases/read/read_case.hpp"
#include "cases/sweep/sheet.hpp"
#include "cases/sweep/stored_row.hpp"
#include "materials/library.hpp"
#include "postproc/report/report.hpp"
#include "postproc/report/sweep_page.hpp"
#include "postproc/result/read_designs.hpp"
#include "postproc/result/read_result.hpp"
#include "postproc/result/write_result.hpp"
#include "tests/unit/postproc/sample_case.hpp"
#include "tests/unit/postproc/sample_designs.hpp"

namespace cw::fuzz {

namespace {

void demand(bool good, const char* what, std::string_view found) {
  if (!good) throw std::logic_error(fmt::format("{}:\n{}", what, found));
}

/// U+0080 to U+009F, which control some terminals like the escape character.
bool has_second_controls(std::string_view text) {
  for (std::size_t i = 0; i + 1 < text.size(); ++i)
    if (text[i] == '\xc2' && static_cast<unsigned char>(text[i + 1]) < 0xa0) return true;
  return false;
}

}  // namespace

void demand_clean_message(std::string_view message) {
  demand(!message.empty(), "an empty message", message);
  demand(!cases::not_text(message), "a message that is no text", message);
  demand(!has_second_controls(message), "a control character in a message", message);
  for (std::size_t start = 0; start < message.size();) {
    const std::size_t end = std::min(message.find('\n', start), message.size());
    const std::string_view line = message.substr(start, end - start);
    demand(line.starts_with(file_name), "a line without its file", message);
    const auto control = [](char letter) {
      return static_cast<unsigned char>(letter) < 0x20 || letter == 0x7f;
    };
    demand(std::ranges::none_of(line, control), "a control character in a message", message);
    start = end + 1;
  }
}

void any_case(std::string_view bytes) {
  try {
    const Case subject = read_case_text(std::string(bytes), file_name);
    const CheckResult found = check_case(subject);
    for (const auto& line : found.errors) demand_clean_message(line);
    for (const auto& line : found.warnings) demand_clean_message(line);
  } catch (const CaseError& error) {
    demand_clean_message(error.what());
  }
}

void any_material(std::string_view bytes) {
  try {
    const Material m = read_material_text(bytes, file_name);
    for (const double celsius : {-270.0, 20.0, 700.0, 1500.0, 4000.0}) {
      const auto t = Temperature::celsius(celsius);
      const double conductivity = m.conductivity(t);
      demand(std::isfinite(conductivity) && conductivity >= 0, "a conductivity", bytes);
      demand(!m.magnetisation || std::isfinite(m.magnetisation->polarisation(1e4, t)),
             "a polarisation", bytes);
    }
  } catch (const MaterialError& error) {
    demand_clean_message(error.what());
  }
}

void any_readings(std::string_view bytes) {
  try {
    const cases::Measured read = cases::read_readings_text(bytes, file_name);
    const auto given = [](const auto& value) { return value.has_value(); };
    demand(std::ranges::count_if(read.value, given) >= 2, "too few readings", bytes);
    for (const auto& value : read.value)
      demand(!value || (std::isfinite(*value) && *value > 0), "a reading", bytes);
    demand(read.accuracy >= 0.001 && read.accuracy <= 0.3, "an accuracy", bytes);
    demand(!read.supply || (std::isfinite(*read.supply) && *read.supply > 0), "a supply", bytes);
  } catch (const CaseError& error) {
    demand_clean_message(error.what());
  }
}

void any_result(std::string_view bytes) {
  try {
    const Result result = read_result(std::string(bytes), file_name);
    const std::string text = result_json(result);
    demand(result_json(read_result(text, file_name)) == text, "another result when read again",
           bytes);
    const std::string page = report_page(result, {});
    demand(!cases::not_text(page), "a page that is no text", bytes);
  } catch (const ResultFileError& error) {
    demand_clean_message(error.what());
  }
}

void any_designs(std::string_view bytes) {
  try {
    const DesignsFile designs = read_designs_text(std::string(bytes), file_name);
    demand(!cases::not_text(sweep_page(designs, {})), "a page that is no text", bytes);
  } catch (const ResultFileError& error) {
    demand_clean_message(error.what());
  }
}

namespace {

/// Whether the store would accept it; for a bad row the store has a message of its own.
template <class Read>
bool let_through(const Read& read) {
  try {
    read();
    return true;
  } catch (const std::exception&) {
    return false;
  }
}

}  // namespace

void any_stored(std::string_view bytes) {
  let_through([&] { static_cast<void>(cases::changes_of(std::string(bytes))); });
  cases::DesignRow row;
  row.changes = {{"coil.turns", "8"}};
  row.outcome = {cases::DesignStatus::solved, "", std::string(bytes), 0, 0, 0};
  if (!let_through([&] { cases::require_whole(row.outcome); })) return;
  Case subject;
  subject.sweep.emplace();
  subject.sweep->vary.push_back({"coil.turns", {"8"}, {}});
  for (const char* rank : {"efficiency", "-states.cold.supply.demand_A", ""}) {
    subject.sweep->rank = rank;
    const cases::Ranking ranking = cases::rank_designs(*subject.sweep, {row});
    static_cast<void>(cases::verdict_of(row.outcome.result));
    static_cast<void>(cases::designs_csv(subject, ranking));
    any_designs(cases::designs_json(subject, ranking));
  }
}

std::string designs_seed() {
  return sample::sample_designs().dump();
}

std::string stored_seed() {
  return sample::sample_designs().at("designs").at(0).at("result").dump();
}

std::string full_result_seed() {
  return result_json(sample::full_result());
}

std::string least_result_seed() {
  return result_json(sample::result());
}

std::string readings_seed() {
  return "empty_inductance = \"0.98 uH\"\nempty_frequency = \"113 kHz\"\n"
         "loaded_frequency = \"114 kHz\"\nempty_current = \"4.3 A\"\nloaded_current = \"29 A\"\n"
         "transformer_voltage = \"1.1 V\"\npickup_voltage = \"85 mV\"\nsupply = \"36 V\"\n"
         "accuracy = 0.02\n";
}

}  // namespace cw::fuzz
