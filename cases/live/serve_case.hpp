#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace cw::cases {

/// A case to begin with.
struct LiveStarter {
  std::string name, title, text;
};

struct LiveOptions {
  std::filesystem::path file;  ///< where the text belongs
  std::string text;
  int port = 0;  ///< 0: any free one
  std::vector<LiveStarter> starters = {};
};

/// Serves the page of a case on 127.0.0.1 until a signal ends the program. `ready` gets its
/// address. Call it before any thread is started. Throws CaseError if the port is in use.
void serve_case(const LiveOptions& options, const std::function<void(const std::string&)>& ready);

}  // namespace cw::cases
