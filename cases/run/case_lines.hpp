#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "cases/case.hpp"

namespace cw::cases {

/// A length in the form of a case file, with quotes: "7.5 mm".
std::string millimetre_text(double metres);

/// The lines of a case file, in which values can be replaced by key; comments stay.
class CaseLines {
 public:
  /// `text`: a case file that reads.
  explicit CaseLines(const std::string& text);

  /// Replaces the value of "section.key", or adds the key to its section: after the heading, or at
  /// the end of its braces. The old value stays as a comment. False if neither is found.
  bool put(const std::string& section, const std::string& key, const std::string& value);

  /// The same only if the key is present.
  bool renew(const std::string& section, const std::string& key, const std::string& value);

  /// Adds text after the last line.
  void append(const std::string& text) { tail_ += text; }

  /// Turns a section with its heading into comments; nothing if there is none.
  void set_aside(const std::string& section);

  /// Rewrites the paths of material files relative to `to`.
  void rebase(const std::filesystem::path& from, const std::filesystem::path& to);

  [[nodiscard]] std::string text() const;

 private:
  bool add(const std::string& section, const std::string& key, const std::string& value);

  Where where_;  // of every key in the text
  std::vector<std::string> lines_;
  std::map<std::size_t, std::string> added_;
  std::string tail_;
};

}  // namespace cw::cases
