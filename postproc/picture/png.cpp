#include "postproc/picture/png.hpp"

#include <vtkNew.h>
#include <vtkZLibDataCompressor.h>

#include <boost/crc.hpp>
#include <optional>
#include <unordered_map>
#include <utility>
#include <vector>

namespace cw {

namespace {

/// A raster of few colours: a table of colours and one byte per pixel, with a zero byte before each
/// row; a third of the size of four bytes per pixel.
struct Indexed {
  std::string colours;  ///< red, green, blue of each
  std::string rows;
};

/// Empty when there are more than 256 colours, or any that is not opaque.
Indexed indexed(const Raster& raster) {
  Indexed result;
  std::unordered_map<std::uint32_t, char> number;
  std::optional<std::pair<std::uint32_t, char>> last;  // most pixels are like their neighbour
  for (int row = 0; row < raster.height; ++row) {
    result.rows += '\0';
    for (int column = 0; column < raster.width; ++column) {
      const std::uint8_t* p = raster.pixel(column, row);
      const std::uint32_t key = p[0] | std::uint32_t{p[1]} << 8U | std::uint32_t{p[2]} << 16U;
      if (p[3] != 255) return {};
      if (!last || last->first != key) {
        const auto [found, fresh] = number.try_emplace(key, static_cast<char>(number.size()));
        if (number.size() > 256) return {};
        if (fresh) result.colours.append(reinterpret_cast<const char*>(p), 3);
        last = *found;
      }
      result.rows += last->second;
    }
  }
  return result;
}

std::string big_endian(std::uint32_t value) {
  return {static_cast<char>(value >> 24U), static_cast<char>(value >> 16U),
          static_cast<char>(value >> 8U), static_cast<char>(value)};
}

/// Cyclic redundancy check of the standard of PNG (ISO/IEC 15948), annex D.
std::uint32_t checksum(const std::string& bytes) {
  boost::crc_32_type sum;
  sum.process_bytes(bytes.data(), bytes.size());
  return sum.checksum();
}

std::string chunk(const std::string& name, const std::string& data) {
  return big_endian(static_cast<std::uint32_t>(data.size())) + name + data +
         big_endian(checksum(name + data));
}

std::string compressed(const std::string& bytes) {
  vtkNew<vtkZLibDataCompressor> zlib;
  zlib->SetCompressionLevel(6);
  std::string out(zlib->GetMaximumCompressionSpace(bytes.size()), '\0');
  const std::size_t size =
      zlib->Compress(reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(),
                     reinterpret_cast<unsigned char*>(out.data()), out.size());
  out.resize(size);
  return out;
}

constexpr char palette = 3, true_colours = 6;  ///< kinds of colour of the standard

std::string png_of(char kind, const std::string& colours, const std::string& rows,
                   const Raster& raster) {
  const std::string header = big_endian(static_cast<std::uint32_t>(raster.width)) +
                             big_endian(static_cast<std::uint32_t>(raster.height)) +
                             std::string{8, kind, 0, 0, 0};
  return "\x89PNG\r\n\x1a\n" + chunk("IHDR", header) +
         (colours.empty() ? "" : chunk("PLTE", colours)) + chunk("IDAT", compressed(rows)) +
         chunk("IEND", "");
}

/// Red, green, blue and opacity, each row as its difference from the row above (filter 2 of the
/// standard): for smooth pictures and lettering.
std::string full_png_of(const Raster& raster) {
  const std::size_t line = 4 * static_cast<std::size_t>(raster.width);
  std::string rows(static_cast<std::size_t>(raster.height) * (line + 1), '\x02');
  const std::vector<std::uint8_t> nothing(line, 0);
  for (int row = 0; row < raster.height; ++row) {
    const std::uint8_t* here = raster.pixel(0, row);
    const std::uint8_t* above = row > 0 ? raster.pixel(0, row - 1) : nothing.data();
    char* out = rows.data() + static_cast<std::size_t>(row) * (line + 1) + 1;
    for (std::size_t i = 0; i < line; ++i) out[i] = static_cast<char>(here[i] - above[i]);
  }
  return png_of(true_colours, {}, rows, raster);
}

}  // namespace

std::string png_of(const Raster& raster) {
  const Indexed few = indexed(raster);
  return few.colours.empty() ? full_png_of(raster) : png_of(palette, few.colours, few.rows, raster);
}

std::string base64(const std::string& bytes) {
  constexpr const char* digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const auto byte = [&](std::size_t k) -> unsigned {
      return i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U;
    };
    const unsigned group = byte(0) << 16U | byte(1) << 8U | byte(2);
    text += digits[group >> 18U];
    text += digits[group >> 12U & 63U];
    text += i + 1 < bytes.size() ? digits[group >> 6U & 63U] : '=';
    text += i + 2 < bytes.size() ? digits[group & 63U] : '=';
  }
  return text;
}

}  // namespace cw
