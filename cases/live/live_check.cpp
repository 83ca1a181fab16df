#include "cases/live/live_check.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "cases/read/toml_tree.hpp"

namespace cw::cases {

namespace fs = std::filesystem;

namespace {

bool may_be_path(const std::string& text) {
  return text.find('/') != std::string::npos || text.ends_with(".toml");
}

/// Whether a path of the case leads out of its folder, links followed.
bool leads_out(const fs::path& folder, const std::string& text) {
  if (text.find('\0') != std::string::npos) return true;
  std::error_code failed;
  const fs::path home = fs::weakly_canonical(fs::absolute(folder, failed), failed);
  const fs::path there = fs::weakly_canonical(home / text, failed);
  if (failed) return true;
  const auto [rest, own] = std::mismatch(home.begin(), home.end(), there.begin(), there.end());
  return rest != home.end();
}

/// Complains of every text below the node that leads out of the folder, whatever its key: a sweep
/// may give a material as one of its values.
void find_foreign(const Node& node, const std::string& key, const fs::path& folder,
                  std::vector<Complaint>& found) {
  if (node.kind == Node::Kind::text && may_be_path(node.text) && leads_out(folder, node.text))
    found.push_back(
        {node.at, key,
         fmt::format("found \"{}\"; allowed here: files in the folder of the case; copy "
                     "the file there and write its name",
                     node.text)});
  const auto below = [&](const std::string& name) { return key.empty() ? name : key + "." + name; };
  for (const auto& [name, child] : node.table) find_foreign(child, below(name), folder, found);
  for (std::size_t i = 0; i < node.list.size(); ++i)
    find_foreign(node.list[i], below(std::to_string(i)), folder, found);
}

std::vector<Complaint> foreign_files(const std::string& text, const fs::path& folder) {
  std::vector<Complaint> found;
  const auto tree = parse_toml(text);
  if (const auto* root = std::get_if<Node>(&tree)) find_foreign(*root, "", folder, found);
  return in_order(std::move(found));
}

}  // namespace

LiveCheck check_live(const std::string& text, const fs::path& file) {
  LiveCheck check;
  check.mistakes = foreign_files(text, file.parent_path());
  if (!check.mistakes.empty()) return check;
  try {
    Case subject = read_case_text(text, file);
    LocatedFindings found = findings_of(subject);
    check.mistakes = in_order(std::move(found.errors));
    check.warnings = in_order(std::move(found.warnings));
    if (check.mistakes.empty()) check.subject = std::move(subject);
  } catch (const LocatedCaseError& error) {
    check.mistakes = error.complaints();
  } catch (const CaseError& error) {
    for (const std::string& line : error.messages()) check.mistakes.push_back({{}, "", line});
  }
  return check;
}

}  // namespace cw::cases
