#include "postproc/picture/picture_values.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "postproc/picture/png.hpp"
#include "postproc/picture/sheet.hpp"

namespace cw {

namespace {

using OrderedJson = nlohmann::ordered_json;

/// Number of samples: enough to tell places apart, few enough for a page with many pictures.
constexpr double most_samples = 6000.0;

struct Quantity {
  const char* name;
  const char* unit;
  double factor;  ///< from SI to the unit
  const std::vector<float>& values;
};

OrderedJson json_of(const Quantity& quantity) {
  const double top =
      static_cast<double>(*std::max_element(quantity.values.begin(), quantity.values.end()));
  std::string bytes;
  bytes.reserve(2 * quantity.values.size());
  for (const float value : quantity.values) {
    const std::uint16_t code = coded(static_cast<double>(value), top);
    bytes += static_cast<char>(code & 0xffU);
    bytes += static_cast<char>(code >> 8U);
  }
  return {{"name", quantity.name},
          {"unit", quantity.unit},
          {"top", top * quantity.factor},
          {"decades", coded_decades},
          {"codes", base64(bytes)}};
}

/// The name of each region in the picture, "air" for air; turns by the coil's name.
OrderedJson names_of(const PictureInput& input) {
  OrderedJson names = OrderedJson::array();
  for (const std::string& region : input.mesh.region_name) {
    const auto label = input.labels.find(region);
    names.push_back(region.starts_with("turn.")   ? input.coil_label
                    : label != input.labels.end() ? label->second
                                                  : region);
  }
  return names;
}

}  // namespace

std::uint16_t coded(double value, double top) {
  if (value <= 0.0 || top <= 0.0) return 0;
  const double share = 1.0 + std::log10(value / top) / coded_decades;
  return static_cast<std::uint16_t>(1.0 + std::round(65534.0 * std::clamp(share, 0.0, 1.0)));
}

double decoded(std::uint16_t code, double top) {
  if (code == 0) return 0.0;
  return top * std::pow(10.0, coded_decades * ((code - 1) / 65534.0 - 1.0));
}

std::string picture_values(const PictureInput& input) {
  const Frame frame = frame_of(input);
  const double area = frame.window.radius * (frame.window.top - frame.window.bottom);
  const double step = std::sqrt(area / most_samples);
  const FieldSamples samples = samples_shown(input, frame, step);
  std::string regions;
  for (const RegionId region : samples.region) regions += static_cast<char>(std::max(region, 0));
  OrderedJson quantities = {
      json_of(Quantity{"|B|", "mT rms", 1e3, samples.flux_rms}),
      json_of(Quantity{"power density", "W/cm\u00b3", 1e-6, samples.power_density})};
  // Air has no temperature here: its code is 0.
  if (input.heat != nullptr)
    quantities[0] = json_of(Quantity{"temperature", "\u00b0C", 1.0, samples.celsius});
  const OrderedJson json = {{"moment", input.moment},
                            {"axis", frame.axis()},  // positions on the sheet, points
                            {"top", frame.top},
                            {"scale", frame.scale / 1e3},  // points per mm
                            {"z_top_mm", 1e3 * frame.window.top},
                            {"step_mm", 1e3 * step},
                            {"columns", samples.columns},
                            {"rows", samples.rows},
                            {"names", names_of(input)},
                            {"regions", base64(regions)},
                            {"quantities", quantities}};
  return json.dump(-1, ' ', false, OrderedJson::error_handler_t::replace) + "\n";
}

}  // namespace cw
