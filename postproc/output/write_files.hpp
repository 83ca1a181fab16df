#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "postproc/picture/picture.hpp"
#include "postproc/viewer/write_vtu.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// A field to write as fields/<name>.vtu.
struct FieldOutput {
  std::string name;  ///< of its state: "fixed_frequency"
  FieldView view;
  bool solid = false;  ///< also as a surface turned about the axis, fields/solid.vtp, with the coil
};

/// A picture to write as pictures/<name>.svg and .png.
struct PictureOutput {
  std::string name;  ///< "field"
  PictureInput input;
  Canvas (*draw)(const PictureInput&) = field_picture;
  bool with_values = true;  ///< pictures/<name>.json as well, see picture_values()
};

/// A moment of the heating run to write as fields/heat-<number>.vtu, listed in fields/heat.pvd.
struct MomentOutput {
  double time = 0.0;  ///< [s]
  FieldView view;
};

/// Everything that one run writes.
struct ResultFiles {
  const Result& result;
  std::vector<FieldOutput> fields;
  std::vector<PictureOutput> pictures;
  std::vector<MomentOutput> moments = {};
  std::string remedy = {};  ///< text of remedy_file; empty: none
};

/// Writes result.json, report.html, tables/, fields/ and pictures/. Either all of it appears in
/// `directory` or nothing changes; see replace_result_directory(). Throws WriteError.
void write_result_directory(const std::filesystem::path& directory, const ResultFiles& files);

}  // namespace cw
