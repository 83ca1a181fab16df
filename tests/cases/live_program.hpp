#pragma once

#include <fcntl.h>
#include <gtest/gtest.h>
#include <httplib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

namespace cw::live_test {

namespace fs = std::filesystem;
using Json = nlohmann::json;

inline std::string bytes_in(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

template <class Condition>
bool becomes_true(const Condition& condition) {
  for (int k = 0; k < 12000; ++k) {  // ten minutes, when the test is given up anyway
    if (condition()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  return false;
}

/// Whether a process has ended, or is a zombie.
inline bool has_ended(pid_t process) {
  const std::string line = bytes_in("/proc/" + std::to_string(process) + "/stat");
  return line.empty() || line.substr(line.rfind(')') + 2, 1) == "Z";
}

inline std::vector<pid_t> children_of(pid_t process) {
  const std::string name = std::to_string(process);
  std::ifstream list("/proc/" + name + "/task/" + name + "/children");
  return {std::istream_iterator<pid_t>(list), {}};
}

/// The program in a process of its own, with a case in a folder of its own.
class LiveProgram : public testing::Test {
 protected:
  void SetUp() override {
    fs::create_directories(folder_);
    fs::copy_file(COILWRIGHT_EXAMPLES "/chisel-blank.toml", case_);
    process_ = ::fork();
    if (process_ == 0) {
      ::dup2(::open(said_.c_str(), O_CREAT | O_WRONLY, 0600), STDOUT_FILENO);
      const char* option = set_.empty() ? nullptr : set_.c_str();
      ::execl(COILWRIGHT_PROGRAM, "coilwright", "live", case_.c_str(), option, nullptr);
      ::_exit(127);
    }
    ASSERT_TRUE(
        becomes_true([&] { return bytes_in(said_).find("Ctrl-C ends") != std::string::npos; }));
    const std::string said = bytes_in(said_);
    const std::size_t host = said.find("127.0.0.1:") + 10, query = said.find("/?token=");
    port_ = std::stoi(said.substr(host, query - host));
    token_ = said.substr(query + 8, 64);
  }
  void TearDown() override {
    if (process_ > 0) {
      ::kill(process_, SIGKILL);
      ::waitpid(process_, nullptr, 0);
    }
    fs::remove_all(folder_);
  }

  [[nodiscard]] httplib::Client client() const {
    httplib::Client made("127.0.0.1", port_);
    made.set_default_headers({{"X-Coilwright-Token", token_}});
    return made;
  }
  [[nodiscard]] Json post(const char* path, const Json& body) const {
    const auto reply = client().Post(path, body.dump(), "application/json");
    return reply ? Json::parse(reply->body) : Json();
  }
  /// Reads the stream from its first event on, each as JSON, until `enough` says so.
  template <class Enough>
  void listen(const Enough& enough) const {
    std::string held;
    client().Get("/events", [&](const char* bytes, std::size_t count) {
      held.append(bytes, count);
      for (std::size_t end = 0; (end = held.find("\n\n")) != std::string::npos;) {
        const std::size_t data = held.find("data: ");
        if (data < end && enough(Json::parse(held.substr(data + 6, end - data - 6)))) return false;
        held.erase(0, end + 2);
      }
      return true;
    });
  }
  /// All that is known now.
  [[nodiscard]] Json known() const {
    Json all;
    listen([&](const Json& event) {
      all = event;
      return true;
    });
    return all;
  }
  /// Waits until everything is computed; the whole result.
  [[nodiscard]] Json settled() const {
    bool judged = false;
    listen([&](const Json& event) {
      judged = judged || event["parts"].contains("verdict");
      return judged && event["computing"].get<std::string>().empty();
    });
    const auto reply = client().Get("/result");
    return judged && reply ? Json::parse(reply->body) : Json();
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_live_page_" + std::to_string(::getpid()));
  fs::path case_ = folder_ / "chisel.toml", said_ = folder_ / "said";
  std::string set_;  ///< "--set=..."
  pid_t process_ = -1;
  int port_ = 0;
  std::string token_;
};

}  // namespace cw::live_test
