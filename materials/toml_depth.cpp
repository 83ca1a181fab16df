#include "materials/toml_depth.hpp"

#include <fmt/format.h>

namespace cw {

namespace {

/// Scans a text, skipping quoted text and comments.
class Scan {
 public:
  explicit Scan(std::string_view text) : text_(text) {}

  std::optional<TooDeep> run() {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '"' || c == '\'')
        pass_quoted(c);
      else if (c == '#')
        pass_comment();
      else
        step(c);
      if (depth_ > deepest_toml)
        return found(
            fmt::format("found lists or tables nested deeper than {0}; allowed: {0} at "
                        "most; write them side by side",
                        deepest_toml));
      if (dots_ >= deepest_toml)
        return found(
            fmt::format("found a key of more than {0} parts; allowed: {0} at most, as a.b.c has "
                        "three; write fewer dots",
                        deepest_toml));
    }
    return std::nullopt;
  }

 private:
  static bool ends_line(char c) { return c >= '\n' && c <= '\r'; }

  [[nodiscard]] bool stands(std::string_view what) const {
    return text_.substr(at_).starts_with(what);
  }

  void move(std::size_t count = 1) {
    for (; count > 0 && at_ < text_.size(); --count, ++at_) {
      if (text_[at_] == '\n') {
        ++line_;
        start_ = at_ + 1;
      }
    }
  }

  void step(char c) {
    if (c == '.') ++dots_;
    if (c == '=' || c == ',' || c == '\n' || c == '[' || c == ']' || c == '{' || c == '}')
      dots_ = 0;
    if (c == '[' || c == '{') ++depth_;
    if ((c == ']' || c == '}') && depth_ > 0) --depth_;
    move();
  }

  void pass_comment() {
    while (at_ < text_.size() && !ends_line(text_[at_])) move();
  }

  void pass_quoted(char quote) {
    const std::string three(3, quote);
    const bool many_lines = stands(three);
    move(many_lines ? 3 : 1);
    while (at_ < text_.size()) {
      if (many_lines ? stands(three) : text_[at_] == quote || ends_line(text_[at_])) break;
      move(quote == '"' && text_[at_] == '\\' ? 2 : 1);
    }
    if (!many_lines) return move(at_ < text_.size() && text_[at_] == quote ? 1 : 0);
    move(3);
    for (int more = 0; more < 2 && at_ < text_.size() && text_[at_] == quote; ++more) move();
  }

  [[nodiscard]] TooDeep found(std::string text) const {
    return {line_, static_cast<int>(at_ - start_), std::move(text)};
  }

  std::string_view text_;
  std::size_t at_ = 0, start_ = 0;
  int line_ = 1, depth_ = 0, dots_ = 0;
};

}  // namespace

std::optional<TooDeep> too_deep(std::string_view toml) {
  return Scan(toml).run();
}

}  // namespace cw
