// Random cases. Valid ones give finite results with physically correct signs; mutilated ones give
// messages with their place. The cases are the same on every machine.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "mesh/generate.hpp"
#include "postproc/result/write_result.hpp"
#include "solver/field/turns.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw::cases {
namespace {

/// Random numbers that are the same with every standard library.
class Draw {
 public:
  explicit Draw(unsigned seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_() - std::mt19937::min()) /
                     static_cast<double>(std::mt19937::max());
  }
  /// Evenly over the logarithm.
  double over_decades(double low, double high) {
    return std::exp(between(std::log(low), std::log(high)));
  }
  std::size_t below(std::size_t n) {
    return static_cast<std::size_t>(between(0.0, static_cast<double>(n) - 1e-6));
  }
  template <class T>
  const T& of(const std::vector<T>& list) {
    return list[below(list.size())];
  }

 private:
  std::mt19937 engine_;
};

const std::vector<std::string> non_magnetic{"aluminium-6061-t6", "copper-pure",   "brass-c26000",
                                            "stainless-304",     "titanium-pure", "graphite"};
const std::vector<std::string> magnetic{"steel-low-carbon", "steel-high-carbon", "nickel",
                                        "stainless-430"};

struct RandomCase {
  std::string text;      ///< with a workpiece
  std::string unloaded;  ///< the same without
  bool magnetic = false;
};

/// A coil with a part in it, at a fixed frequency and current.
RandomCase random_case(unsigned seed) {
  Draw draw(seed);
  RandomCase c;
  c.magnetic = draw.below(3) == 0;
  const double tube = draw.between(3, 8), bore = draw.between(20, 80);
  const double turns = std::floor(draw.between(1, 9)) + 0.25 * static_cast<double>(draw.below(4));
  const double diameter = bore * draw.between(0.3, 0.85);
  const std::string conductor =
      draw.below(4) == 0
          ? fmt::format(
                "{{ bar = [\"{:.3f} mm\", \"{:.3f} mm\"], wall = \"0.8 mm\", material = "
                "\"copper-tube\" }}",
                tube, 0.8 * tube)
          : fmt::format(
                "{{ tube = \"{:.3f} mm\", wall = \"{:.3f} mm\", material = \"copper-tube\" }}",
                tube, draw.between(0.5, 0.9));
  const std::string coil = fmt::format(
      "[coil]\nshape = \"helix\"\nturns = {:.2f}\nbore = \"{:.3f} mm\"\npitch = \"{:.3f} "
      "mm\"\nconductor = {}\n"
      "leads = {{ length = \"{:.1f} mm\", spacing = \"{:.1f} mm\" }}\n",
      turns, bore, tube * draw.between(1.15, 2.5), conductor, draw.between(20, 200),
      tube * draw.between(2.0, 5.0));
  const std::string drive =
      fmt::format("[drive]\nkind = \"current\"\nfrequency = \"{:.1f} Hz\"\nrms = \"{:.2f} A\"\n",
                  draw.over_decades(5e3, 300e3), draw.over_decades(1, 400));
  const std::string bore_of_part =
      draw.below(4) == 0 ? fmt::format("bore = \"{:.3f} mm\"\n", diameter * draw.between(0.2, 0.7))
                         : std::string();
  c.text = fmt::format(
      "[workpiece]\nmaterial = \"{}\"\n{}diameter = \"{:.3f} mm\"\nlength = \"{:.2f} mm\"\ncentre "
      "= \"{:.2f} mm\"\n"
      "temperature = \"{:.0f} degC\"\n{}{}",
      c.magnetic ? draw.of(magnetic) : draw.of(non_magnetic), bore_of_part, diameter,
      bore * draw.between(0.3, 3.0), draw.between(-20, 20), draw.between(20, 400), coil, drive);
  c.unloaded = coil + drive;
  return c;
}

const StateResult& only_state(const Run& run) {
  return run.result.states.front();
}

class RandomCases : public testing::TestWithParam<unsigned> {};

