#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "postproc/result/designs.hpp"
#include "postproc/result/result_figures.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// A design that has no place in the ranking, and why.
struct RefusedDesign {
  std::vector<std::string> values;  ///< of the varied keys, as written
  std::string status;               ///< "invalid", "failed", "crashed", "set aside"
  std::string reason;
};

/// A sweep as read from its files.
struct DesignsFile {
  DesignSheet sheet;
  std::vector<Figures> best, breaking;  ///< numbers of sheet.best and sheet.breaking
  std::vector<RefusedDesign> refused;
  Result leading;  ///< of the best design; if none keeps all limits, of the best that breaks one
  std::string case_sha256, version, method, accuracy;
};

/// Reads designs.json of a sweep. Throws ResultFileError.
DesignsFile read_designs(const std::filesystem::path& file);
/// The same from its text; `name` is the file in messages.
DesignsFile read_designs_text(const std::string& text, const std::string& name);

}  // namespace cw
