#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>

#include "cases/metals.hpp"
#include "postproc/metals_chart.hpp"
#include "postproc/metals_table.hpp"
#include "postproc/png.hpp"
#include "postproc/result_directory.hpp"
#include "postproc/write_result.hpp"

namespace cw::cases {

void write_metals(const MetalStudy& study, const std::filesystem::path& directory) {
  replace_result_directory(directory, [&](const std::filesystem::path& folder) {
    for (const char* sub : {"tables", "pictures", "fields"})
      std::filesystem::create_directory(folder / sub);
    write_file(folder / "tables" / "metals.csv", metals_table(study.comparison));
    write_file(folder / "tables" / "reasons.csv", reasons_table(study.comparison));
    const Canvas chart = metals_chart(study.comparison);
    constexpr double pixels_per_point = 2.0;
    write_file(folder / "pictures" / "metals.svg", svg_of(chart));
    write_file(folder / "pictures" / "metals.png", png_of(raster_of(chart, pixels_per_point)));
    for (std::size_t k = 0; k < study.states.size(); ++k) {
      const SolvedState& state = study.states[k];
      write_vtu(folder / "fields" / (study.comparison.metals[k].name + ".vtu"),
                {*state.mesh, state.field, state.model.info});
    }
    // Last: a directory with result.json is complete.
    write_file(folder / "result.json", result_json(study.result));
  });
}

std::function<void(int, int, const std::string&)> progress_on_terminal() {
  if (::isatty(STDERR_FILENO) == 0) return nullptr;
  return [](int done, int total, const std::string& what) {
    fmt::print(stderr, "\r{:>4} of {}: {:<40.40}{}", done + 1, total, what,
               done + 1 == total ? "\r\033[K" : "");
    std::fflush(stderr);
  };
}

}  // namespace cw::cases
