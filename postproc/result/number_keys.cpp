#include <utility>

#include "postproc/result/result_figures.hpp"
#include "postproc/result/result_keys.hpp"

namespace cw {

namespace {

/// Collects from keys() the keys of everything that is, or may be, a number.
class Lister {
 public:
  Lister(std::string path, std::vector<std::string>& all) : path_(std::move(path)), all_(all) {}

  template <class T>
  void operator()(const char* key, const T& value) {
    list(below(key), value);
  }
  template <class T>
  void operator()(const char* key, const std::optional<T>&) {
    list(below(key), T{});
  }
  template <class T>
  void count(const char* key, const std::vector<T>&) {
    all_.push_back(below(key));
  }
  template <class T>
  void column(const char* key, const std::vector<T>&, double T::*) {
    all_.push_back(below(key) + ".*");
  }
  template <class T>
  void last(const char* key, const std::vector<T>&) {
    list(below(key), T{});
  }
  void derived(const char* key, const auto&) { all_.push_back(below(key)); }
  void cautions(const char*, const Result&) {}

 private:
  [[nodiscard]] std::string below(const char* key) const {
    return path_.empty() ? key : path_ + "." + key;
  }
  template <class T>
  void list(const std::string& path, const T& value) {
    constexpr bool number =
        std::is_arithmetic_v<T> || std::same_as<T, Frequency> || std::same_as<T, Temperature>;
    constexpr bool words =
        std::same_as<T, std::string> || WrittenAsWord<T> || std::same_as<T, SourceNote>;
    if constexpr (number) {
      all_.push_back(path);
    } else if constexpr (!words) {
      Lister inner(path, all_);
      keys(inner, value);
    }
  }
  template <class T>
  void list(const std::string& path, const std::vector<T>&) {
    list(path + ".*", T{});
  }
  template <class T>
  void list(const std::string& path, const std::map<std::string, T>&) {
    list(path + ".*", T{});
  }

  std::string path_;
  std::vector<std::string>& all_;
};

}  // namespace

std::vector<std::string> number_keys() {
  std::vector<std::string> all;
  Lister lister("", all);
  const Result result;
  keys(lister, result);
  return all;
}

bool fits(std::string_view key, std::string_view pattern) {
  const std::size_t star = pattern.find('*');
  if (star == std::string_view::npos) return key == pattern;
  if (!key.starts_with(pattern.substr(0, star))) return false;
  // The part that the star represents may contain dots.
  for (std::size_t end = star + 1; end <= key.size(); ++end)
    if (fits(key.substr(end), pattern.substr(star + 1))) return true;
  return false;
}

}  // namespace cw
