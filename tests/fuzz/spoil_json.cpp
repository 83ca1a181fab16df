#include "tests/fuzz/spoil_json.hpp"

#include <nlohmann/json.hpp>

namespace cw::fuzz {

namespace {

using Json = nlohmann::json;

/// All objects and lists that hold something.
void collect(Json& json, std::vector<Json*>& found) {
  if (!json.is_structured() || json.empty()) return;
  found.push_back(&json);
  for (Json& item : json) collect(item, found);
}

void change(Json& whole, std::mt19937& engine) {
  std::vector<Json*> places;
  collect(whole, places);
  if (places.empty()) return;
  const auto below = [&](std::size_t n) { return engine() % n; };
  Json& place = *places[below(places.size())];
  const auto item = std::next(place.begin(), static_cast<std::ptrdiff_t>(below(place.size())));
  static const std::vector<Json> strangers{
      0,       -1,   1e308,   1e-320, -0.5,          1000000000000,
      nullptr, "",   "\x1b[", "<b>&", Json::array(), Json::object(),
      true,    "ok", 1e9,     {1, 2}, {{"a", 1}},    "\xc2\x9b"};
  switch (below(5)) {
    case 0:
      place.erase(item);
      break;
    case 1:
      *item = strangers[below(strangers.size())];
      break;
    case 2:
      if (place.is_array())
        place.push_back(Json(*item));
      else
        place["<i>\x1b"] = Json(*item);
      break;
    case 3:
      *item = Json(*places[below(places.size())]);
      break;
    default:
      if (item->is_number())
        *item = -item->get<double>();
      else
        item->clear();
  }
}

}  // namespace

std::string spoil_json(const std::string& text, std::mt19937& engine) {
  Json json = Json::parse(text, nullptr, false);
  if (json.is_discarded()) return text;
  for (auto changes = 1 + engine() % 3; changes > 0; --changes) change(json, engine);
  return json.dump();
}

}  // namespace cw::fuzz
