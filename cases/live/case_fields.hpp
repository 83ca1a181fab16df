#pragma once

#include <optional>
#include <string>
#include <vector>

namespace cw::cases {

/// A value of a case file that the page shows above the text.
struct CaseField {
  std::string key;    ///< "coil.bore"
  std::string label;  ///< "Bore, clear inside"
  std::string value;  ///< as in the file, text without its quotes: "32 mm", "8"
  bool quoted = true;
};

/// The most used values, those that the text has; empty if it is not TOML.
std::vector<CaseField> fields_of(const std::string& text);

/// The text with another value of one of its fields, or of workpiece.centre, and of what is linked
/// to it (linked_values). Comments stay. Nothing if the text has no such
/// field, if the value cannot stand in a case file, or if the place is in a notation that
/// CaseLines does not rewrite.
std::optional<std::string> with_field(const std::string& text, const std::string& key,
                                      const std::string& value);

/// The text with another value of any key that is written as "section.key" or "section.table.key",
/// also one that it lacks. The value is meant as `--set` means it. Nothing in the cases above, or
/// for an element of a list.
std::optional<std::string> with_value(const std::string& text, const std::string& key,
                                      const std::string& value);

}  // namespace cw::cases
