#pragma once

#include <clocale>
#include <locale>
#include <string>

namespace cw {

/// Sets decimal points while it exists, whatever locale the program has chosen: VTK prints some
/// attributes with the global locale. Changes process-wide state: not for two threads at once.
class ClassicLocale {
 public:
  ClassicLocale()
      : c_(std::setlocale(LC_NUMERIC, nullptr)), cpp_(std::locale::global(std::locale::classic())) {
    std::setlocale(LC_NUMERIC, "C");
  }
  ~ClassicLocale() {
    std::locale::global(cpp_);
    std::setlocale(LC_NUMERIC, c_.c_str());
  }
  ClassicLocale(const ClassicLocale&) = delete;
  ClassicLocale& operator=(const ClassicLocale&) = delete;

 private:
  std::string c_;
  std::locale cpp_;
};

}  // namespace cw
