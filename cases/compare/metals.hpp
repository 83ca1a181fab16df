#pragma once

#include <functional>
#include <memory>

#include "cases/run/run_case.hpp"
#include "postproc/result/metals.hpp"

namespace cw::cases {

/// One coil tried with every metal.
struct MetalStudy {
  MetalComparison comparison;
  Result result;                    ///< of the case as written; with the sources of every metal
  std::vector<SolvedState> states;  ///< at the case's frequency, in the order of the comparison
};

/// 1 kHz to 1 MHz, eight steps per decade.
std::vector<Frequency> metal_frequencies();

struct MetalOptions {
  Effort effort = Effort::normal;
  std::vector<Frequency> frequencies = metal_frequencies();  ///< the case's own is added
  /// Called before each solution: how many are done, of how many, and the next one.
  std::function<void(int, int, const std::string&)> progress = nullptr;
};

/// Solves the case with every metal of the library, and its own, as workpiece, at the workpiece's
/// temperature and every frequency. The coil current is that of the case; with a tank or a voltage,
/// that of the case's own metal, cold. A metal conducts better than 20 uohm m at 20 degC: this
/// includes graphite, but not clay-graphite and ferrite. Every solution is that of run_case().
/// Throws CaseError if the case has no workpiece, SolveError if its tank will not ring; SolveError
/// and MeshError name the metal and the frequency.
MetalStudy compare_metals(const Case& subject, const MetalOptions& options);

/// Writes result.json, report.html, tables/metals.csv, tables/reasons.csv, pictures/metals.svg and
/// .png, and fields/<metal>.vtu at the case's frequency; see replace_result_directory().
void write_metals(const MetalStudy& study, const std::filesystem::path& directory);

}  // namespace cw::cases
