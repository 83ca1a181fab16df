#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace cw::cases {

/// What a request says before its body is read. An empty text: the request does not say it.
struct RequestHead {
  std::string method, path;  ///< path without its query
  std::string host, origin;
  std::string token;         ///< from the header, the cookie or, for the first page, the query
  std::string content_type;  ///< of the body
  std::optional<std::uint64_t> content_length;  ///< [byte]
  bool encoded = false;                         ///< the body is chunked or compressed
};

/// Who may ask the page of a case: the browser that opened the printed address, and nobody else.
class RequestGuard {
 public:
  /// The largest body [byte].
  static constexpr std::uint64_t largest_body = 256 * std::uint64_t{1024};

  RequestGuard(int port, std::string token);

  /// The HTTP status with which the request is refused; 0: it may pass. A name of the machine other
  /// than 127.0.0.1 or localhost is refused, since a foreign name may be made to lead here.
  /// Source: RFC 9110, 15.5: 403 forbidden, 411 length required, 413 content too large.
  [[nodiscard]] int refusal(const RequestHead& head) const;

  /// The address to open, with the token.
  [[nodiscard]] std::string address() const;
  /// Name of the cookie: cookies do not tell ports apart, so that the port is part of it.
  [[nodiscard]] std::string cookie_name() const;
  [[nodiscard]] const std::string& token() const { return token_; }

 private:
  int port_;
  std::string token_;
};

/// The value of a cookie in the header of that name; empty if there is none.
std::string cookie_in(std::string_view header, std::string_view name);

/// 256 random bits from the system as 64 hexadecimal digits. Throws std::runtime_error without
/// them.
std::string random_token();

}  // namespace cw::cases
