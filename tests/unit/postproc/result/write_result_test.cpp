#include "postproc/result/write_result.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <nlohmann/json.hpp>

#include "postproc/result/cautions.hpp"
#include "postproc/result/write_tables.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

using nlohmann::json;

// Property: equal input gives equal bytes; only `timing` may differ between two runs.
TEST(ResultFile, SameInputSameBytesApartFromTiming) {
  cw::Result a = cw::sample::result(), b = cw::sample::result();
  b.timing = {9.0, 9.0, 9.0};
  EXPECT_NE(cw::result_json(a), cw::result_json(b));
  json left = json::parse(cw::result_json(a)), right = json::parse(cw::result_json(b));
  left.erase("timing");
  right.erase("timing");
  EXPECT_EQ(left, right);
  b.timing = a.timing;
  EXPECT_EQ(cw::result_json(a), cw::result_json(b));
}

// Property: numbers are read back bit for bit.
TEST(ResultFile, FullPrecision) {
  const json file = json::parse(cw::result_json(cw::sample::result()));
  EXPECT_EQ(file["states"][0]["coil"]["inductance_H"].get<double>(), 1.0 / 3.0 * 1e-6);
  EXPECT_EQ(file["format"], "coilwright-result-2");
}

// Property: parts a case does not have leave no key behind.
TEST(ResultFile, LeavesOutWhatDoesNotApply) {
  cw::Result empty_coil = cw::sample::result();
  empty_coil.states[0].power.workpiece.reset();
  empty_coil.states[0].workpiece_temperature.reset();
  empty_coil.states[0].efficiency.reset();
  const json file = json::parse(cw::result_json(empty_coil));
  const json& state = file["states"][0];
  for (const char* key : {"tank", "supply", "workpiece_temperature_K", "efficiency"})
    EXPECT_FALSE(state.contains(key)) << key;
  EXPECT_FALSE(state["power"].contains("workpiece_W"));
  EXPECT_FALSE(file.contains("heat"));
  EXPECT_FALSE(file.contains("exposure"));
}

// Property: a number that is not finite never reaches a file; the message names its key.
TEST(ResultFile, RefusesWhatIsNotFinite) {
  for (const double bad :
       {std::numeric_limits<double>::infinity(), std::numeric_limits<double>::quiet_NaN()}) {
    cw::Result result = cw::sample::result();
    result.states[0].skin_depth = bad;
    try {
      cw::result_json(result);
      FAIL() << "no exception";
    } catch (const std::logic_error& e) {
      EXPECT_NE(std::string(e.what()).find("skin_depth_m"), std::string::npos) << e.what();
    }
  }
}

// Property: a title that is no UTF-8 does not keep the result from being written.
TEST(ResultFile, SurvivesBrokenText) {
  cw::Result result = cw::sample::result();
  result.title = "caf\xe9";
  EXPECT_NO_THROW({ EXPECT_TRUE(json::accept(cw::result_json(result))); });
}

// Property: the cautions that must never be missing are in the file, with the computed voltage, rms
// and peak.
TEST(ResultFile, CarriesTheCautions) {
  const json file = json::parse(cw::result_json(cw::sample::result()));
  const std::string all = file["cautions"].dump();
  for (const char* words :
       {"not a safety approval", "Voltage:", "Implants:", "Water and electricity:", "Hot metal:",
        "Limits of the model:", "11.0 V rms", "15.6 V peak"}) {
    EXPECT_NE(all.find(words), std::string::npos) << words;
  }
}

// Property: a tank, a supply and a heating run bring their own cautions; an empty result still has
// the six.
TEST(Cautions, FollowTheDesign) {
  const auto has = [](const cw::Result& r, const std::string& id) {
    const auto list = cw::cautions(r);
    return std::any_of(list.begin(), list.end(), [&](const cw::Caution& c) { return c.id == id; });
  };
  EXPECT_EQ(cw::cautions({}).size(), 6U);
  cw::Result result = cw::sample::result();
  EXPECT_TRUE(has(result, "radio"));
  EXPECT_FALSE(has(result, "capacitors"));
  EXPECT_FALSE(has(result, "burns"));
  result.states[0].tank = cw::TankResult{53.0, 75.0, 100.0, 99.0, 5300.0, 8.0};
  result.states[0].supply = cw::SupplyResult{24.0, 15.0, 15.0, 360.0, false};
  result.heat = cw::HeatResult{};
  for (const char* id : {"capacitors", "supply", "burns", "supervision"})
    EXPECT_TRUE(has(result, id)) << id;
  EXPECT_NE(cw::cautions(result)[1].text.find("53.0 V rms, 75.0 V peak"), std::string::npos);
}

// Property: the parts of the power table add up to its total, and a comma in a name does not break
// the table.
TEST(Tables, PowersAddUp) {
  const std::string table = cw::powers_table(cw::sample::result());
  EXPECT_EQ(table.substr(0, table.find('\n')), "state,part,power [W],share of total");
  EXPECT_NE(table.find("fixed_frequency,\"sleeve, inner\",10,"), std::string::npos) << table;
  EXPECT_NE(table.find("fixed_frequency,total,300,1\n"), std::string::npos) << table;
  EXPECT_DOUBLE_EQ(cw::sample::result().states[0].power.sum(), 300.0);
}

// Property: the turn table has one line per ring in winding order.
TEST(Tables, OneLinePerTurn) {
  EXPECT_EQ(cw::turns_table(cw::sample::result()),
            "state,turn,r [m],z [m],weight,voltage rms [V],current rms [A],loss [W]\n"
            "fixed_frequency,1,0.01,-0.005,1,5.5,100,60\n"
            "fixed_frequency,2,0.01,0.005,1,5.5,100,60\n");
}

}  // namespace
