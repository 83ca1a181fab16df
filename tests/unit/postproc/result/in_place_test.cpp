#include "postproc/result/in_place.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <fstream>
#include <iterator>

#include "postproc/result/write_error.hpp"

namespace cw {
namespace {

namespace fs = std::filesystem;

class InPlace : public testing::Test {
 protected:
  void SetUp() override { fs::create_directories(root_); }
  void TearDown() override { fs::remove_all(root_); }

  [[nodiscard]] static std::string read(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }
  [[nodiscard]] std::ptrdiff_t entries() const {
    return std::distance(fs::directory_iterator(root_), {});
  }
  /// Runs it in this many processes at once; returns how many of them failed.
  static int at_once(int processes, const std::function<void(int)>& what) {
    for (int k = 0; k < processes; ++k) {
      if (::fork() != 0) continue;
      try {
        what(k);
      } catch (const std::exception&) {
        ::_exit(1);
      }
      ::_exit(0);
    }
    int failed = 0;
    for (int status = 0; ::wait(&status) > 0;) failed += status == 0 ? 0 : 1;
    return failed;
  }

  fs::path root_ =
      fs::temp_directory_path() / ("coilwright_in_place_test_" + std::to_string(::getpid()));
};

// Property: a symbolic link at the name is replaced, what it points at stays as it was.
TEST_F(InPlace, NeverWritesThroughALink) {
  std::ofstream(root_ / "victim") << "mine";
  fs::create_symlink(root_ / "victim", root_ / "file");
  replace_file(root_ / "file", "new");
  EXPECT_EQ(read(root_ / "victim"), "mine");
  EXPECT_FALSE(fs::is_symlink(root_ / "file"));
  EXPECT_EQ(read(root_ / "file"), "new");
  EXPECT_EQ(entries(), 2);
}

// Property: if a file reaches a size limit, as on a full disk, the earlier one stays and no other
// file is left, and the message says both.
TEST_F(InPlace, AFullDiskKeepsTheEarlierFile) {
  replace_file(root_ / "file", "whole");
  rlimit before{};
  ::getrlimit(RLIMIT_FSIZE, &before);
  const rlimit small{1000, before.rlim_max};
  ::setrlimit(RLIMIT_FSIZE, &small);
  const auto handler = std::signal(SIGXFSZ, SIG_IGN);
  std::string message;
  try {
    replace_file(root_ / "file", std::string(5000, 'x'));
  } catch (const WriteError& error) {
    message = error.what();
  }
  ::setrlimit(RLIMIT_FSIZE, &before);
  std::signal(SIGXFSZ, handler);
  EXPECT_NE(message.find((root_ / "file").string() + ": could not be written: "), std::string::npos)
      << message;
  EXPECT_NE(message.find("the earlier one stays"), std::string::npos) << message;
  EXPECT_EQ(read(root_ / "file"), "whole");
  EXPECT_EQ(entries(), 1);
}

// Property: many processes at one name, file and directory: none fails, the last one's is whole,
// nothing stays beside it.
TEST_F(InPlace, ManyAtOnce) {
  const auto text = [](int k) { return std::string(100000, static_cast<char>('a' + k)); };
  const int failed = at_once(8, [&](int k) {
    for (int round = 0; round < 20; ++round) {
      replace_file(root_ / "file", text(k));
      Fresh fresh(root_ / "folder", Fresh::Kind::directory);
      write_file(fresh.path() / "one", text(k));
      write_file(fresh.path() / "two", text(k));
      fresh.put();
    }
  });
  EXPECT_EQ(failed, 0);
  const std::string left = read(root_ / "file");
  EXPECT_EQ(left, text(left.at(0) - 'a'));
  EXPECT_EQ(read(root_ / "folder/one").size(), 100000U);
  EXPECT_EQ(read(root_ / "folder/one"), read(root_ / "folder/two"));
  EXPECT_EQ(entries(), 2);
}

// Property: files of a killed program are removed by the next one, whatever its process; files that
// are locked, or only have a similar name, stay.
TEST_F(InPlace, RemovesLeftoversAndKeepsFilesInUse) {
  fs::create_directories(root_ / ".out.part-00000000000a/fields");
  std::ofstream(root_ / ".out.part-00000000000b") << "half";
  const fs::path living = root_ / ".out.part-00000000000c";
  fs::create_directory(living);
  const int lock = ::open(living.c_str(), O_RDONLY | O_DIRECTORY);
  ASSERT_EQ(::flock(lock, LOCK_EX), 0);
  std::ofstream(root_ / ".out.part-of-mine") << "mine";
  std::ofstream(root_ / ".other.part-00000000000a") << "of another";
  replace_file(root_ / "out", "new");
  ::close(lock);
  EXPECT_FALSE(fs::exists(root_ / ".out.part-00000000000a"));
  EXPECT_FALSE(fs::exists(root_ / ".out.part-00000000000b"));
  EXPECT_TRUE(fs::exists(living));
  EXPECT_EQ(entries(), 4);
}

// Property: a program killed during this holds no lock: the next one removes its file.
TEST_F(InPlace, AKilledProgramHoldsNoLock) {
  const pid_t process = ::fork();
  if (process == 0) {
    const Fresh fresh(root_ / "out", Fresh::Kind::directory);
    ::raise(SIGKILL);
  }
  ::waitpid(process, nullptr, 0);
  EXPECT_EQ(entries(), 1);
  { const Fresh next(root_ / "out", Fresh::Kind::directory); }
  EXPECT_EQ(entries(), 0);
}

volatile std::sig_atomic_t entries_at_signal = -1;
fs::path seen;

// Property: a signal that ends the program takes effect after the temporary file is removed, and
// further files of a directory are not written.
TEST_F(InPlace, SignalsLeaveNothingHalfWritten) {
  seen = root_;
  const auto handler = std::signal(SIGINT, [](int) {
    entries_at_signal =
        static_cast<int>(std::distance(fs::directory_iterator(seen), fs::directory_iterator()));
  });
  try {
    const Fresh fresh(root_ / "out", Fresh::Kind::directory);
    ::raise(SIGINT);
    EXPECT_EQ(entries_at_signal, -1);
    write_file(fresh.path() / "file", "text");
    ADD_FAILURE() << "written although it was to stop";
  } catch (const WriteError&) {
    EXPECT_EQ(entries_at_signal, 0);
  }
  std::signal(SIGINT, handler);
}

}  // namespace
}  // namespace cw
