#include "materials/nearest.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace cw {
namespace {

// Costs are in half edits, so that a wrong capital can count as one.
constexpr int half = 1, whole = 2;

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

int change(char a, char b) {
  if (a == b) return 0;
  return lower(a) == lower(b) ? half : whole;
}

int distance(std::string_view a, std::string_view b) {
  std::vector<int> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = whole * static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = whole * static_cast<int>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] =
          std::min({last[j] + whole, row[j - 1] + whole, last[j - 1] + change(a[i - 1], b[j - 1])});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], before[j - 2] + whole);
      }
    }
    before = std::exchange(last, row);
  }
  return last[b.size()];
}

int cutoff(std::string_view word) {
  if (word.size() < 2) return half;
  return whole * std::max(1, static_cast<int>(word.size()) / 3);
}

/// The only known word that begins with this one.
std::optional<std::string> begun(std::string_view word, std::span<const std::string> known) {
  constexpr std::size_t telling = 4;
  const auto starts = [&](const std::string& candidate) { return candidate.starts_with(word); };
  if (word.size() < telling || std::ranges::count_if(known, starts) != 1) return std::nullopt;
  return *std::ranges::find_if(known, starts);
}

}  // namespace

std::optional<std::string> nearest(std::string_view word, std::span<const std::string> known) {
  constexpr std::size_t longest = 80;  // a longer text is not a mistyped word
  if (word.empty() || word.size() > longest) return std::nullopt;
  const std::string* best = nullptr;
  int least = cutoff(word) + 1;
  for (const std::string& candidate : known) {
    if (const int d = distance(word, candidate); d < least) {
      least = d;
      best = &candidate;
    }
  }
  return best != nullptr ? std::optional(*best) : begun(word, known);
}

}  // namespace cw
