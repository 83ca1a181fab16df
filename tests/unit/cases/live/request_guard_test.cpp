#include "cases/live/request_guard.hpp"

#include <gtest/gtest.h>

namespace cw::cases {
namespace {

// Property: only the browser that has the token, asks this machine by its own name and shows a page
// of this machine is answered. Source of the status codes: RFC 9110, 15.5.

const std::string token(64, 'a');

RequestGuard own_guard() {
  return {4711, token};
}

RequestHead allowed_head() {
  RequestHead head;
  head.method = "GET";
  head.path = "/";
  head.host = "127.0.0.1:4711";
  head.token = token;
  return head;
}

RequestHead allowed_change() {
  RequestHead head = allowed_head();
  head.method = "POST";
  head.path = "/change";
  head.origin = "http://127.0.0.1:4711";
  head.content_type = "application/json";
  head.content_length = 100;
  return head;
}

TEST(RequestGuard, LetsItsOwnPageAsk) {
  EXPECT_EQ(own_guard().refusal(allowed_head()), 0);
  EXPECT_EQ(own_guard().refusal(allowed_change()), 0);
  RequestHead head = allowed_head();
  head.host = "localhost:4711";
  EXPECT_EQ(own_guard().refusal(head), 0);
}

TEST(RequestGuard, RefusesWhoeverHasNotTheToken) {
  RequestHead head = allowed_head();
  for (const std::string& wrong :
       {std::string(), std::string("a"), std::string(63, 'a') + "b", std::string(65, 'a')}) {
    head.token = wrong;
    EXPECT_EQ(own_guard().refusal(head), 403) << wrong;
  }
  head.token.clear();
  EXPECT_EQ(RequestGuard(4711, "").refusal(head), 403);
}

TEST(RequestGuard, RefusesAnotherNameOfThisMachine) {
  RequestHead head = allowed_head();
  for (const char* wrong : {"", "127.0.0.1", "127.0.0.1:80", "example.org", "example.org:4711",
                            "127.0.0.1:4711.example.org", "127.0.0.2:4711", "[::1]:4711"}) {
    head.host = wrong;
    EXPECT_EQ(own_guard().refusal(head), 403) << wrong;
  }
}

TEST(RequestGuard, RefusesPagesFromElsewhere) {
  RequestHead head = allowed_change();
  for (const char* wrong : {"null", "http://example.org", "https://127.0.0.1:4711",
                            "http://127.0.0.1:80", "http://localhost:4711"}) {
    head.origin = wrong;
    EXPECT_EQ(own_guard().refusal(head), 403) << wrong;
  }
}

TEST(RequestGuard, AnswersOnlyUnderItsOwnPaths) {
  RequestHead head = allowed_head();
  for (const char* wrong :
       {"", "/..", "/../etc/passwd", "/events/..", "//", "/report/", "/case.toml", "/change"}) {
    head.path = wrong;
    EXPECT_EQ(own_guard().refusal(head), 403) << wrong;
  }
  head = allowed_change();
  for (const char* wrong : {"PUT", "DELETE", "OPTIONS", "GET", ""}) {
    head.method = wrong;
    EXPECT_EQ(own_guard().refusal(head), 403) << wrong;
  }
}

TEST(RequestGuard, LimitsTheBody) {
  RequestHead head = allowed_change();
  head.content_length = RequestGuard::largest_body;
  EXPECT_EQ(own_guard().refusal(head), 0);
  head.content_length = RequestGuard::largest_body + 1;
  EXPECT_EQ(own_guard().refusal(head), 413);
  head.content_length.reset();
  EXPECT_EQ(own_guard().refusal(head), 411);
  head = allowed_change();
  head.encoded = true;
  EXPECT_EQ(own_guard().refusal(head), 411);
  head = allowed_change();
  head.content_type = "text/plain";  // a form of another page may send it without asking
  EXPECT_EQ(own_guard().refusal(head), 403);
}

TEST(RequestGuard, FindsItsCookieAmongOthers) {
  const std::string name = own_guard().cookie_name();
  EXPECT_EQ(name, "coilwright-4711");
  EXPECT_EQ(cookie_in("coilwright-4711=abc", name), "abc");
  EXPECT_EQ(cookie_in("a=1; coilwright-4711=abc; b=2", name), "abc");
  EXPECT_EQ(cookie_in("coilwright-47110=abc; xcoilwright-4711=abc", name), "");
  EXPECT_EQ(cookie_in("", name), "");
}

TEST(RequestGuard, TokensAreLongAndDiffer) {
  const std::string one = random_token();
  EXPECT_EQ(one.size(), 64U);
  EXPECT_EQ(one.find_first_not_of("0123456789abcdef"), std::string::npos);
  EXPECT_NE(one, random_token());
}

}  // namespace
}  // namespace cw::cases
