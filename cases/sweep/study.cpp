#include <fmt/format.h>

#include "cases/read/case_file.hpp"
#include "cases/read/change_tree.hpp"
#include "cases/read/fingerprint.hpp"
#include "cases/read/toml_tree.hpp"
#include "cases/sweep/design.hpp"

namespace cw::cases {

namespace {

/// Whether a text names a material file and not a library material, as in read_case().
bool names_file(const std::string& text) {
  return text.ends_with(".toml") || text.find('/') != std::string::npos;
}

/// Empty if there is no such file. A text with '/' may name anything: only regular files are
/// opened.
std::string bytes_of(const std::filesystem::path& file) {
  std::error_code error;
  return std::filesystem::is_regular_file(file, error) ? read_file(file).bytes : std::string();
}

/// The tree as unambiguous text: tables sorted by key, numbers in full.
void append(const Node& node, const std::filesystem::path& beside, std::string& to) {
  switch (node.kind) {
    case Node::Kind::table:
      for (const auto& [key, value] : node.table) {
        to += fmt::format("{}{{", key);
        append(value, beside, to);
        to += "}";
      }
      return;
    case Node::Kind::list:
      for (const Node& element : node.list) {
        to += "[";
        append(element, beside, to);
        to += "]";
      }
      return;
    case Node::Kind::whole:
    case Node::Kind::number:
      to += fmt::format("{}", node.number);
      return;
    case Node::Kind::truth:
      to += node.truth ? "true" : "false";
      return;
    case Node::Kind::text:
    case Node::Kind::date:
      to += fmt::format("\"{}\"", node.text);
      if (names_file(node.text)) to += sha256_hex(bytes_of(beside / node.text));
  }
}

}  // namespace

std::string study_of(const CaseText& subject) {
  auto parsed = parse_toml(subject.text);
  auto* root = std::get_if<Node>(&parsed);
  if (root == nullptr) return sha256_hex(subject.text);
  for (const Change& change : subject.set)
    static_cast<void>(change_tree(*root, change.key, change.value));
  root->table.erase("title");
  root->table.erase("sweep");
  std::string canonical;
  append(*root, subject.file.parent_path(), canonical);
  return sha256_hex(canonical);
}

}  // namespace cw::cases
