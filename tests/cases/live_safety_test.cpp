#include <arpa/inet.h>
#include <sys/socket.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "tests/cases/live_program.hpp"

namespace cw::live_test {
namespace {

using Clock = std::chrono::steady_clock;

/// A connection on which any bytes can be sent.
class RawConnection {
 public:
  explicit RawConnection(int port) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(static_cast<std::uint16_t>(port));
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    const timeval patience{60, 0};
    ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    open_ = ::connect(socket_, reinterpret_cast<const sockaddr*>(&to), sizeof to) == 0;
  }
  ~RawConnection() { ::close(socket_); }
  RawConnection(const RawConnection&) = delete;
  RawConnection& operator=(const RawConnection&) = delete;

  [[nodiscard]] bool is_open() const { return open_; }
  void say(const std::string& bytes) const {
    ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
  }
  /// What has arrived by now, at least a byte; empty at the end.
  [[nodiscard]] std::string some() const {
    std::string bytes(65536, '\0');
    const ssize_t count = ::recv(socket_, bytes.data(), bytes.size(), 0);
    bytes.resize(count > 0 ? static_cast<std::size_t>(count) : 0);
    return bytes;
  }
  /// The status of the reply; 0 without one.
  [[nodiscard]] int status() const {
    std::string reply;
    for (std::string part; reply.size() < 12 && !(part = some()).empty();) reply += part;
    return reply.starts_with("HTTP/1.1 ") ? std::stoi(reply.substr(9, 3)) : 0;
  }

 private:
  int socket_;
  bool open_ = false;
};

class LiveSafety : public LiveProgram {
 protected:
  void SetUp() override {
    LiveProgram::SetUp();
    host_ = "Host: 127.0.0.1:" + std::to_string(port_) + "\r\n";
    secret_ = "X-Coilwright-Token: " + token_ + "\r\n";
  }
  /// Status of the reply to a request without body.
  [[nodiscard]] int asked(const std::string& path, const std::string& heads) const {
    const RawConnection raw(port_);
    raw.say("GET " + path + " HTTP/1.1\r\n" + heads + "\r\n");
    return raw.status();
  }
  /// Server and overseers.
  [[nodiscard]] std::vector<pid_t> processes() const {
    std::vector<pid_t> all = children_of(process_);
    all.push_back(process_);
    return all;
  }
  /// Memory in use by them [MB]. Source: proc(5), VmRSS.
  [[nodiscard]] double memory() const {
    double sum = 0.0;
    for (const pid_t process : processes()) {
      const std::string status = bytes_in("/proc/" + std::to_string(process) + "/status");
      sum += std::stod(status.substr(status.find("VmRSS:") + 6)) / 1024.0;
    }
    return sum;
  }
  [[nodiscard]] std::size_t descriptors() const {
    const fs::path list = "/proc/" + std::to_string(process_) + "/fd";
    return static_cast<std::size_t>(
        std::distance(fs::directory_iterator(list), fs::directory_iterator()));
  }
  void change_often(int count) const {
    const std::string text = bytes_in(case_);
    for (int k = 0; k < count; ++k)
      ASSERT_TRUE(post("/change", {{"text", text + "# " + std::to_string(k) + "\n"}})
                      .value("mistakes", Json{1})
                      .empty());
  }
  [[nodiscard]] bool answers() const { return known().is_object(); }

