#include "postproc/result/read_result.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "postproc/result/nesting.hpp"
#include "postproc/result/read_bytes.hpp"
#include "postproc/result/result_keys.hpp"
#include "postproc/result/sound_result.hpp"
#include "postproc/result/write_result.hpp"

namespace cw {

namespace {

using Json = nlohmann::json;

/// The value found in a file, short enough for a message.
std::string excerpt(const Json& json) {
  if (json.is_structured()) return json.is_array() ? "a list" : "an object";
  std::string text = json.dump();
  if (text.size() > 40) text = text.substr(0, 37) + "...";
  return text;
}

/// Passes the values of one JSON object to the members that keys() lists.
class Reader {
 public:
  Reader(const Json& json, std::string place) : json_(json), place_(std::move(place)) {
    if (!json.is_object()) refuse(place_, "an object", json);
  }

  template <class T>
  void operator()(const char* key, T& value) {
    const auto found = json_.find(key);
    if (found == json_.end())
      throw ResultFileError(
          fmt::format("{} is missing; the file is damaged or of another version.", path(key)));
    fetch(*found, path(key), value);
  }

  template <class T>
  void operator()(const char* key, std::optional<T>& value) {
    value.reset();
    if (json_.contains(key)) fetch(json_[key], path(key), value.emplace());
  }

  template <class T>
  void count(const char* key, std::vector<T>& items) {
    std::int64_t number = 0;
    (*this)(key, number);
    // Larger counts are impossible for a coil; the following columns must have this length.
    if (number < 0 || number > 100000) refuse(path(key), "a count", json_[key]);
    items.assign(static_cast<std::size_t>(number), T{});
  }

  template <class T>
  void column(const char* key, std::vector<T>& items, double T::*member) {
    std::vector<double> values;
    (*this)(key, values);
    if (values.size() != items.size())
      throw ResultFileError(fmt::format("{} has {} numbers where {} are needed.", path(key),
                                        values.size(), items.size()));
    for (std::size_t i = 0; i < items.size(); ++i) items[i].*member = values[i];
  }

  /// The other lines are in a table of their own.
  template <class T>
  void last(const char* key, std::vector<T>& items) {
    items.clear();
    if (json_.contains(key)) fetch(json_[key], path(key), items.emplace_back());
  }

  /// Computed from other members, but also in the file.
  void derived(const char* key, const auto& /*value*/) {
    double unused = 0.0;
    (*this)(key, unused);
  }

  /// Computed from other members.
  void cautions(const char* /*key*/, Result& /*result*/) {}

 private:
  [[nodiscard]] std::string path(const std::string& key) const {
    return place_.ends_with(": ") ? place_ + key : fmt::format("{}.{}", place_, key);
  }

  [[noreturn]] static void refuse(const std::string& place, const char* wanted, const Json& found) {
    throw ResultFileError(fmt::format("{} is {}; it must be {}.", place, excerpt(found), wanted));
  }

  static void fetch(const Json& json, const std::string& place, double& value) {
    // Beyond this no quantity is plausible, and sums and squares would overflow.
    constexpr double most = 1e30;
    if (!json.is_number()) refuse(place, "a number", json);
    value = json.get<double>();
    if (!(std::abs(value) <= most)) refuse(place, "a number within 1e30", json);
  }
  static void fetch(const Json& json, const std::string& place, bool& value) {
    if (!json.is_boolean()) refuse(place, "true or false", json);
    value = json.get<bool>();
  }
  static void fetch(const Json& json, const std::string& place, std::int64_t& value) {
    if (!json.is_number_integer()) refuse(place, "a whole number", json);
    value = json.get<std::int64_t>();
  }
  static void fetch(const Json& json, const std::string& place, int& value) {
    std::int64_t wide = 0;
    fetch(json, place, wide);
    if (wide < std::numeric_limits<int>::min() || wide > std::numeric_limits<int>::max())
      refuse(place, "a smaller whole number", json);
    value = static_cast<int>(wide);
  }
  static void fetch(const Json& json, const std::string& place, std::string& value) {
    if (!json.is_string()) refuse(place, "text in quotes", json);
    value = json.get<std::string>();
  }
  static void fetch(const Json& json, const std::string& place, Frequency& value) {
    fetch(json, place, value.hertz);
  }
  static void fetch(const Json& json, const std::string& place, Temperature& value) {
    fetch(json, place, value.kelvin);
  }
  static void fetch(const Json& json, const std::string& place, SourceNote& value) {
    fetch(json, place, value.source);
  }
  template <WrittenAsWord T>
  static void fetch(const Json& json, const std::string& place, T& value) {
    std::string word;
    fetch(json, place, word);
    constexpr auto words = words_for(T{});
    const auto* const found = std::ranges::find(words, word);
    if (found == words.end())
      refuse(place, fmt::format("one of {}", fmt::join(words, ", ")).c_str(), json);
    value = static_cast<T>(found - words.begin());
  }

