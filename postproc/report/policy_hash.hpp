#pragma once

#include <string>

namespace cw {

/// "sha256-..." of a script or a style sheet, exactly as it is between its tags, for a page's
/// Content-Security-Policy. Source: W3C, Content Security Policy Level 3, 2.3.1.
std::string policy_hash(const std::string& text);

}  // namespace cw
