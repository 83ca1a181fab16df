#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "solver/heater/heater.hpp"

namespace cw::cases {

/// A place in a text file. Line and column count from 1; 0: not in a file but on the command line.
struct TextPlace {
  unsigned line = 0, column = 0;
};

/// Files by their path in the case, with the SHA-256 of the bytes that were read.
using NamedFiles = std::map<std::string, std::string>;

/// The place of each key of a case file, by dotted key: "coil.pitch", "body.0.material",
/// "workpiece.profile.3".
struct Where {
  std::map<std::string, TextPlace, std::less<>> at;
  /// Place of `key`; if the file does not have it, of the nearest enclosing table or array, else
  /// line 1.
  [[nodiscard]] TextPlace of(std::string_view key) const;
};

/// Limits of a key between which a sweep draws or searches, in the unit of the file.
struct SweepRange {
  double from = 0.0, to = 0.0;  ///< from != to
  std::string unit;             ///< empty for a bare number
};

/// One key that a sweep varies. `values` are as in the file, text without its quotes: "7.5 mm",
/// "8"; empty if there is only a range.
struct SweepAxis {
  std::string key;
  std::vector<std::string> values;
  std::optional<SweepRange> range;  ///< set if the file has `from` and `to`
};

enum class SamplingKind { latin_hypercube, sobol };

/// Draws designs from the axes instead of trying every combination.
struct Sampling {
  SamplingKind kind = SamplingKind::latin_hypercube;
  int count = 0;
  int seed = 1;  ///< only for a Latin hypercube: another seed gives other designs
};

/// A condition for a design to be ranked, in addition to the ratings of its parts.
struct SweepRequirement {
  std::string key;  ///< of a result
  std::optional<double> least, most;
};

/// How `coilwright sweep --optimise` searches.
struct Optimiser {
  int evaluations = 60;  ///< designs solved, for all starts together
  int starts = 1;
};

struct Sweep {
  std::vector<SweepAxis> vary;
  NamedFiles files;  ///< named by the case or by one of its varied values
  std::string rank;  ///< a result key, `-` in front for largest first; empty: in the order solved
  std::string against;  ///< second result key, for the Pareto chart, signed as `rank`; may be empty
  std::optional<Sampling> sampling;  ///< left out: every combination
  std::vector<SweepRequirement> require;
  std::optional<Optimiser> optimiser;
};

/// The parts on hand for a heater that is still to be designed.
struct Shelf {
  std::optional<double> tube_length;  ///< of the coil's conductor, leads included [m]
  bool keep_cans = false;             ///< the bank keeps all cans of the case
  bool keep_position = false;         ///< the work keeps its position in the case
  bool buy_supply = false;            ///< none is on hand: the least sufficient one is sought
  bool buy_cans = false;              ///< more of the same kind may be bought
};

/// One case file: the heater that it describes, converted to SI, and what only the file contains.
/// In `where`, bodies are "body.0", "body.1" ..., in file order.
struct Case : Heater {
  std::string title;
  std::filesystem::path file;  ///< as the caller gave it
  /// Of the file's bytes and of the values set on the command line, 64 lower-case hexadecimal
  /// digits.
  std::string sha256;
  NamedFiles files;            ///< material files that were read for it
  std::optional<Sweep> sweep;  ///< only used by a sweep
  std::optional<Shelf> shelf;  ///< only used by a search for designs
  Where where;                 ///< for messages found later
};

}  // namespace cw::cases

namespace cw {
using cases::Case;
}  // namespace cw
