#include "cases/design/design_kind.hpp"

namespace cw::cases {

const char* words_of(DesignKind kind) {
  switch (kind) {
    case DesignKind::quickest:
      return "quickest";
    case DesignKind::coolest_supply:
      return "coolest supply";
    case DesignKind::least_copper:
      break;
  }
  return "least copper";
}

}  // namespace cw::cases
