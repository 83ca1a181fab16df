#include "postproc/result/write_result.hpp"

#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "postproc/result/cautions.hpp"
#include "postproc/result/result_keys.hpp"

namespace cw {

namespace {

using OrderedJson = nlohmann::ordered_json;

/// Writes the members that keys() lists into one JSON object.
class Writer {
 public:
  template <class T>
  void operator()(const char* key, const T& value) {
    json_[key] = json_of(value);
  }

  template <class T>
  void operator()(const char* key, const std::optional<T>& value) {
    if (value) json_[key] = json_of(*value);
  }

  template <class T>
  void count(const char* key, const std::vector<T>& items) {
    json_[key] = items.size();
  }

  template <class T>
  void column(const char* key, const std::vector<T>& items, double T::*member) {
    OrderedJson& list = json_[key] = OrderedJson::array();
    for (const T& item : items) list.push_back(item.*member);
  }

  template <class T>
  void last(const char* key, const std::vector<T>& items) {
    if (!items.empty()) json_[key] = json_of(items.back());
  }

  void derived(const char* key, const auto& value) { json_[key] = value(); }

  void cautions(const char* key, const Result& result) {
    OrderedJson& list = json_[key] = OrderedJson::array();
    for (const auto& caution : cw::cautions(result)) list.push_back(caution.text);
  }

  template <class T>
  static OrderedJson json_of(const T& part) {
    Writer inner;
    keys(inner, part);
    return std::move(inner.json_);
  }

  OrderedJson json_ = OrderedJson::object();

 private:
  static OrderedJson json_of(double value) { return value; }
  static OrderedJson json_of(bool value) { return value; }
  static OrderedJson json_of(int value) { return value; }
  static OrderedJson json_of(std::int64_t value) { return value; }
  static OrderedJson json_of(const std::string& value) { return value; }
  static OrderedJson json_of(Frequency value) { return value.hertz; }
  static OrderedJson json_of(Temperature value) { return value.kelvin; }
  template <WrittenAsWord T>
  static OrderedJson json_of(const T& value) {
    return words_for(value)[static_cast<std::size_t>(value)];
  }

  static OrderedJson json_of(const SourceNote& note) {
    const std::string text =
        note.of.empty() ? note.source : fmt::format("{}: {}", note.of, note.source);
    return note.provenance.empty() ? text : fmt::format("{} ({})", text, note.provenance);
  }

  template <class T>
  static OrderedJson json_of(const std::vector<T>& items) {
    OrderedJson list = OrderedJson::array();
    for (const T& item : items) list.push_back(json_of(item));
    return list;
  }

  template <class T>
  static OrderedJson json_of(const std::map<std::string, T>& items) {
    OrderedJson object = OrderedJson::object();
    for (const auto& [name, item] : items) object[name] = json_of(item);
    return object;
  }
};

/// nlohmann-json would write null for infinity and NaN, and a script would fail far from the cause.
void require_finite(const OrderedJson& json, const std::string& key) {
  if (json.is_number_float() && !std::isfinite(json.get<double>())) {
    throw std::logic_error(fmt::format("result key {} is not a finite number", key));
  }
  if (!json.is_structured()) return;
  for (const auto& [name, value] : json.items()) {
    require_finite(value, key.empty() ? name : fmt::format("{}.{}", key, name));
  }
}

}  // namespace

std::string result_json(const Result& result) {
  Writer file;
  file("format", std::string(result_format));
  keys(file, result);
  require_finite(file.json_, "");
  // Text from a case file may contain bytes that are not UTF-8; they become U+FFFD and cause no
  // exception.
  return file.json_.dump(2, ' ', false, OrderedJson::error_handler_t::replace) + "\n";
}

}  // namespace cw
