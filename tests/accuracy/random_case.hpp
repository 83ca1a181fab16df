#pragma once

#include <cstdint>
#include <string>

namespace cw::accuracy {

/// The classes of a random case, by which results are grouped.
struct Classes {
  std::string work;       ///< rod, disc, tube, stepped, pointed, re-entrant, cup, none
  std::string coil;       ///< helix, flat, cone, rings
  std::string conductor;  ///< tube, wire, solid bar, hollow bar, strands
  std::string magnetic;   ///< of the workpiece at its temperature: magnetic, not magnetic
  std::string skin;       ///< wall or radius over skin depth: thin (< 1), middle, thick (> 5), none
  std::string bodies;     ///< none, charge, sleeve, fibre, second part, flux plate, several
  std::string drive;      ///< current, voltage
};

/// A whole case file drawn at random.
struct RandomCase {
  std::uint64_t seed = 0;
  std::string text;   ///< TOML
  std::string about;  ///< one line
  Classes classes;
};

/// The case of a seed, the same on every machine (as long as the library of materials does not
/// change). Cases cover everything that can be written, not only usual heaters, uniformly in the
/// logarithm of sizes, frequency and current: work of 1 to 200 mm diameter and 0.2 to 100 diameters
/// length in coils 1.1 to 20 times as wide or only 0.2 mm wider, walls and slots down to 0.2 mm,
/// parts that touch or nearly touch, every metal, 500 Hz to 1 MHz, 1 to 1000 A, cold to near
/// melting. A case may be impossible to solve or even to build: check_case() says what is refused.
RandomCase random_case(std::uint64_t seed);

}  // namespace cw::accuracy