// Power flows into every part, the balance adds up, resistance is the sum of its parts, everything
// is finite (the writer refuses other numbers), and a non-magnetic load lowers the inductance.
TEST_P(RandomCases, ObeyPhysics) {
  const RandomCase c = random_case(GetParam());
  SCOPED_TRACE(c.text);
  const Case subject = read_case_text(c.text, "random.toml");
  ASSERT_TRUE(check_case(subject).errors.empty()) << check_case(subject).errors.front();
  const cw::Run run = run_case(subject, Effort::fast);
  const StateResult& state = only_state(run);
  EXPECT_NO_THROW(result_json(run.result));
  EXPECT_GT(state.power.workpiece.value(), 0.0);
  EXPECT_GT(state.power.coil, 0.0);
  EXPECT_GE(state.power.leads, 0.0);
  EXPECT_NEAR(state.power.sum(), state.power.total, 1e-9 * state.power.total);
  EXPECT_NEAR(state.coil.conductor_resistance + state.coil.reflected_resistance +
                  state.coil.lead_resistance,
              state.coil.resistance, 1e-6 * state.coil.resistance);
  EXPECT_GE(state.coil.conductor_resistance, 0.98 * state.coil.dc_resistance.value());
  EXPECT_GE(state.efficiency.value(), 0.0);
  EXPECT_LE(state.efficiency.value(), 1.0);
  if (c.magnetic) return;
  const cw::Run empty = run_case(read_case_text(c.unloaded, "random.toml"), Effort::fast);
  EXPECT_LT(state.coil.inductance, only_state(empty).coil.inductance);
  EXPECT_GT(state.coil.resistance, only_state(empty).coil.resistance);
}

// The mutual impedance of rings i and j is symmetric, whatever lies between them.
TEST_P(RandomCases, RingsAreReciprocal) {
  const RandomCase c = random_case(GetParam());
  SCOPED_TRACE(c.text);
  const Case subject = read_case_text(c.text, "random.toml");
  const Frequency frequency{20e3};
  const StateTemperatures room{Temperature::celsius(20.0), Temperature::celsius(20.0)};
  const FieldModel model = field_model(subject, room, {frequency, 10.0});
  const Mesh mesh = generate_mesh(model.section, sizing_for(Effort::fast));
  EddySystem system(mesh, model.media);
  const Eigen::MatrixXcd z = solve_turns(system, model.winding.turns, frequency).impedance;
  EXPECT_LT((z - z.transpose()).norm(), 1e-10 * z.norm());
  for (Eigen::Index i = 0; i < z.rows(); ++i) EXPECT_GT(z(i, i).real(), 0.0);
}

INSTANTIATE_TEST_SUITE_P(Seeds, RandomCases, testing::Range(1U, 41U));

/// `text` with something in it mutilated.
std::string spoilt(std::string text, Draw& draw) {
  std::vector<std::size_t> equals;
  for (std::size_t at = text.find(" = "); at != std::string::npos; at = text.find(" = ", at + 1))
    equals.push_back(at);
  const std::size_t at = draw.of(equals), end = text.find('\n', at);
  switch (draw.below(6)) {
    case 0:
      return text.replace(at, end - at, " = -7");
    case 1:
      return text.replace(at, end - at, " = \"7 parsec\"");
    case 2:
      return text.replace(at, end - at, " = \"1e30 mm\"");
    case 3:
      return text.insert(end, "\nnonsense_key = 1");
    case 4:
      return text.substr(0, at) + " = [";
    default:
      return text.replace(at, end - at, " = nan");
  }
}

// However a case is mutilated, reading and checking give messages with line and column, and nothing
// is solved.
TEST(RandomCasesSpoilt, AreRefusedWithTheirPlace) {
  Draw draw(7);
  for (unsigned seed = 1; seed <= 400; ++seed) {
    const std::string text = spoilt(random_case(seed).text, draw);
    std::vector<std::string> messages;
    try {
      messages = check_case(read_case_text(text, "random.toml")).errors;
    } catch (const CaseError& error) {
      messages = error.messages();
    }
    ASSERT_FALSE(messages.empty()) << text;
    for (const std::string& line : messages)
      EXPECT_TRUE(line.starts_with("random.toml:") && line.find(':', 12) != std::string::npos)
          << line;
  }
}

}  // namespace
}  // namespace cw::cases
