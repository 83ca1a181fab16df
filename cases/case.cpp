#include "cases/case.hpp"

namespace cw::cases {

namespace {

template <class... F>
struct Overload : F... {
  using F::operator()...;
};
template <class... F>
Overload(F...) -> Overload<F...>;

}  // namespace

TextPlace Where::of(std::string_view key) const {
  for (;;) {
    if (const auto found = at.find(key); found != at.end()) return found->second;
    const auto dot = key.rfind('.');
    if (dot == std::string_view::npos) return {1, 1};
    key = key.substr(0, dot);
  }
}

double Conductor::radial_size() const {
  return std::visit(Overload{[](const RoundTube& s) { return s.diameter; },
                             [](const RoundWire& s) { return s.diameter; },
                             [](const RectangularBar& s) { return s.radial; },
                             [](const StrandBundle& s) { return s.bundle; }},
                    section);
}

double Conductor::axial_size() const {
  if (const auto* bar = std::get_if<RectangularBar>(&section)) return bar->axial;
  return radial_size();
}

}  // namespace cw::cases
