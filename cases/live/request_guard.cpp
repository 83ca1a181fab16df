#include "cases/live/request_guard.hpp"

#include <fmt/format.h>
#include <sys/random.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

namespace cw::cases {

namespace {

using Route = std::pair<std::string_view, std::string_view>;

constexpr std::array<Route, 10> routes{{{"GET", "/"},
                                        {"GET", "/events"},
                                        {"GET", "/result"},
                                        {"GET", "/report"},
                                        {"GET", "/sweep"},
                                        {"GET", "/starters"},
                                        {"POST", "/change"},
                                        {"POST", "/save"},
                                        {"POST", "/report"},
                                        {"POST", "/sweep"}}};

/// Takes the same time wherever the two differ.
bool same_secret(std::string_view one, std::string_view other) {
  if (one.size() != other.size()) return false;
  unsigned differ = 0;
  for (std::size_t i = 0; i < one.size(); ++i)
    differ |= static_cast<unsigned char>(one[i]) ^ static_cast<unsigned char>(other[i]);
  return differ == 0;
}

}  // namespace

RequestGuard::RequestGuard(int port, std::string token) : port_(port), token_(std::move(token)) {}

int RequestGuard::refusal(const RequestHead& head) const {
  constexpr int forbidden = 403, length_required = 411, too_large = 413;
  const bool own_host = head.host == fmt::format("127.0.0.1:{}", port_) ||
                        head.host == fmt::format("localhost:{}", port_);
  if (!own_host || (!head.origin.empty() && head.origin != "http://" + head.host)) return forbidden;
  if (token_.empty() || !same_secret(head.token, token_)) return forbidden;
  if (std::ranges::find(routes, Route(head.method, head.path)) == routes.end()) return forbidden;
  if (head.content_length.value_or(0) > largest_body) return too_large;
  if (head.encoded) return length_required;
  if (head.method != "POST") return 0;
  if (!head.content_length) return length_required;
  return head.content_type.starts_with("application/json") ? 0 : forbidden;
}

std::string RequestGuard::address() const {
  return fmt::format("http://127.0.0.1:{}/?token={}", port_, token_);
}

std::string RequestGuard::cookie_name() const {
  return fmt::format("coilwright-{}", port_);
}

std::string cookie_in(std::string_view header, std::string_view name) {
  while (!header.empty()) {
    const std::size_t end = std::min(header.find(';'), header.size());
    std::string_view pair = header.substr(0, end);
    pair.remove_prefix(std::min(pair.find_first_not_of(' '), pair.size()));
    if (pair.starts_with(name) && pair.substr(name.size()).starts_with('='))
      return std::string(pair.substr(name.size() + 1));
    header.remove_prefix(std::min(end + 1, header.size()));
  }
  return {};
}

std::string random_token() {
  std::array<unsigned char, 32> bytes{};
  if (::getrandom(bytes.data(), bytes.size(), 0) != static_cast<ssize_t>(bytes.size()))
    throw std::runtime_error("the system gives no random numbers for the address of the page");
  std::string text;
  for (const unsigned char byte : bytes) text += fmt::format("{:02x}", byte);
  return text;
}

}  // namespace cw::cases
