#include "tests/faults/wrong_cases.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <optional>
#include <stdexcept>
#include <string_view>

namespace cw::faults {

namespace {

namespace fs = std::filesystem;
using Lines = std::vector<std::string>;

Lines lines_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file) throw std::runtime_error(fmt::format("{}: cannot be read", path.string()));
  Lines lines;
  for (std::string line; std::getline(file, line);) lines.push_back(line);
  return lines;
}

std::string joined(const Lines& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

std::vector<fs::path> files_with(const fs::path& folder, std::string_view extension) {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == extension) paths.push_back(entry.path());
  std::ranges::sort(paths);
  return paths;
}

/// One entry of a table as it is read.
class Entry {
 public:
  Entry(std::string name, Lines base) : name_(std::move(name)), lines_(std::move(base)) {}

  void take(const std::string& line) {
    if (line.starts_with('#')) {
      first_.push_back(line);
      return;
    }
    if (line.size() > 1 && line[1] != ' ') throw std::runtime_error("a sign and a blank begin it");
    const std::string text = line.size() > 2 ? line.substr(2) : "";
    switch (line.front()) {
      case '>':
        expected_.push_back(text);
        break;
      case '+':
        lines_.insert(lines_.begin() + place_, text);
        ++place_;
        break;
      case '-':
        find(text);
        lines_.erase(lines_.begin() + place_);
        break;
      case ' ':
        find(text);
        ++place_;
        break;
      default:
        throw std::runtime_error("a line begins with one of = # + - > or a blank");
    }
  }

  [[nodiscard]] WrongCase made() const {
    if (expected_.empty()) throw std::runtime_error(name_ + " expects nothing: write > message");
    return {name_, joined(first_) + joined(lines_), expected_};
  }

 private:
  void find(const std::string& text) {
    const auto found = std::find(lines_.begin() + place_, lines_.end(), text);
    if (found == lines_.end()) throw std::runtime_error("its base has no such line from here on");
    place_ = found - lines_.begin();
  }

  std::string name_;
  Lines first_, lines_;
  Lines expected_;
  std::ptrdiff_t place_ = 0;  ///< line of the case before which new lines are inserted
};

using Bases = std::map<std::string, Lines>;

Entry begun(const std::string& line, const Bases& bases) {
  const std::size_t colon = line.find(" : ");
  if (!line.starts_with("== ") || colon == std::string::npos)
    throw std::runtime_error("write == name : base");
  const auto base = bases.find(line.substr(colon + 3));
  if (base == bases.end()) throw std::runtime_error("no such base in bases/");
  return {line.substr(3, colon - 3), base->second};
}

void read_table(const fs::path& path, const Bases& bases, std::vector<WrongCase>& found) {
  std::optional<Entry> entry;
  int number = 0;
  try {
    for (const std::string& line : lines_of(path)) {
      ++number;
      if (line.starts_with('=')) {
        if (entry) found.push_back(entry->made());
        entry = begun(line, bases);
      } else if (entry && !line.empty()) {
        entry->take(line);
      }
    }
    if (entry) found.push_back(entry->made());
  } catch (const std::runtime_error& error) {
    throw std::runtime_error(fmt::format("{}:{}: {}", path.string(), number, error.what()));
  }
}

}  // namespace

std::vector<WrongCase> wrong_cases(const fs::path& folder) {
  Bases bases{{"nothing", {}}};
  for (const auto& path : files_with(folder / "bases", ".toml"))
    bases[path.stem().string()] = lines_of(path);
  std::vector<WrongCase> found;
  for (const auto& path : files_with(folder, ".txt")) read_table(path, bases, found);
  std::ranges::sort(found, {}, &WrongCase::name);
  const auto twice = std::ranges::adjacent_find(found, {}, &WrongCase::name);
  if (twice != found.end()) throw std::runtime_error("two wrong cases are named " + twice->name);
  return found;
}

}  // namespace cw::faults
