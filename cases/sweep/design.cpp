#include "cases/sweep/design.hpp"

#include <fmt/format.h>

#include <array>
#include <stdexcept>

namespace cw::cases {

namespace {

constexpr std::array<const char*, 5> status_words = {"solved", "invalid", "failed", "crashed",
                                                     "set aside"};

}  // namespace

const char* word(DesignStatus status) {
  return status_words.at(static_cast<std::size_t>(status));
}

DesignStatus status_of(const std::string& word) {
  for (std::size_t k = 0; k < status_words.size(); ++k)
    if (word == status_words.at(k)) return static_cast<DesignStatus>(k);
  throw std::logic_error("no design status: " + word);
}

const char* word(SweepMethod method) {
  return method == SweepMethod::plain ? "plain" : "fast";
}

SweepMethod method_of(const std::string& word) {
  return word == "fast" ? SweepMethod::fast : SweepMethod::plain;
}

const char* word(Effort effort) {
  return effort == Effort::fast ? "fast" : effort == Effort::fine ? "fine" : "normal";
}

Effort effort_of(const std::string& word) {
  return word == "fast" ? Effort::fast : word == "fine" ? Effort::fine : Effort::normal;
}

std::string spoken(const std::vector<Change>& changes) {
  std::string text;
  for (const Change& change : changes)
    text += fmt::format("{}{} = {}", text.empty() ? "" : ", ", change.key, change.value);
  return text;
}

}  // namespace cw::cases
