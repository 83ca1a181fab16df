#include "postproc/text/exposure_text.hpp"

#include <fmt/core.h>

#include "materials/figures.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {

std::string exposure_text(const ExposureResult& e) {
  if (e.levels.empty()) return "";
  std::string text = fmt::format("\nStray field, rms, state {}\n", e.at_state);
  text += fmt::format("  {:<28} {:>12}  {:>12}\n", "distance from the coil", "on its axis",
                      "beside it");
  for (std::size_t i = 0; i < e.axis_rms.size(); ++i)
    text += fmt::format("  {:<28} {:>12}  {:>12}\n", figure(e.distances[i], "m"),
                        figure(e.axis_rms[i], "T"), figure(e.beside_rms[i], "T"));
  for (const ExposureLevel& level : e.levels)
    text += fmt::format("  {:<36} {:>8}: keep out {}\n", level.name, figure(level.level, "T"),
                        figure(level.keep_out, "m"));
  return text +
         wrapped("The local rule decides; implants are not covered by these levels.", {80, 2, 2});
}

}  // namespace cw
