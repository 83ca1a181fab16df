#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "cases/case.hpp"

namespace cw::cases {

/// A length as a case file has it: "7.5 mm", with its quotes.
std::string millimetre_text(double metres);

/// The lines of a case file, values put into them by key; comments stay.
class CaseLines {
 public:
  /// `text`: a case file that reads.
  explicit CaseLines(const std::string& text);

  /// Puts a value where "section.key" has one, or into its section: behind the heading, or at the
  /// end of its braces. What was there stays as a comment. False where neither is found.
  bool put(const std::string& section, const std::string& key, const std::string& value);

  /// The same where the key is written; else nothing.
  bool renew(const std::string& section, const std::string& key, const std::string& value);

  /// Behind the last line.
  void append(const std::string& text) { tail_ += text; }

  /// Turns a section with its heading into comments; nothing where there is none.
  void set_aside(const std::string& section);

  /// Material files are named as seen from `to`.
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
