#pragma once

#include <optional>
#include <string>
#include <vector>

namespace cw {

/// One solved design of a sweep, with the figures to show.
struct DesignLine {
  std::vector<std::string> values;   ///< of the varied keys, as written: "8", "7.5 mm"
  std::optional<double> value;       ///< of the rank key
  std::optional<double> against;     ///< of the second key
  std::optional<double> work;        ///< power in the workpiece [W]
  std::optional<double> efficiency;  ///< share of one
  std::optional<double> fraction;    ///< of the limit that is nearest
  std::string part;                  ///< part with that limit
  std::optional<double> shortfall;   ///< from the target of the heating run [K]; empty: reached
  std::vector<std::string> broken;   ///< limits and requirements that are broken, in words
  std::vector<std::string> limits;   ///< their names, one each: "can: current"

  /// It keeps every limit and requirement except the target of the heating run.
  [[nodiscard]] bool misses_target_alone() const { return shortfall && broken.size() == 1; }
};

/// A sweep, with the figures to show.
struct DesignSheet {
  std::string title;
  std::vector<std::string> keys;               ///< varied, dotted
  std::vector<std::vector<std::string>> axes;  ///< values of each key, in their order
  std::string rank;                            ///< result key; empty: in the order of the plan
  bool largest = false;                        ///< largest first
  std::string against;  ///< second result key, of the Pareto chart; may be empty
  bool against_largest = false;
  std::vector<DesignLine> best;      ///< best first; all keep every limit
  std::vector<DesignLine> breaking;  ///< first those that miss only the target, nearest first; then
                                     ///< those that break limits
  std::size_t planned = 0, unranked = 0, invalid = 0, failed = 0, crashed = 0;
  std::size_t set_aside = 0;  ///< heating runs given up, because other designs are better
  std::string first_reason;   ///< of the first design that was not solved
};

/// A result key in words, its unit in brackets: "power in the workpiece, cold [W]".
std::string key_label(const std::string& key);

/// The same without its unit: "power in the workpiece, cold".
std::string key_name(const std::string& key);

/// A number of a result key in its usual unit: "259 W", "36.5 %" for an efficiency, "727 degC" for
/// a temperature, "160 mm" for a length.
std::string key_value(const std::string& key, double value);

/// The last part of a dotted key in words: "pitch".
std::string short_label(const std::string& key);

/// A key of a case with its value: "8 turns", "pitch 7.5 mm".
std::string setting_words(const std::string& key, const std::string& value);

}  // namespace cw
