#pragma once

#include <functional>
#include <memory>

#include "cases/run/run_case.hpp"
#include "postproc/result/metals.hpp"

namespace cw::cases {

/// One coil tried with every metal.
struct MetalStudy {
  MetalComparison comparison;
  Result result;                    ///< of the case as it is written; sources of every metal
  std::vector<SolvedState> states;  ///< at the case's frequency, in the order of the comparison
};

/// 1 kHz to 1 MHz, eight steps a decade.
std::vector<Frequency> metal_frequencies();

struct MetalOptions {
  Effort effort = Effort::normal;
  std::vector<Frequency> frequencies = metal_frequencies();  ///< the case's own joins them
  /// Called before each solve: how many are done, of how many, and what comes.
  std::function<void(int, int, const std::string&)> progress = nullptr;
};

/// Puts every metal of the library, and the case's own, in the place of the workpiece, at its
/// temperature: at every frequency, with the coil current of the case; of a tank or a voltage that
/// with the case's own metal, cold. A metal is what conducts
/// better than 20 uohm m at 20 degC: graphite is in, clay-graphite and ferrite are not. Every solve
/// is that of run_case(). Throws CaseError where the case has no workpiece, SolveError where its
/// tank will not ring; SolveError and MeshError name the metal and the frequency.
MetalStudy compare_metals(const Case& subject, const MetalOptions& options);

/// Writes result.json, report.html, tables/metals.csv, tables/reasons.csv, pictures/metals.svg and
/// .png, and fields/<metal>.vtu at the case's frequency; see replace_result_directory().
void write_metals(const MetalStudy& study, const std::filesystem::path& directory);

}  // namespace cw::cases
