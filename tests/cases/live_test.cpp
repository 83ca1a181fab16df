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

#include "tests/shell.hpp"

namespace cw {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

std::string bytes_in(const fs::path& file) {
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
bool has_ended(pid_t process) {
  const std::string line = bytes_in("/proc/" + std::to_string(process) + "/stat");
  return line.empty() || line.substr(line.rfind(')') + 2, 1) == "Z";
}

/// The program in a process of its own, with a case in a folder of its own.
class Live : public testing::Test {
 protected:
  void SetUp() override {
    fs::create_directories(folder_);
    fs::copy_file(COILWRIGHT_EXAMPLES "/chisel-blank.toml", case_);
    process_ = ::fork();
    if (process_ == 0) {
      ::dup2(::open(said_.c_str(), O_CREAT | O_WRONLY, 0600), STDOUT_FILENO);
      ::execl(COILWRIGHT_PROGRAM, "coilwright", "live", case_.c_str(), nullptr);
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
  Json post(const char* path, const Json& body) const {
    const auto reply = client().Post(path, body.dump(), "application/json");
    return reply ? Json::parse(reply->body) : Json();
  }
  /// Waits until everything is computed; the whole result.
  [[nodiscard]] Json settled() const {
    const bool done = becomes_true([&] {
      const auto reply = client().Get("/answer?after=0");
      const Json answer = reply ? Json::parse(reply->body) : Json();
      return answer.is_object() && answer["computing"] == "" && answer["parts"].contains("verdict");
    });
    const auto reply = client().Get("/result");
    return done && reply ? Json::parse(reply->body) : Json();
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_live_page_" + std::to_string(::getpid()));
  fs::path case_ = folder_ / "chisel.toml", said_ = folder_ / "said";
  pid_t process_ = -1;
  int port_ = 0;
  std::string token_;
};

/// A result without what differs between two runs of the same case.
Json figures_alone(Json result) {
  for (const char* part : {"timing", "remedies", "commissioning", "case_sha256"})
    result.erase(part);
  if (result.contains("heat"))
    for (const char* further : {"stall_by_emissivity_K", "stall_by_gap_K"})
      result["heat"].erase(further);
  return result;
}

// Second method: the saved case solved by `coilwright run --accuracy fast`: every figure is the
// same, digit by digit, although an older change was being solved when the last one came.
TEST_F(Live, FiguresAreThoseOfARun) {
  const std::string text = bytes_in(case_);
  post("/change", {{"text", text}, {"key", "coil.turns"}, {"value", "12"}});
  const Json changed = post("/change", {{"text", text}, {"key", "coil.turns"}, {"value", "9"}});
  ASSERT_TRUE(changed.contains("text"));
  EXPECT_TRUE(changed["mistakes"].empty());
  const Json live = settled();
  ASSERT_TRUE(live.is_object());
  EXPECT_EQ(live["states"][0]["coil"]["turn_loss_W"].size(), 9U);
  EXPECT_EQ(bytes_in(case_), text);  // nothing is written until it is saved
  EXPECT_EQ(post("/save", {{"text", changed["text"]}})["saved"], "chisel.toml");
  EXPECT_EQ(bytes_in(case_), changed["text"].get<std::string>());
  const Shell run =
      shell("cd '" + folder_.string() +
            "' && '" COILWRIGHT_PROGRAM "' run chisel.toml --accuracy fast --json 2>/dev/null");
  ASSERT_EQ(run.code, 0) << run.text;
  EXPECT_EQ(figures_alone(live), figures_alone(Json::parse(run.text)));
}

// Property: mistakes come back with their line and nothing is solved; a file that another program
// changed is not overwritten.
TEST_F(Live, MistakesHaveTheirLine) {
  const Json answer = post("/change", {{"text", "[coil]\nturns = \"many\"\n"}});
  ASSERT_FALSE(answer["mistakes"].empty());
  EXPECT_EQ(answer["mistakes"].back()["line"], 2);
  const Json after = Json::parse(client().Get("/answer?after=0")->body);
  EXPECT_EQ(after["computing"], "");
  std::ofstream(case_) << "# another program was here\n";
  EXPECT_TRUE(post("/save", {{"text", "title = \"x\"\n"}}).contains("wrong"));
  EXPECT_EQ(bytes_in(case_), "# another program was here\n");
}

// Property: who has not the token is refused, however he asks; the page carries its policy.
TEST_F(Live, StrangersAreRefused) {
  httplib::Client stranger("127.0.0.1", port_);
  EXPECT_EQ(stranger.Get("/")->status, 403);
  EXPECT_EQ(stranger.Get("/?token=00")->status, 403);
  EXPECT_EQ(client().Get("/../said")->status, 403);
  EXPECT_EQ(client().Get("/", {{"Origin", "http://example.org"}})->status, 403);
  EXPECT_EQ(client().Post("/change", std::string(300 * 1024, 'x'), "application/json")->status,
            413);
  const auto page = stranger.Get("/?token=" + token_);
  ASSERT_EQ(page->status, 200);
  EXPECT_NE(page->get_header_value("Content-Security-Policy").find("default-src 'none'"),
            std::string::npos);
  const std::string cookie = page->get_header_value("Set-Cookie");
  EXPECT_EQ(stranger.Get("/", {{"Cookie", cookie.substr(0, cookie.find(';'))}})->status, 200);
}

// Property: Ctrl-C ends the program at once with exit code 130, while it solves, and its processes.
TEST_F(Live, CtrlCEndsIt) {
  std::ifstream list("/proc/" + std::to_string(process_) + "/task/" + std::to_string(process_) +
                     "/children");
  const std::vector<pid_t> children{std::istream_iterator<pid_t>(list), {}};
  EXPECT_EQ(children.size(), 2U);
  const auto before = std::chrono::steady_clock::now();
  ::kill(process_, SIGINT);
  int status = 0;
  ::waitpid(process_, &status, 0);
  process_ = -1;
  EXPECT_TRUE(WIFEXITED(status));
  EXPECT_EQ(WEXITSTATUS(status), 130);
  EXPECT_LT(std::chrono::steady_clock::now() - before, std::chrono::seconds(5));
  for (const pid_t child : children) EXPECT_TRUE(becomes_true([&] { return has_ended(child); }));
}

}  // namespace
}  // namespace cw
