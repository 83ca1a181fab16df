#pragma once

#include <string>

namespace cw {

/// "sha256-..." of a script or a style sheet as it stands between its tags, as a page's
/// Content-Security-Policy names it. Source: W3C, Content Security Policy Level 3, 2.3.1.
std::string policy_hash(const std::string& text);

}  // namespace cw
