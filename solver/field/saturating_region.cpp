#include "solver/field/saturating_region.hpp"

namespace cw {

LocalMedium medium_at(const SaturatingRegion& body, const Medium& uniform, const MeshPoint& p) {
  return body.local ? body.local(p) : LocalMedium{uniform.conductivity, body.magnetisation};
}

double reluctivity_at(const SaturatingRegion& body, const Medium& uniform, const MeshPoint& p,
                      double flux_rms) {
  if (body.law == nullptr) return uniform.reluctivity;
  return body.law->at(flux_rms * flux_rms, medium_at(body, uniform, p).magnetisation).nu;
}

}  // namespace cw
