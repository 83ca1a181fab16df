#include <fmt/format.h>
#include <gtest/gtest.h>
#include <sqlite3.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "cases/sweep/plan.hpp"
#include "cases/sweep/sampling.hpp"
#include "cases/sweep/sheet.hpp"
#include "cases/sweep/store.hpp"
#include "postproc/result/write_error.hpp"
#include "postproc/text/design_table.hpp"
#include "postproc/text/next_steps.hpp"
#include "tests/unit/cases/case_text.hpp"

namespace cw::cases {
namespace {

// Property: a grid is every combination once, the last axis changing fastest.
TEST(SweepPlan, IsEveryCombination) {
  const Case subject =
      read_case_text(std::string(small_case) +
                         "\n[sweep]\nvary = [{ key = \"coil.turns\", values = [3, 4] },"
                         " { key = \"coil.pitch\", from = \"7 mm\", to = \"8 mm\", count = 3 }]\n",
                     "x.toml");
  std::string all;
  for (const auto& design : plan_designs(subject)) all += spoken(design) + "\n";
  EXPECT_EQ(all,
            "coil.turns = 3, coil.pitch = 7 mm\ncoil.turns = 3, coil.pitch = 7.5 mm\n"
            "coil.turns = 3, coil.pitch = 8 mm\ncoil.turns = 4, coil.pitch = 7 mm\n"
            "coil.turns = 4, coil.pitch = 7.5 mm\ncoil.turns = 4, coil.pitch = 8 mm\n");
}

// Property: a Latin hypercube has one point in each slice of each coordinate (McKay, Beckman,
// Conover 1979), the same for the same seed, others for another.
TEST(SweepPlan, LatinHypercubeFillsEverySlice) {
  constexpr int count = 37;
  const Sampling sampling{SamplingKind::latin_hypercube, count, 5};
  const auto points = sample_points(sampling, 3);
  ASSERT_EQ(points.size(), 37U);
  for (std::size_t d = 0; d < 3; ++d) {
    std::vector<int> slices;
    for (const auto& point : points) slices.push_back(static_cast<int>(point[d] * count));
    std::sort(slices.begin(), slices.end());
    for (int k = 0; k < count; ++k) EXPECT_EQ(slices[static_cast<std::size_t>(k)], k);
  }
  EXPECT_EQ(points, sample_points(sampling, 3));
  EXPECT_NE(points, sample_points({SamplingKind::latin_hypercube, count, 6}, 3));
}

// Property: Sobol points after the first are (1/2, 1/2), then (3/4, 1/4) and (1/4, 3/4): the
// sequence in two dimensions, I. M. Sobol 1967 (Gray-code order, P. Bratley, B. L. Fox, ACM Trans.
// Math. Softw. 14 (1988) 88, from memory).
TEST(SweepPlan, SobolPointsAreTheKnownOnes) {
  const auto points = sample_points({SamplingKind::sobol, 3, 1}, 2);
  const std::vector<std::vector<double>> known = {{0.5, 0.5}, {0.75, 0.25}, {0.25, 0.75}};
  EXPECT_EQ(points, known);
}

DesignRow row(const std::string& turns, double watts, double fraction) {
  DesignRow r;
  r.id = turns;
  r.study = "s";
  r.changes = {{"coil.turns", turns}};
  r.outcome.status = DesignStatus::solved;
  r.outcome.result =
      fmt::format(R"({{"states":[{{"name":"cold","power":{{"workpiece_W":{}}},"efficiency":0.5}}],)"
                  R"("limits":[{{"part":"can","quantity":"current_rms_A","value":1,"fraction":{},)"
                  R"("verdict":"{}","at_state":"cold","advice":"more cans"}}]}})",
                  watts, fraction, fraction >= 1 ? "stop" : "ok");
  return r;
}

// Property: largest first if requested; a design that breaks a limit never leads; states and limits
// are addressed by name; the shortlist gives the values of the neighbours.
TEST(SweepRank, RespectsLimitsAndExplains) {
  Case subject;
  subject.title = "t";
  subject.sweep = Sweep{};
  subject.sweep->vary = {{"coil.turns", {"6", "7", "8"}, {}}};
  subject.sweep->rank = "-states.cold.power.workpiece_W";
  const Ranking ranking =
      rank_designs(*subject.sweep, {row("6", 100, 0.5), row("7", 112, 0.96), row("8", 130, 1.2)});
  ASSERT_EQ(ranking.best.size(), 2U);
  ASSERT_EQ(ranking.breaking.size(), 1U);
  EXPECT_EQ(ranking.best[0].row.id, "7");
  EXPECT_EQ(ranking.breaking[0].row.id, "8");
  EXPECT_EQ(figure_of(ranking.best[0].figures, "limits.can.current_rms_A.fraction"), 0.96);
  EXPECT_EQ(figure_of(ranking.best[0].figures, "efficiency"), 0.5);
  const auto reasons = shortlist_reasons(sheet_of(subject, ranking), 1);
  ASSERT_EQ(reasons.size(), 1U);
  EXPECT_EQ(reasons[0],
            "7 turns: 112 W; 12.0 % more than with 6 turns; 8 turns would exceed a limit (can: "
            "current at 120 % of its limit); can at 96 % of its limit.");
}

/// A heated design that ends at a temperature [degC]; its target is 800.
DesignRow heated_row(const std::string& turns, double end, double fraction) {
  DesignRow r = row(turns, 100, fraction);
  std::string& result = r.outcome.result;
  result.pop_back();
  result += fmt::format(R"(,"heat":{{"target_K":1073.15,"reading_K":{},"stall_K":{}{}}}}})",
                        std::min(end, 800.0) + 273.15, end + 273.15,
                        end >= 800 ? R"(,"time_to_target_s":90)" : "");
  return r;
}

// Property: if no design does the job, those that keep every limit and miss only the target come
// first, the nearest first, then those that break limits, by how far. The text says how many, by
// how much, and which key to widen in which direction.
TEST(SweepRank, NearMissesLead) {
  Case subject;
  subject.title = "t";
  subject.sweep = Sweep{};
  subject.sweep->vary = {{"coil.turns", {"5", "6", "7", "8", "9"}, {}}};
  subject.sweep->rank = "heat.time_to_target_s";
  const Ranking ranking =
      rank_designs(*subject.sweep,
                   {heated_row("5", 850, 1.3), heated_row("6", 840, 1.1), heated_row("7", 690, 0.9),
                    heated_row("8", 730, 0.8), heated_row("9", 770, 0.7)});
  EXPECT_TRUE(ranking.best.empty() && ranking.unranked.empty());
  std::string order;
  for (const RankedDesign& design : ranking.breaking) order += design.row.id;
  EXPECT_EQ(order, "98765");
  EXPECT_NEAR(ranking.breaking.front().shortfall.value(), 30, 1e-9);
  const std::string text = design_text(sheet_of(subject, ranking), 10);
  EXPECT_NE(text.find("3 keep every limit; the nearest\nmisses the target by 30 K"),
            std::string::npos)
      << text;
  EXPECT_NE(text.find("has the largest coil.turns of all that were tried, 9"), std::string::npos)
      << text;
}

// Property: a design that reaches the target leads, whatever the key; equal designs are reported as
// equal.
TEST(SweepRank, ReportsTies) {
  Case subject;
  subject.title = "t";
  subject.sweep = Sweep{};
  subject.sweep->vary = {{"coil.turns", {"6", "7", "8"}, {}}};
  subject.sweep->rank = "-states.cold.power.workpiece_W";
  DesignRow hot = heated_row("6", 850, 0.5), cold = row("7", 100.2, 0.5);
  const Ranking ranking = rank_designs(*subject.sweep, {heated_row("8", 700, 0.5), cold, hot});
  ASSERT_EQ(ranking.best.size(), 2U);
  EXPECT_EQ(ranking.breaking.at(0).row.id, "8");
  const DesignSheet sheet = sheet_of(subject, ranking);
  EXPECT_EQ(tied_designs(sheet), 2U);
  EXPECT_NE(design_text(sheet, 10).find("Places 1 to 2 lie within 0.5 %"), std::string::npos);
}

// Property: for a rank key that no design has, the message names the nearest that they have.
TEST(SweepRank, NamesTheNearestKey) {
  Sweep sweep;
  sweep.rank = "states.cold.power.workpeice_W";
  EXPECT_NE(complaint_of(rank_designs(sweep, {row("6", 100, 0.5)}))
                .find("\"states.cold.power.workpiece_W\""),
            std::string::npos);
}

// Property: the identity of a study does not change with layout, comments or the sweep, and does
// with any value.
TEST(SweepStudy, IsTheCaseWithoutItsLayout) {
  const std::string base(small_case);
  const std::string once = study_of({"x.toml", base});
  EXPECT_EQ(study_of({"x.toml", "# remark\n" + base + "\n[sweep]\nvary = []\n"}), once);
  std::string other = base;
  other.replace(other.find("turns"), 5, "turns ");
  EXPECT_EQ(study_of({"x.toml", other}), once);
  other.replace(other.find("mm"), 2, "cm");
  EXPECT_NE(study_of({"x.toml", other}), once);
}

// Property: rows are read back as stored; a crashed design is replaced by a later answer, others
// are not; a store of a newer form is refused.
TEST(SweepStore, KeepsWhatItIsGiven) {
  const auto file = std::filesystem::temp_directory_path() /
                    ("coilwright_store_test_" + std::to_string(::getpid()) + ".sqlite");
  std::filesystem::remove(file);
  {
    Store store(file);
    DesignRow crashed = row("6", 100, 0.5);
    crashed.outcome = {DesignStatus::crashed, "gone", "", 0, 0, 0};
    store.put(std::vector{crashed});
    EXPECT_FALSE(store.done("6"));
    store.put(std::vector{row("6", 100, 0.5), row("7", 112, 0.96)});
    store.put(std::vector{row("7", 1, 0.1)});
    const auto rows = store.rows("s");
    ASSERT_EQ(rows.size(), 2U);
    EXPECT_EQ(rows[1].outcome.result, row("7", 112, 0.96).outcome.result);
    EXPECT_EQ(rows[1].changes[0].value, "7");
    EXPECT_TRUE(store.done("6"));
    store.put_trace("s", {1, 2, "7", -112.0});
    ASSERT_EQ(store.trace("s").size(), 1U);
    EXPECT_EQ(store.trace("s")[0].objective, -112.0);
  }
  ASSERT_EQ(std::system(fmt::format("printf '\\0\\0\\0\\11' | dd of={} bs=1 seek=60 conv=notrunc "
                                    "2>/dev/null",
                                    file.string())
                            .c_str()),
            0);
  EXPECT_THROW(Store{file}, WriteError);
  std::filesystem::remove(file);
}

/// A store with two rows, and what `sql` does to it behind our back; the complaint when it is
/// opened and read, empty where there is none.
std::string complaint_after(const std::string& sql) {
  const auto file = std::filesystem::temp_directory_path() /
                    ("coilwright_spoilt_" + std::to_string(::getpid()) + ".sqlite");
  std::filesystem::remove(file);
  { Store(file).put(std::vector{row("6", 100, 0.5), row("7", 112, 0.96)}); }
  sqlite3* base = nullptr;
  EXPECT_EQ(sqlite3_open(file.c_str(), &base), SQLITE_OK);
  EXPECT_EQ(sqlite3_exec(base, sql.c_str(), nullptr, nullptr, nullptr), SQLITE_OK)
      << sql << ": " << sqlite3_errmsg(base);
  sqlite3_close(base);
  std::string complaint;
  try {
    Store store(file);
    EXPECT_EQ(store.rows("s").size(), 2U);
  } catch (const WriteError& error) {
    complaint = error.what();
    EXPECT_TRUE(complaint.starts_with(file.string() + ": ")) << complaint;
    EXPECT_NE(complaint.find("--out"), std::string::npos) << complaint;
  }
  std::filesystem::remove(file);
  return complaint;
}

// Property: a store that brings code or tables of its own is refused before anything is written
// into it; one that is as this program makes it is not.
TEST(SweepStore, RefusesAnotherForm) {
  EXPECT_EQ(complaint_after(""), "");
  for (const char* sql :
       {"CREATE TRIGGER t AFTER INSERT ON designs BEGIN DELETE FROM trace; END",
        "CREATE TRIGGER t AFTER INSERT ON runs BEGIN UPDATE designs SET result = '{}'; END",
        "CREATE VIEW v AS SELECT 1", "CREATE TABLE more (a)", "ALTER TABLE designs ADD COLUMN more",
        "CREATE INDEX i ON designs (lower(id))", "DROP TABLE trace"})
    EXPECT_NE(complaint_after(sql).find("triggers or views"), std::string::npos) << sql;
}

// Property: even a trigger that is added after the check of the form is not run.
TEST(SweepStore, RunsNoTrigger) {
  const auto file = std::filesystem::temp_directory_path() /
                    ("coilwright_trigger_" + std::to_string(::getpid()) + ".sqlite");
  std::filesystem::remove(file);
  {
    Store store(file);
    sqlite3* base = nullptr;
    ASSERT_EQ(sqlite3_open(file.c_str(), &base), SQLITE_OK);
    ASSERT_EQ(sqlite3_exec(base,
                           "CREATE TRIGGER t AFTER INSERT ON designs BEGIN UPDATE designs SET "
                           "reason = 'theirs'; END",
                           nullptr, nullptr, nullptr),
              SQLITE_OK);
    sqlite3_close(base);
    store.put(std::vector{row("6", 100, 0.5)});
    EXPECT_EQ(store.rows("s").at(0).outcome.reason, "");
  }
  std::filesystem::remove(file);
}

// Property: a damaged row gives a message with file, row and what to do, not the message of a
// parser and not a crash.
TEST(SweepStore, NamesADamagedRow) {
  const std::string deep(100000, '[');
  for (const std::string& sql :
       {std::string("inputs = 'null'"), std::string("inputs = '[1]'"),
        std::string("inputs = '{\"a\": 1}'"), std::string("inputs = '{'"),
        std::string("inputs = CAST(x'7b22ff' AS TEXT)"), "inputs = '" + deep + "'",
        std::string("result = 'null'"), std::string("result = ''"),
        std::string("result = '{\"limits\": [{\"fraction\": 1}]}'"),
        std::string("result = '{\"limits\": [1]}'"),
        std::string("result = '{\"states\": [{\"name\": 1}]}'"), "result = '" + deep + "'",
        std::string("status = 'well'")})
    EXPECT_NE(complaint_after("UPDATE designs SET " + sql + " WHERE number = 2")
                  .find("the design in row 2 is damaged"),
              std::string::npos)
        << sql.substr(0, 60);
}

}  // namespace
}  // namespace cw::cases
