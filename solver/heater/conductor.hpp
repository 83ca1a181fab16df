#pragma once

#include <concepts>
#include <optional>
#include <string_view>
#include <variant>

#include "materials/material.hpp"
#include "mesh/planar/shape.hpp"

namespace cw {

/// The hollow of a conductor that water runs through.
struct CoolingChannel {
  double area = 0.0;              ///< [m2]
  double wetted_perimeter = 0.0;  ///< [m]
};

/// The round conductor that replaces a section in closed forms: solid if `wall` is 0. Metal fills
/// the share `fill` of its section.
struct RoundEquivalent {
  double outer_radius = 0.0, wall = 0.0;  ///< [m]
  double fill = 1.0;
};

/// The sizes of a section that a file stores beside its kind.
struct SectionSizes {
  double radial = 0.0, axial = 0.0;  ///< outside [m]
  std::optional<double> wall;        ///< of a hollow one [m]
  std::optional<int> strands;        ///< of a bundle
};

/// Interface of every section of a conductor. Sizes in metres, across the conductor; `radial` is
/// along r, `axial` along z.
template <class S>
concept ConductorSection = requires(const S& s, double length, Point centre) {
  { S::kind } -> std::convertible_to<std::string_view>;
  { S::is_round } -> std::convertible_to<bool>;
  { s.radial() } -> std::same_as<double>;
  { s.axial() } -> std::same_as<double>;
  { s.metal_area() } -> std::same_as<double>;                      // [m2]
  { s.perimeter() } -> std::same_as<double>;                       // outside
  { s.wall() } -> std::same_as<std::optional<double>>;             // of a hollow one
  { s.channel() } -> std::same_as<std::optional<CoolingChannel>>;  // of a hollow one
  { s.shape(centre) } -> std::same_as<Shape>;                      // its outline and its hollow
  {
    s.gap(length, length)
    } -> std::same_as<double>;              // clear distance to an equal section, for
                                            // these distances of the middles along r and
                                            // z
  { s.scaled(length) } -> std::same_as<S>;  // all sizes times a factor
  { s.equivalent() } -> std::same_as<RoundEquivalent>;
  {
    s.least_bend()
    } -> std::same_as<double>;  // smallest bending radius of the middle, cold,
                                // annealed
  { s.sizes() } -> std::same_as<SectionSizes>;
  { S::of(s.sizes()) } -> std::same_as<S>;  // built from as many sizes as are known
};

struct RoundTube {
  double diameter = 0.0;   ///< outside [m]
  double thickness = 0.0;  ///< of its wall [m]

  static constexpr std::string_view kind = "tube";
  static constexpr bool is_round = true;
  [[nodiscard]] double radial() const { return diameter; }
  [[nodiscard]] double axial() const { return diameter; }
  [[nodiscard]] double metal_area() const;
  [[nodiscard]] double perimeter() const;
  [[nodiscard]] std::optional<double> wall() const { return thickness; }
  [[nodiscard]] std::optional<CoolingChannel> channel() const;
  [[nodiscard]] Shape shape(Point centre) const;
  [[nodiscard]] double gap(double dr, double dz) const;
  [[nodiscard]] RoundTube scaled(double by) const { return {by * diameter, by * thickness}; }
  [[nodiscard]] RoundEquivalent equivalent() const { return {diameter / 2, thickness}; }
  /// Filled with sand. An empty tube bent by hand needs three diameters (common practice, no
  /// source).
  [[nodiscard]] double least_bend() const { return 2.0 * diameter; }
  [[nodiscard]] SectionSizes sizes() const { return {diameter, diameter, thickness, {}}; }
  static RoundTube of(const SectionSizes& s) { return {s.radial, s.wall.value_or(0.0)}; }
};

struct RoundWire {
  double diameter = 0.0;  ///< [m]

  static constexpr std::string_view kind = "wire";
  static constexpr bool is_round = true;
  [[nodiscard]] double radial() const { return diameter; }
  [[nodiscard]] double axial() const { return diameter; }
  [[nodiscard]] double metal_area() const;
  [[nodiscard]] double perimeter() const;
  [[nodiscard]] std::optional<double> wall() const { return std::nullopt; }
  [[nodiscard]] std::optional<CoolingChannel> channel() const { return std::nullopt; }
  [[nodiscard]] Shape shape(Point centre) const { return Disc{centre, diameter / 2, 0}; }
  [[nodiscard]] double gap(double dr, double dz) const;
  [[nodiscard]] RoundWire scaled(double by) const { return {by * diameter}; }
  [[nodiscard]] RoundEquivalent equivalent() const { return {diameter / 2, 0}; }
  /// Bent round its own thickness (common practice, no source).
  [[nodiscard]] double least_bend() const { return diameter; }
  [[nodiscard]] SectionSizes sizes() const { return {diameter, diameter, {}, {}}; }
  static RoundWire of(const SectionSizes& s) { return {s.radial}; }
};

struct RectangularBar {
  double radial_size = 0.0, axial_size = 0.0;  ///< outside [m]
  std::optional<double> thickness;  ///< of the wall of a rectangular tube [m]; left out: solid

