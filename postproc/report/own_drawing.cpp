#include "postproc/report/own_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace cw {

namespace {

using View = std::string_view;

constexpr std::array<View, 5> elements{"svg", "rect", "path", "text", "image"};

constexpr std::array<View, 24> attributes{"xmlns",
                                          "width",
                                          "height",
                                          "viewBox",
                                          "font-family",
                                          "x",
                                          "y",
                                          "d",
                                          "fill",
                                          "fill-opacity",
                                          "fill-rule",
                                          "stroke",
                                          "stroke-opacity",
                                          "stroke-width",
                                          "stroke-linejoin",
                                          "stroke-linecap",
                                          "font-size",
                                          "text-anchor",
                                          "font-weight",
                                          "paint-order",
                                          "transform",
                                          "stroke-dasharray",
                                          "preserveAspectRatio",
                                          "href"};

constexpr View no_end = "a tag without its end";

/// Text that names what was found, reduced to letters, since it goes to a terminal.
std::string found(View what) {
  std::string plain;
  for (const char c : what.substr(0, 30)) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                        (c >= '0' && c <= '9') || c == '-' || c == ':';
    plain += letter ? c : '?';
  }
  return plain;
}

/// Checks the attributes of one tag, a sequence of ` name="value"`.
std::string foreign_in_attributes(View rest) {
  while (!rest.empty()) {
    const std::size_t equals = rest.find("=\"");
    if (rest.front() != ' ' || equals == View::npos) return "an attribute without its value";
    const View name = rest.substr(1, equals - 1);
    const std::size_t end = rest.find('"', equals + 2);
    if (end == View::npos) return "an attribute without its end";
    const View value = rest.substr(equals + 2, end - equals - 2);
    if (std::ranges::find(attributes, name) == attributes.end())
      return fmt::format("the attribute {}", found(name));
    if (name == "href" && !value.starts_with("data:image/png;base64,"))
      return "a link to something outside";
    if (value.find('<') != View::npos || value.find("url(") != View::npos)
      return fmt::format("another value of {}", found(name));
    rest.remove_prefix(end + 1);
  }
  return {};
}

/// Checks the text between < and >.
std::string foreign_in_tag(View tag) {
  if (tag.starts_with('/')) tag.remove_prefix(1);
  if (tag.ends_with('/')) tag.remove_suffix(1);
  const View name = tag.substr(0, tag.find(' '));
  if (std::ranges::find(elements, name) == elements.end()) return fmt::format("<{}>", found(name));
  return foreign_in_attributes(tag.substr(name.size()));
}

}  // namespace

std::string foreign_in_drawing(View svg) {
  constexpr View heading = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  if (svg.starts_with(heading)) svg.remove_prefix(heading.size());
  const std::size_t head = svg.find('>');
  if (!svg.starts_with("<svg ") || head == View::npos || !svg.ends_with("</svg>\n") ||
      svg.substr(0, head).find(" viewBox=\"") == View::npos)
    return "no whole drawing";
  for (std::size_t at = 0; (at = svg.find('<', at)) != View::npos;) {
    const std::size_t end = svg.find('>', at);
    if (end == View::npos) return std::string(no_end);
    const View tag = svg.substr(at + 1, end - at - 1);
    std::string foreign = foreign_in_tag(tag);
    if (!foreign.empty()) return foreign;
    const bool inner = at > 0 && end + 2 < svg.size();
    if (inner && (tag.starts_with("svg") || tag.starts_with("/svg"))) return "a second drawing";
    at = end;
  }
  return {};
}

std::string foreign_drawing(const std::filesystem::path& file, const std::string& foreign,
                            const char* remedy) {
  return fmt::format(
      "{}: found {}; allowed: a drawing as this program writes it; {}, or remove the file.",
      file.string(), foreign, remedy);
}

}  // namespace cw
