#include "postproc/picture/png.hpp"

#include <memory>
#include <optional>
#include <unordered_map>
#include <utility>
#include <vector>

#include "postproc/result/deflater.hpp"

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

std::string chunk(const std::string& name, const std::string& data) {
  const std::string named = name + data;
  return big_endian(static_cast<std::uint32_t>(data.size())) + named + big_endian(checksum(named));
}

std::string compressed(const std::string& bytes) {
  Deflater deflater(6);
  const std::size_t room = deflater.most(bytes.size());
  const auto out = std::make_unique_for_overwrite<char[]>(room);  // little of it is ever touched
  return {out.get(), deflater.compress(bytes, out.get(), room)};
}

constexpr char plain_colours = 2, palette = 3, true_colours = 6;  ///< kinds of the standard

std::string png_of(char kind, const std::string& colours, const std::string& rows,
                   const Raster& raster) {
  const std::string header = big_endian(static_cast<std::uint32_t>(raster.width)) +
                             big_endian(static_cast<std::uint32_t>(raster.height)) +
                             std::string{8, kind, 0, 0, 0};
  return "\x89PNG\r\n\x1a\n" + chunk("IHDR", header) +
         (colours.empty() ? "" : chunk("PLTE", colours)) + chunk("IDAT", compressed(rows)) +
         chunk("IEND", "");
}

bool opaque(const Raster& raster) {
  for (std::size_t i = 3; i < raster.rgba.size(); i += 4)
    if (raster.rgba[i] != 255) return false;
  return true;
}

/// The first `parts` of red, green, blue and opacity of each pixel; of each row what differs from
/// the row above (filter 2 of the standard): smooth pictures, smooth lettering.
template <std::size_t parts>
std::string full_png_of(const Raster& raster) {
  const auto width = static_cast<std::size_t>(raster.width);
  std::string rows(static_cast<std::size_t>(raster.height) * (parts * width + 1), '\x02');
  const std::vector<std::uint8_t> nothing(4 * width, 0);
  char* out = rows.data();
  for (int row = 0; row < raster.height; ++row) {
    const std::uint8_t* here = raster.pixel(0, row);
    const std::uint8_t* above = row > 0 ? raster.pixel(0, row - 1) : nothing.data();
    ++out;  // the filter
    for (std::size_t i = 0; i < 4 * width; i += 4)
      for (std::size_t part = 0; part < parts; ++part)
        *out++ = static_cast<char>(here[i + part] - above[i + part]);
  }
  return png_of(parts == 3 ? plain_colours : true_colours, {}, rows, raster);
}

}  // namespace

std::string png_of(const Raster& raster) {
  const Indexed few = indexed(raster);
  if (!few.colours.empty()) return png_of(palette, few.colours, few.rows, raster);
  return opaque(raster) ? full_png_of<3>(raster) : full_png_of<4>(raster);
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
