#pragma once

#include <cstdint>
#include <string>

namespace cw::accuracy {

/// What a random case is, in the words by which results are told apart.
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

/// The case of a seed, the same on every machine (as long as the library of materials is). Spread
/// over what can be written rather than over what is usual, evenly over the logarithm of sizes,
/// frequency and current: work of 1 to 200 mm diameter and 0.2 to 100 diameters length in coils 1.1
/// to 20 times as wide or a hair (0.2 mm) off, walls and slots down to 0.2 mm, parts that touch or
/// nearly do, every metal, 500 Hz to 1 MHz, 1 to 1000 A, cold to near melting. Whether it can be
/// solved, or even built, is not asked: check_case() says what is refused.
RandomCase random_case(std::uint64_t seed);

}  // namespace cw::accuracy
