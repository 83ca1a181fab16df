#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "postproc/text/wrap.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// Text from outside, safe inside an element and inside a quoted attribute; control characters
/// become U+FFFD.
std::string escaped(std::string_view text);

/// figure() in the spelling of the page: a no-break space before the unit, signs for micro and ohm.
/// The unit is escaped, since it may come from a result file.
std::string shown(double value, std::string_view unit);
/// percent() with a no-break space.
std::string shown_percent(double share);
// Lengths, velocities, temperatures and differences of temperature carry their value in SI units,
// so that the page can show them in inches, feet per second and degrees Fahrenheit: they are
// markup, not for attributes.

/// Millimetres to three figures, for computed values: "0.0370 mm".
std::string shown_mm(double metres);
/// Millimetres as in a drawing, for given values: "58.5 mm".
std::string drawn_mm(double metres);
/// A distance in the form of figure(): "50.0 mm", "1.00 m".
std::string shown_distance(double metres);
/// "0.470 m/s"
std::string shown_velocity(double metres_per_second);
/// "20.0 °C"
std::string shown_celsius(const Temperature& temperature);
/// A difference of two temperatures, which is converted without an offset: "12.3 K".
std::string shown_difference(double kelvin);
/// The same, rounded, always with its sign: "+12 K".
std::string shown_change(double kelvin);
/// "1.20 K/s"
std::string shown_warming(double kelvin_per_second);

/// A sentence from the program's texts or a file, escaped. "820 degC", "12 K", "9 mm", "0.3 m" and
/// "2 m/s" in it become markup that can be converted to other units, micro and ohm become signs,
/// and `commands` code.
std::string shown_sentence(std::string_view text);

/// As state_words(), not escaped.
std::string plain_state(const std::string& name);

/// "fixed frequency" for "fixed_frequency", "past Curie" for "past_curie"; escaped.
std::string state_words(const std::string& name);

/// All members are markup: escape what comes from outside.
struct TableRow {
  std::string name;
  std::vector<std::string> cells;
};

/// Rows under a common heading, which may be empty.
struct TableGroup {
  std::string name;
  std::vector<TableRow> rows;
};

struct PageTable {
  std::string caption;
  std::vector<std::string> head;  ///< of all columns, the row names included
  std::vector<TableGroup> groups;
};

/// A table with scoped headings that scrolls sideways on a narrow screen.
std::string markup(const PageTable& table);

/// A quantity of every state; `value` returns markup, empty if the state has none.
struct StateRow {
  std::string name;
  std::function<std::string(const StateResult&)> value;
};

struct StateGroup {
  std::string name;
  std::vector<StateRow> rows;
};

/// One column per state. Rows that are empty in every state are left out.
std::string state_table(const std::string& caption, const std::vector<StateResult>& states,
                        const std::vector<StateGroup>& groups);

}  // namespace cw
