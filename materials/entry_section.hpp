#pragma once

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "materials/entry.hpp"
#include "materials/material.hpp"
#include "materials/units.hpp"

namespace cw {

/// The mistakes of one file, collected so that all are reported at once.
struct Mistakes {
  std::string file;
  std::vector<std::pair<std::pair<int, int>, std::string>> found;  ///< ((line, column), message)

  void add(int line, int column, std::string_view key, std::string_view sentence);
  /// Throws MaterialError with every mistake in the order of the file, if there is one.
  void throw_if_any();
};

/// Constraints on a number.
struct Want {
  Dimension dimension;
  double above = 0.0;     ///< it must be larger than this,
  bool or_equal = false;  ///< or equal to it,
  double most = std::numeric_limits<double>::infinity();
  std::string_view show = {};  ///< example of what to write instead, without quotes; else the usual
                               ///< example of the dimension
};

/// A table of a file with its path ("magnetisation") and the source for entries that name none of
/// their own.
struct EntrySection {
  const Entry& entry;
  std::string path;
  Mistakes& mistakes;
  Source source;

  [[nodiscard]] const Entry* get(std::string_view key) const;
  /// As `get`, but a missing key is a mistake; `write` shows how to give it.
  [[nodiscard]] const Entry* need(std::string_view key, std::string_view write) const;
  [[nodiscard]] EntrySection inside(std::string_view key, const Entry& table) const;
  /// Reports every key that is not among `known`, with the nearest known one.
  void only(const std::vector<std::string>& known) const;
  void fault(const Entry& at, std::string_view key, std::string_view sentence) const;
};

/// A text in quotes; nothing if the key is missing or (with a complaint) is not a text.
std::optional<std::string> text(const EntrySection& s, std::string_view key);

/// From the keys `source` and `provenance`, else the inherited source of the section.
Source source_of(const EntrySection& s);

/// A quantity in SI, or nothing and a complaint.
std::optional<double> quantity(const EntrySection& s, std::string_view key, const Entry& entry,
                               Want want);
/// The same for a required key.
std::optional<double> quantity(const EntrySection& s, std::string_view key, Want want);

/// A required temperature; 0 K after a complaint.
Temperature temperature(const EntrySection& s, std::string_view key,
                        std::string_view show = "20 degC");

/// "7850 kg/m3", or { value = "7850 kg/m3", low = .., high = .., source = "..", provenance = ".."
/// }.
Sourced sourced(const EntrySection& s, std::string_view key, Want want);
/// The same for a section that is such a table itself.
Sourced sourced_here(const EntrySection& s, Want want);

/// A list of quantities, or of plain numbers with a common unit under `unit_key`; empty after a
/// complaint.
std::vector<double> column(const EntrySection& s, std::string_view key, std::string_view unit_key,
                           Want want);

}  // namespace cw
