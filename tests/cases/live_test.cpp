#include <chrono>
#include <csignal>
#include <fstream>
#include <string>

#include "tests/cases/live_program.hpp"
#include "tests/shell.hpp"

namespace cw::live_test {
namespace {

class Live : public LiveProgram {};

/// A result without what differs between two runs of the same case.
Json figures_alone(Json result) {
  for (const char* part : {"timing", "remedies", "commissioning", "case_sha256"})
    result.erase(part);
  if (result.contains("heat"))
    for (const char* further : {"stall_by_emissivity_K", "stall_by_gap_K"})
      result["heat"].erase(further);
  return result;
}

// Second method: the saved case solved by `coilwright run`: every figure is the
// same, digit by digit, although an older change was being solved when the last one came.
TEST_F(Live, FiguresAreThoseOfARun) {
  const std::string text = bytes_in(case_);
  ASSERT_TRUE(
      post("/change", {{"text", text}, {"key", "coil.turns"}, {"value", "12"}}).contains("text"));
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
            "' && '" COILWRIGHT_PROGRAM "' run chisel.toml --json 2>/dev/null");
  ASSERT_EQ(run.code, 0) << run.text;
  EXPECT_EQ(figures_alone(live), figures_alone(Json::parse(run.text)));
}

// Property: mistakes come back with their line and nothing is solved; a file that another program
// changed is not overwritten.
TEST_F(Live, MistakesHaveTheirLine) {
  const Json answer = post("/change", {{"text", "[coil]\nturns = \"many\"\n"}});
  ASSERT_FALSE(answer["mistakes"].empty());
  EXPECT_EQ(answer["mistakes"].back()["line"], 2);
  EXPECT_EQ(known()["computing"], "");
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
  const std::vector<pid_t> children = children_of(process_);
  EXPECT_EQ(children.size(), 3U);
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

class LiveWithValue : public LiveProgram {
 protected:
  LiveWithValue() { set_ = "--set=coil.turns=9"; }
};

// Property: the page begins with the values of --set in its text, and the file stays as it is.
TEST_F(LiveWithValue, BeginsWithIt) {
  const std::string before = bytes_in(case_);
  const auto page = client().Get("/");
  ASSERT_TRUE(page);
  EXPECT_NE(page->body.find("turns     = 9"), std::string::npos);
  EXPECT_NE(before.find("turns     = 8"), std::string::npos);
  EXPECT_EQ(bytes_in(case_), before);
}

// Property: a value that cannot be written into the text ends the command with exit code 2, and the
// message names each of them.
TEST(LiveValues, OneThatCannotBeWrittenIsNamed) {
  const Shell run = shell("'" COILWRIGHT_PROGRAM "' live '" COILWRIGHT_EXAMPLES
                          "/chisel-blank.toml' --set rings.0=1 --set nothing.here=2 2>&1");
  EXPECT_EQ(run.code, 2);
  for (const char* named : {"rings.0=1", "nothing.here=2", "cannot be written"})
    EXPECT_NE(run.text.find(named), std::string::npos) << run.text;
}

}  // namespace
}  // namespace cw::live_test
