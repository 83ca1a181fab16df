#pragma once

#include <string>

namespace cw::cases {

/// The page, with style and script inside.
struct LivePage {
  std::string html;
  std::string policy;  ///< its Content-Security-Policy
};

/// The page for a case with this name of its file. It asks for everything else once it is open.
LivePage live_page(const std::string& file_name, const std::string& text);

}  // namespace cw::cases
