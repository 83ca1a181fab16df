#include "postproc/result/hazards.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "materials/figures.hpp"
#include "solver/heater/hollow.hpp"

namespace cw {

namespace {

/// A dangerous metal, recognised by words in its name.
struct Hazard {
  const char* id;
  std::array<std::string_view, 4> words;  ///< lower case, whole; empty ones match nothing
  Temperature from;                       ///< lowest temperature at which it matters
  const char *full, *brief;
};

// Boiling and melting points of zinc, cadmium and lead: from memory, as in any table of elements.
constexpr std::array metals = {
    Hazard{"zinc_fume",
           {"brass", "zinc", "galvanised", "galvanized"},
           Temperature::celsius(800.0),
           "zinc boils at 907 degC and leaves brass as white fume well before. It gives metal fume "
           "fever (American Welding Society, Safety and Health Fact Sheet 25, 2002). Extraction at "
           "the work, a mask for metal fume, no hotter than necessary.",
           "zinc fume (boils at 907 degC): extraction, a mask for metal fume."},
    Hazard{"lead_fume",
           {"lead", "leaded", "", ""},
           Temperature::celsius(327.5),
           "lead melts at 327 degC; its fume grows with every degree above some 450 degC (from "
           "memory) and poisons slowly. Extraction, no food at the bench, wash hands.",
           "lead fume: extraction, no food at the bench, wash hands."},
    Hazard{"beryllium_fume",
           {"beryllium", "", "", ""},
           Temperature::celsius(300.0),
           "fume and dust of beryllium and its oxide injure the lungs for good, in very small "
           "amounts (from memory). Not a job for an open bench: ask a specialist.",
           "beryllium oxide injures the lungs for good: not for an open bench."},
    Hazard{"magnesium_fire",
           {"magnesium", "", "", ""},
           Temperature::celsius(450.0),
           "magnesium ignites near its melting point of 650 degC, as shavings from some 510 "
           "degC (DOE-HDBK-1081-94, Magnesium). Water and carbon dioxide feed the fire: dry "
           "sand or a powder for metal fires at hand.",
           "magnesium ignites near 650 degC: dry sand at hand, never water."},
    Hazard{"titanium_fire",
           {"titanium", "", "", ""},
           Temperature::celsius(600.0),
           "titanium takes up oxygen from some 600 degC on and turns brittle (from memory); solid, "
           "it ignites near 1590 degC (NFPA 484, 2002), as chips far below. Water on burning "
           "titanium explodes: dry sand or a powder for metal fires at hand.",
           "titanium turns brittle in hot air and burns as chips: dry sand, never water."},
};

struct Coated {
  Coating coating;
  Hazard hazard;
};

constexpr std::array coatings = {
    Coated{
        Coating::zinc,
        {"zinc_fume",
         {},
         Temperature::celsius(419.5),
         "its zinc coating melts at 420 degC and gives off fume; the fume gives metal fume fever "
         "(American Welding Society, Safety and Health Fact Sheet 25, 2002). Remove the coating "
         "first, or use extraction and a mask for metal fume.",
         "zinc coating gives off fume: remove it first, or use extraction and a mask."}},
    Coated{Coating::cadmium,
           {"cadmium_fume",
            {},
            Temperature::celsius(321.0),
            "its cadmium coating melts at 321 degC; a few minutes in its fume can kill, hours "
            "later (from memory). Do not heat it: have the coating removed by a specialist.",
            "cadmium fume can kill: do not heat it with its coating."}},
};

bool has_word(const std::string& text, std::string_view word) {
  const auto letter = [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; };
  std::string lower = text;
  std::ranges::transform(lower, lower.begin(), [](unsigned char c) { return std::tolower(c); });
  for (auto at = lower.find(word); at != std::string::npos; at = lower.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    if ((at == 0 || !letter(lower[at - 1])) && (end == lower.size() || !letter(lower[end])))
      return true;
  }
  return false;
}

bool is_of(const Material& metal, const Hazard& hazard) {
  return std::ranges::any_of(hazard.words, [&](std::string_view word) {
    return !word.empty() && (has_word(metal.name, word) || has_word(metal.title, word));
  });
}

/// Hottest place of a body over the run; without a heating run, over the states [K].
double hottest_of(const Result& result, const std::string& body) {
  double hottest = 0.0;
  for (const StateResult& state : result.states)
    if (body == "workpiece" && state.met && state.workpiece_temperature && !result.heat)
      hottest = std::max(hottest, state.workpiece_temperature->kelvin);
  if (!result.heat) return hottest;
  for (std::size_t b = 0; b < result.heat->bodies.size(); ++b)
    if (result.heat->bodies[b].name == body)
      for (const HeatLine& line : result.heat->lines)
        if (b < line.bodies.size()) hottest = std::max(hottest, line.bodies[b].hottest);
  return hottest;
}

void add(const Hazard& hazard, const std::string& body, double hottest, std::vector<Caution>& to) {
  if (hottest < hazard.from.kelvin) return;
  const std::string place = body == "workpiece" ? "work" : body;
  to.push_back({hazard.id,
                fmt::format("Fume and fire: the {} reaches {} degC; {}", place,
                            figure(hottest - zero_celsius), hazard.full),
                fmt::format("The {}: {}", place, hazard.brief)});
}

}  // namespace

std::vector<Caution> hazards(const Result& result) {
  std::vector<Caution> list;
  if (!result.heater) return list;
  const Heater& heater = *result.heater;
  const auto look = [&](const std::string& name, const Material& metal) {
    const double hottest = hottest_of(result, name);
    for (const Hazard& hazard : metals)
      if (is_of(metal, hazard)) add(hazard, name, hottest, list);
  };
  if (heater.workpiece) {
    look("workpiece", heater.workpiece->material);
    for (const Coated& coated : coatings)
      if (heater.workpiece->coating == coated.coating)
        add(coated.hazard, "workpiece", hottest_of(result, "workpiece"), list);
  }
  for (const Body& body : heater.bodies) look(body.name, body.material);
  if (result.heat && encloses_air(heater))
    list.push_back({"closed_hollow",
                    "Closed hollow: metal encloses air on all sides here. Its pressure rises with "
                    "its temperature, oil or water in it many times more, and it may burst. Drill "
                    "a vent, or do not heat it.",
                    "Closed hollow: it may burst. Drill a vent, or do not heat it."});
  for (Caution& caution : list) caution.triggered = true;
  return list;
}

}  // namespace cw
