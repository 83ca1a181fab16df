#include "cases/case.hpp"

namespace cw::cases {

TextPlace Where::of(std::string_view key) const {
  for (;;) {
    if (const auto found = at.find(key); found != at.end()) return found->second;
    const auto dot = key.rfind('.');
    if (dot == std::string_view::npos) return {1, 1};
    key = key.substr(0, dot);
  }
}

}  // namespace cw::cases
