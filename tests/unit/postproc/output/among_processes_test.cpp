#include "postproc/output/among_processes.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <new>

#include "postproc/result/write_error.hpp"

namespace cw {
namespace {

namespace fs = std::filesystem;
using AmongTasks = std::vector<std::function<void()>>;

class AmongProcesses : public testing::Test {
 protected:
  void SetUp() override { fs::create_directories(folder_); }
  void TearDown() override { fs::remove_all(folder_); }
  /// A task that leaves a file with the number of its process.
  std::function<void()> leaves(int name) {
    return [path = folder_ / std::to_string(name)] {
      std::ofstream(path, std::ios::app) << ::getpid() << '\n';
    };
  }
  static int lines(const fs::path& path) {
    std::ifstream in(path);
    int count = 0;
    for (std::string line; std::getline(in, line);) ++count;
    return count;
  }
  fs::path folder_ = fs::temp_directory_path() / ("among-" + std::to_string(::getpid()));
};

// Every task is done, each once.
TEST_F(AmongProcesses, DoTheTasksOnce) {
  AmongTasks tasks;
  for (int k = 0; k < 50; ++k) tasks.push_back(leaves(k));
  among_processes(tasks);
  for (int k = 0; k < 50; ++k) EXPECT_EQ(lines(folder_ / std::to_string(k)), 1) << k;
}

// The message of a failing task is reported, whichever process ran it, and no further task begins.
TEST_F(AmongProcesses, FailureArrives) {
  const fs::path begun = folder_ / "begun";
  const AmongTasks tasks(500, [=] {
    std::ofstream(begun, std::ios::app) << "x\n";
    throw WriteError("the disk is full");
  });
  try {
    among_processes(tasks);
    FAIL() << "nothing thrown";
  } catch (const WriteError& error) {
    EXPECT_STREQ(error.what(), "the disk is full");
  }
  EXPECT_GE(lines(begun), 1);
  EXPECT_LE(lines(begun), ::sysconf(_SC_NPROCESSORS_ONLN));
}

// A failure in another process than this one arrives as well.
TEST_F(AmongProcesses, FailureOfAnotherProcessArrives) {
  const pid_t own = ::getpid();
  const fs::path there = folder_ / "there";
  const auto task = [=](bool memory) {
    return [=] {
      if (::getpid() != own) {
        std::ofstream(there) << "x";
        if (memory) throw std::bad_alloc();
        throw WriteError("no room");
      }
      for (int k = 0; k < 6000 && !fs::exists(there); ++k) ::usleep(10'000);
    };
  };
  if (::sysconf(_SC_NPROCESSORS_ONLN) < 2) GTEST_SKIP() << "one processor";
  EXPECT_THROW(among_processes(AmongTasks(2, task(false))), WriteError);
  fs::remove(there);
  EXPECT_THROW(among_processes(AmongTasks(2, task(true))), std::bad_alloc);
}

// A killed process is reported.
TEST_F(AmongProcesses, DeathArrives) {
  if (::sysconf(_SC_NPROCESSORS_ONLN) < 2) GTEST_SKIP() << "one processor";
  const pid_t own = ::getpid();
  const fs::path there = folder_ / "there";
  const auto task = [=] {
    if (::getpid() != own) {
      std::ofstream(there) << "x";
      ::_exit(77);
    }
    for (int k = 0; k < 6000 && !fs::exists(there); ++k) ::usleep(10'000);
  };
  EXPECT_THROW(among_processes(AmongTasks(2, task)), WriteError);
}

}  // namespace
}  // namespace cw