  template <class T>
  static void fetch(const Json& json, const std::string& place, std::vector<T>& items) {
    if (!json.is_array()) refuse(place, "a list", json);
    items.clear();
    for (const Json& item : json) {
      T value{};
      fetch(item, fmt::format("{}[{}]", place, items.size()), value);
      items.push_back(std::move(value));
    }
  }

  template <class T>
  static void fetch(const Json& json, const std::string& place, std::map<std::string, T>& items) {
    if (!json.is_object()) refuse(place, "an object", json);
    items.clear();
    for (const auto& [name, item] : json.items())
      fetch(item, fmt::format("{}.{}", place, name), items[name]);
  }

  template <class T>
  static void fetch(const Json& json, const std::string& place, T& part) {
    Reader inner(json, place);
    keys(inner, part);
  }

  const Json& json_;
  std::string place_;
};

Json parsed(const std::string& text, const std::string& name) {
  if (json_nesting(text) > deepest_json)
    throw ResultFileError(
        fmt::format("{}: found lists or objects nested deeper than {}; allowed: what `coilwright "
                    "run` writes; run the case again.",
                    name, deepest_json));
  try {
    return Json::parse(text);
  } catch (const Json::exception& error) {
    // "[json.exception.parse_error.101] parse error at line 3, column 9: ..." without its number
    const std::string what = error.what();
    const std::size_t start = what.find("] ");
    throw ResultFileError(
        fmt::format("{}: not readable as JSON, {}. The run was cut short or the "
                    "file changed since; run the case again.",
                    name, start == std::string::npos ? what : what.substr(start + 2)));
  }
}

/// Results of other versions are refused: an earlier one lacks what only a run can find (the
/// verdict, what would help, temperatures of every body), and a later one may have another meaning.
void require_format(const Json& json, const std::string& name) {
  const Json found = json.is_object() ? json.value("format", Json()) : Json();
  if (found == result_format) return;
  const std::string_view family =
      std::string_view(result_format).substr(0, std::string_view(result_format).rfind('-') + 1);
  if (!found.is_string() || !found.get<std::string>().starts_with(family))
    throw ResultFileError(fmt::format(
        "{}: no \"format\": \"{}\" in it; it is no result of this program, or of another "
        "version.",
        name, result_format));
  throw ResultFileError(fmt::format(
      "{}: found \"format\": {}, of another version of the program; allowed: \"{}\"; run the case "
      "again into the same directory, `coilwright run CASE.toml --out {}`",
      name, excerpt(found), result_format, std::filesystem::path(name).parent_path().string()));
}

}  // namespace

Result read_result(const std::string& text, const std::string& name) {
  const Json json = parsed(text, name);
  require_format(json, name);
  Result result;
  Reader file(json, name + ": ");
  keys(file, result);
  if (result.heater && result.heater->coil.shape == CoilShape::rings && !result.states.empty())
    for (const TurnResult& turn : result.states.front().coil.turns)
      result.heater->coil.rings.push_back({turn.r, turn.z});
  require_sound(result, name);
  return result;
}

Result read_result_directory(const std::filesystem::path& directory) {
  const std::filesystem::path path = directory / "result.json";
  const auto text = read_bytes(path);
  if (!text)
    throw ResultFileError(fmt::format(
        "{}: cannot be read; give the directory that `coilwright run` left.", path.string()));
  return read_result(*text, path.string());
}

}  // namespace cw
