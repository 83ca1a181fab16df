
#include <cstdio>

#include "cases/compare/metals.hpp"
#include "postproc/picture/metals_chart.hpp"
#include "postproc/picture/png.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_result.hpp"
#include "postproc/text/metals_table.hpp"
#include "postproc/viewer/write_vtu.hpp"

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

}  // namespace cw::cases
