#include "cases/run/case_lines.hpp"

#include <fmt/format.h>

#include <regex>
#include <sstream>

#include "cases/read/toml_tree.hpp"

namespace cw::cases {

std::string millimetre_text(double metres) {
  return fmt::format("\"{:.6g} mm\"", 1e3 * metres);
}

namespace {

void note_places(const Node& node, const std::string& path, Where& where) {
  if (!path.empty()) where.at[path] = node.at;
  const auto below = [&](const std::string& key) { return path.empty() ? key : path + "." + key; };
  for (const auto& [key, child] : node.table) note_places(child, below(key), where);
  for (std::size_t i = 0; i < node.list.size(); ++i)
    note_places(node.list[i], below(std::to_string(i)), where);
}

}  // namespace

CaseLines::CaseLines(const std::string& text) {
  if (const auto tree = parse_toml(text); const auto* root = std::get_if<Node>(&tree))
    note_places(*root, "", where_);
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines_.push_back(line);
}

bool CaseLines::put(const std::string& section, const std::string& key, const std::string& value) {
  const auto found = where_.at.find(section + "." + key);
  if (found == where_.at.end()) return add(section, key, value);
  const std::size_t i = found->second.line - 1;
  // On a line of its own, or inside the braces of a table that is on one line.
  const std::regex own("((?:.*[\\s{,.]|)" + key +
                       "\\s*=\\s*)(\"[^\"]*\"|\\[[^\\[\\]]*\\]|[^\"#\\[\\]{},\\s][^\"#\\[\\]{},]*?)"
                       "(\\s*(?:[,}].*)?)(#.*)?");
  std::smatch parts;
  if (i >= lines_.size() || !std::regex_match(lines_[i], parts, own)) return false;
  const std::string rest = parts.str(3);
  const std::string after = rest.substr(0, rest.find_last_not_of(" \t") + 1);
  lines_[i] = fmt::format("{}{}{}  # {}instead of {}", parts.str(1), value, after,
                          after.empty() ? "" : key + " ", parts.str(2));
  return true;
}

bool CaseLines::renew(const std::string& section, const std::string& key,
                      const std::string& value) {
  return !where_.at.contains(section + "." + key) || put(section, key, value);
}

void CaseLines::set_aside(const std::string& section) {
  const std::regex heading("\\s*\\[" + section + "\\]\\s*(#.*)?"), other("\\s*\\[.*");
  bool inside = false;
  for (std::string& line : lines_) {
    if (std::regex_match(line, heading))
      inside = true;
    else if (std::regex_match(line, other))
      inside = false;
    if (inside && !line.empty() && !line.starts_with("#")) line.insert(0, "# ");
  }
}

void CaseLines::rebase(const std::filesystem::path& from, const std::filesystem::path& to) {
  const std::regex own("(.*\\bmaterial\\s*=\\s*\")([^\"]+\\.toml)(\".*)");
  for (std::string& line : lines_) {
    std::smatch parts;
    if (!std::regex_match(line, parts, own)) continue;
    const auto file = std::filesystem::absolute(from / parts.str(2));
    line = parts.str(1) + file.lexically_relative(std::filesystem::absolute(to)).generic_string() +
           parts.str(3);
  }
}

std::string CaseLines::text() const {
  std::string all;
  for (std::size_t i = 0; i < lines_.size(); ++i) {
    const auto added = added_.find(i);
    all += lines_[i] + (added != added_.end() ? added->second : "") + "\n";
  }
  return all + tail_;
}

bool CaseLines::add(const std::string& section, const std::string& key, const std::string& value) {
  const std::regex heading("\\s*\\[" + section + "\\]\\s*(#.*)?");
  const std::regex braces("(\\s*" + section + "\\s*=\\s*\\{.*[^\\s])(\\s*\\}\\s*(?:#.*)?)");
  std::smatch parts;
  for (std::size_t i = 0; i < lines_.size(); ++i) {
    if (std::regex_match(lines_[i], heading)) {
      added_[i] += fmt::format("\n{} = {}", key, value);
      return true;
    }
    if (std::regex_match(lines_[i], parts, braces)) {
      lines_[i] = fmt::format("{}, {} = {}{}", parts.str(1), key, value, parts.str(2));
      return true;
    }
  }
  return false;
}

}  // namespace cw::cases
