#include "postproc/output/write_files.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_error.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

namespace fs = std::filesystem;

class ResultDirectory : public ::testing::Test {
 protected:
  ResultDirectory() { fs::create_directories(root_); }
  ~ResultDirectory() override { fs::remove_all(root_); }
  ResultDirectory(const ResultDirectory&) = delete;
  ResultDirectory& operator=(const ResultDirectory&) = delete;

  void write(const fs::path& directory) const {
    cw::write_result_directory(directory, {result_, {}, {}});
  }
  static void touch(const fs::path& path) { std::ofstream(path) << "mine\n"; }
  [[nodiscard]] std::size_t entries() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(root_), {}));
  }
  std::string refusal(const fs::path& directory) const {
    try {
      write(directory);
    } catch (const cw::WriteError& e) {
      return e.what();
    }
    return "";
  }

  fs::path root_ =
      fs::temp_directory_path() / ("result_directory_test_" + std::to_string(::getpid()));
  cw::Result result_ = cw::sample::result();
};

// Property: a run leaves result, tables, fields and pictures, and nothing beside its directory.
TEST_F(ResultDirectory, HoldsEverything) {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  const cw::PictureInput picture{mesh, field, "Bench check", 100.0};
  cw::write_result_directory(
      root_ / "new" / "out",
      {result_,
       {{"fixed_frequency", {mesh, field, std::vector<cw::RegionInfo>(mesh.region_name.size())}}},
       {{"field", picture}}});
  for (const char* file : {"result.json", "report.html", "tables/turns.csv", "tables/powers.csv",
                           "fields/fixed_frequency.vtu", "fields/fields.pvd",
                           "fields/view_fields.py", "pictures/field.svg", "pictures/field.png"}) {
    EXPECT_GT(fs::file_size(root_ / "new" / "out" / file), 0U) << file;
  }
  EXPECT_EQ(entries(), 1U);
}

// Property: a heater leaves the body to wind its coil on and its circuit; where a coil has no
// former and a drive no circuit the folder is not there.
TEST_F(ResultDirectory, HoldsWhatTheMakerUses) {
  result_ = cw::sample::full_result();
  write(root_ / "out");
  EXPECT_GT(fs::file_size(root_ / "out" / "making" / "former.stl"), 100'000U);
  EXPECT_GT(fs::file_size(root_ / "out" / "making" / "heater.cir"), 1'000U);
  result_.heater->coil.conductor.section = cw::RectangularBar{6e-3, 6e-3, {}};
  result_.heater->drive = cw::CurrentDrive{cw::Frequency{50e3}, 100.0};
  write(root_ / "out");  // over the first, whose files are ours
  EXPECT_TRUE(fs::exists(root_ / "out" / "result.json"));
  EXPECT_FALSE(fs::exists(root_ / "out" / "making"));
}

// Property: an earlier result of ours is replaced as a whole; a trailing slash changes nothing.
TEST_F(ResultDirectory, ReplacesItsOwn) {
  write(root_ / "out");
  fs::create_directory(root_ / "out" / "pictures");
  touch(root_ / "out" / "pictures" / "old.svg");
  write(root_ / "out/");
  EXPECT_FALSE(fs::exists(root_ / "out" / "pictures" / "old.svg"));
  EXPECT_TRUE(fs::exists(root_ / "out" / "result.json"));
  EXPECT_EQ(entries(), 1U);
}

// Property: an empty directory may be used.
TEST_F(ResultDirectory, UsesAnEmptyOne) {
  fs::create_directory(root_ / "out");
  write(root_ / "out");
  EXPECT_TRUE(fs::exists(root_ / "out" / "result.json"));
}

// Property: files of others stay: a file, a directory without our result, and our result with a
// note added.
TEST_F(ResultDirectory, KeepsForeignFiles) {
  touch(root_ / "file");
  EXPECT_NE(refusal(root_ / "file").find("is a file"), std::string::npos);
  fs::create_directory(root_ / "theirs");
  touch(root_ / "theirs" / "thesis.txt");
  EXPECT_NE(refusal(root_ / "theirs").find("holds no earlier result"), std::string::npos);
  touch(root_ / "theirs" / "result.json");
  EXPECT_NE(refusal(root_ / "theirs"), "");
  write(root_ / "out");
  touch(root_ / "out" / "notes.txt");
  EXPECT_NE(refusal(root_ / "out").find("notes.txt"), std::string::npos);
  EXPECT_TRUE(fs::exists(root_ / "theirs" / "thesis.txt"));
  EXPECT_TRUE(fs::exists(root_ / "out" / "notes.txt"));
  EXPECT_EQ(entries(), 3U);
}

// Property: after a failure half way the earlier result is intact and nothing half-written stays.
TEST_F(ResultDirectory, FailureChangesNothing) {
  write(root_ / "out");
  const auto fail = [](const fs::path& folder) {
    touch(folder / "result.json");
    throw cw::WriteError("the disk is full");
  };
  EXPECT_THROW(cw::replace_result_directory(root_ / "out", fail), cw::WriteError);
  EXPECT_THROW(cw::replace_result_directory(root_ / "fresh", fail), cw::WriteError);
  EXPECT_GT(fs::file_size(root_ / "out" / "result.json"), 100U);
  EXPECT_EQ(entries(), 1U);
}

// Property: a place where nothing can be made is one sentence with the path.
TEST_F(ResultDirectory, NamesTheObstacle) {
  touch(root_ / "file");
  const std::string message = refusal(root_ / "file" / "out");
  EXPECT_NE(message.find("file/out"), std::string::npos) << message;
}

}  // namespace