  static constexpr std::string_view kind = "bar";
  static constexpr bool is_round = false;
  [[nodiscard]] double radial() const { return radial_size; }
  [[nodiscard]] double axial() const { return axial_size; }
  [[nodiscard]] double metal_area() const;
  [[nodiscard]] double perimeter() const { return 2 * (radial_size + axial_size); }
  [[nodiscard]] std::optional<double> wall() const { return thickness; }
  [[nodiscard]] std::optional<CoolingChannel> channel() const;
  [[nodiscard]] Shape shape(Point centre) const;
  [[nodiscard]] double gap(double dr, double dz) const;
  [[nodiscard]] RectangularBar scaled(double by) const;
  /// Same perimeter: same resistance when the skin is thin and the current covers the perimeter
  /// evenly. Same metal area: same resistance at direct current. An engineering estimate (common
  /// practice, no source): in fact corners and close flat faces crowd the current. For a square bar
  /// of side c it gives a radius of 0.637 c, while the outer field of the bar is that of a round
  /// bar of radius 0.590 c (conformal map of the square, from memory). The inductance of a pair
  /// comes out 30 nH/m too low.
  [[nodiscard]] RoundEquivalent equivalent() const;
  /// Twice its radial side (common practice, no source).
  [[nodiscard]] double least_bend() const { return 2.0 * radial_size; }
  [[nodiscard]] SectionSizes sizes() const { return {radial_size, axial_size, thickness, {}}; }
  static RectangularBar of(const SectionSizes& s) { return {s.radial, s.axial, s.wall}; }
};

/// Twisted insulated strands sharing the current evenly.
struct StrandBundle {
  int strands = 0;
  double strand = 0.0;  ///< bare diameter of one [m]
  double bundle = 0.0;  ///< diameter over all [m]
  double lay = 1.02;    ///< strand length over bundle length (common practice, no source)

  static constexpr std::string_view kind = "strands";
  static constexpr bool is_round = true;
  [[nodiscard]] double radial() const { return bundle; }
  [[nodiscard]] double axial() const { return bundle; }
  [[nodiscard]] double metal_area() const;
  [[nodiscard]] double perimeter() const;
  [[nodiscard]] std::optional<double> wall() const { return std::nullopt; }
  [[nodiscard]] std::optional<CoolingChannel> channel() const { return std::nullopt; }
  [[nodiscard]] Shape shape(Point centre) const { return Disc{centre, bundle / 2, 0}; }
  [[nodiscard]] double gap(double dr, double dz) const;
  [[nodiscard]] StrandBundle scaled(double by) const { return {strands, strand, by * bundle, lay}; }
  /// Outer size unchanged; the copper of the strands fills only part of it.
  [[nodiscard]] RoundEquivalent equivalent() const;
  /// Bent round its own thickness (common practice, no source).
  [[nodiscard]] double least_bend() const { return bundle; }
  [[nodiscard]] SectionSizes sizes() const { return {bundle, bundle, {}, strands}; }
  static StrandBundle of(const SectionSizes& s) { return {s.strands.value_or(0), 0.0, s.radial}; }
};

using AnySection = std::variant<RoundTube, RoundWire, RectangularBar, StrandBundle>;

/// The section of this kind, built from as many sizes as are known; solid round for an unknown
/// kind.
AnySection section_of(std::string_view kind, const SectionSizes& sizes);

/// The metal of a turn.
struct Conductor {
  AnySection section;
  Material material;

  /// Calls `question` with the section, whichever kind it is.
  template <class Question>
  decltype(auto) ask(const Question& question) const {
    return std::visit(
        [&](const auto& s) {
          static_assert(ConductorSection<std::remove_cvref_t<decltype(s)>>);
          return question(s);
        },
        section);
  }
  [[nodiscard]] std::string_view kind() const {
    return ask([](const auto& s) { return s.kind; });
  }
  [[nodiscard]] bool is_round() const {
    return ask([](const auto& s) { return s.is_round; });
  }
  [[nodiscard]] double radial_size() const {
    return ask([](const auto& s) { return s.radial(); });
  }
  [[nodiscard]] double axial_size() const {
    return ask([](const auto& s) { return s.axial(); });
  }
  [[nodiscard]] double metal_area() const {
    return ask([](const auto& s) { return s.metal_area(); });
  }
  [[nodiscard]] double perimeter() const {
    return ask([](const auto& s) { return s.perimeter(); });
  }
  [[nodiscard]] std::optional<double> wall() const {
    return ask([](const auto& s) { return s.wall(); });
  }
  [[nodiscard]] std::optional<CoolingChannel> channel() const {
    return ask([](const auto& s) { return s.channel(); });
  }
  [[nodiscard]] Shape shape(Point centre) const {
    return ask([&](const auto& s) { return s.shape(centre); });
  }
  /// Clear distance to an equal conductor whose middle is this far away; negative: they overlap.
  [[nodiscard]] double gap(double dr, double dz) const {
    return ask([&](const auto& s) { return s.gap(dr, dz); });
  }
  [[nodiscard]] RoundEquivalent equivalent() const {
    return ask([](const auto& s) { return s.equivalent(); });
  }
  [[nodiscard]] double least_bend() const {
    return ask([](const auto& s) { return s.least_bend(); });
  }
  [[nodiscard]] SectionSizes sizes() const {
    return ask([](const auto& s) { return s.sizes(); });
  }
  /// All sizes times `by`.
  [[nodiscard]] Conductor scaled(double by) const;
  /// The strands of a bundle, else null. No eddy current flows from strand to strand.
  [[nodiscard]] const StrandBundle* strands() const { return std::get_if<StrandBundle>(&section); }
};

}  // namespace cw