  std::string host_, secret_;
};

// Property: two hundred changes, each of which ends the solution of the one before, leave the
// memory where it was, within 8 MB, and no process behind.
TEST_F(LiveSafety, ManyChangesLeaveNothingBehind) {
  change_often(50);
  const double before = memory();
  change_often(200);
  EXPECT_LT(memory(), before + 8.0);
  ASSERT_TRUE(post("/change", {{"text", "[coil]\n"}}).contains("mistakes"));
  const std::vector<pid_t> overseers = children_of(process_);
  EXPECT_EQ(overseers.size(), 3U);
  for (const pid_t overseer : overseers)
    EXPECT_TRUE(becomes_true([&] { return children_of(overseer).empty(); }));
}

// Property: of two hundred connections at once, each is answered or refused, and nobody is answered
// without the token.
TEST_F(LiveSafety, ManyConnectionsAtOnce) {
  constexpr int count = 200;
  std::atomic<int> served = 0, refused = 0, wrong = 0;
  std::vector<std::thread> threads;
  threads.reserve(count);
  for (int k = 0; k < count; ++k)
    threads.emplace_back([&, has_token = k % 2 == 0] {
      const int status = asked("/", host_ + (has_token ? secret_ : ""));
      if (status == 200 && has_token)
        ++served;
      else if (status == 403 && !has_token)
        ++refused;
      else
        ++wrong;
    });
  for (std::thread& thread : threads) thread.join();
  EXPECT_EQ(served, count / 2);
  EXPECT_EQ(refused, count / 2);
  EXPECT_EQ(wrong, 0);
  EXPECT_TRUE(answers());
}

// Property: two hundred connections on which nothing is said delay a request, and do not end the
// server.
TEST_F(LiveSafety, SilentConnections) {
  constexpr std::size_t count = 200;
  std::vector<std::unique_ptr<RawConnection>> silent;
  silent.reserve(count);
  for (std::size_t k = 0; k < count; ++k) silent.push_back(std::make_unique<RawConnection>(port_));
  EXPECT_TRUE(std::ranges::all_of(silent, [](const auto& one) { return one->is_open(); }));
  EXPECT_EQ(asked("/", host_ + secret_), 200);
}

// Property: a page of another origin, another name of this machine, no token and a path that leads
// out of the place are refused, whatever the bytes. Source of the status: RFC 9110, 15.5.4.
TEST_F(LiveSafety, RawStrangersAreRefused) {
  EXPECT_EQ(asked("/", host_ + secret_), 200);
  EXPECT_EQ(asked("/", host_), 403);
  EXPECT_EQ(asked("/events", host_), 403);
  EXPECT_EQ(asked("/events?token=" + token_, host_), 403);
  EXPECT_EQ(asked("/", secret_), 403);
  EXPECT_EQ(asked("/", "Host: example.org\r\n" + secret_), 403);
  EXPECT_EQ(asked("/events", "Host: example.org:" + std::to_string(port_) + "\r\n" + secret_), 403);
  EXPECT_EQ(asked("/events", host_ + secret_ + "Origin: http://example.org\r\n"), 403);
  for (const char* path : {"/../said", "/events/../../said", "/%2e%2e/said", "/..%2fsaid", "//said",
                           "/./said", "/said"})
    EXPECT_EQ(asked(path, host_ + secret_), 403) << path;
}

// Property: a body of 100 MB is refused by its length alone, with a status, before it is sent.
// Source of the status: RFC 9110, 15.5.14.
TEST_F(LiveSafety, ALargeBodyIsNotRead) {
  const double before = memory();
  const RawConnection raw(port_);
  raw.say("POST /change HTTP/1.1\r\n" + host_ + secret_ +
          "Content-Type: application/json\r\nContent-Length: 104857600\r\n\r\n{");
  EXPECT_EQ(raw.status(), 413);
  for (int k = 0; k < 100; ++k) raw.say(std::string(1 << 20, 'x'));
  EXPECT_LT(memory(), before + 8.0);
  EXPECT_TRUE(answers());
}

// Property: who goes away in the middle of a request or of a stream leaves no connection open in
// the server after ten seconds, and no thread waiting.
TEST_F(LiveSafety, ClientsThatGoAway) {
  const std::size_t before = descriptors();
  for (int k = 0; k < 40; ++k) {
    const RawConnection asking(port_), listening(port_);
    asking.say("POST /change HTTP/1.1\r\n" + host_ + secret_ +
               "Content-Type: application/json\r\nContent-Length: 1000\r\n\r\n{\"te");
    listening.say("GET /events HTTP/1.1\r\n" + host_ + secret_ + "\r\n");
    EXPECT_EQ(listening.status(), 200);
  }
  const auto gone = Clock::now();
  EXPECT_TRUE(becomes_true([&] { return descriptors() <= before; }));
  EXPECT_LT(Clock::now() - gone, std::chrono::seconds(10));
  EXPECT_TRUE(answers());
}

// Property: a stream too many closes the oldest, and only that; requests find a thread meanwhile.
TEST_F(LiveSafety, AStreamTooManyClosesTheOldest) {
  constexpr std::size_t most = 4;
  std::vector<std::unique_ptr<RawConnection>> streams;
  for (std::size_t k = 0; k <= most; ++k) {
    streams.push_back(std::make_unique<RawConnection>(port_));
    streams.back()->say("GET /events HTTP/1.1\r\n" + host_ + secret_ + "\r\n");
    EXPECT_EQ(streams.back()->status(), 200);
  }
  const auto is_closed_soon = [](const RawConnection& stream) {
    const auto begin = Clock::now();
    while (Clock::now() - begin < std::chrono::seconds(8))
      if (stream.some().empty()) return true;  // a stream in use says something every 3 seconds
    return false;
  };
  EXPECT_TRUE(is_closed_soon(*streams[0]));
  EXPECT_FALSE(is_closed_soon(*streams[1]));
  EXPECT_FALSE(is_closed_soon(*streams[most]));
  EXPECT_EQ(asked("/", host_ + secret_), 200);
}

}  // namespace
}  // namespace cw::live_test
