#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "cases/complaint.hpp"
#include "cases/read/toml_tree.hpp"
#include "materials/units.hpp"

namespace cw::cases {

/// State while a tree is read: mistakes and places.
struct Reading {
  std::filesystem::path file;  ///< base of material paths
  std::vector<Complaint> complaints;
  Where where;
  std::vector<std::string> meant =
      {};  ///< keys that were mistyped: not to be reported as missing as well
  std::map<std::string, Material> materials = {};  ///< already read, by name or path as in the file
  NamedFiles files = {};                           ///< the files among them
  void complain(const std::string& key, std::string text);
};

/// A value with its dotted key and an example of a correct spelling, as after `=`.
struct Entry {
  std::string path;
  const Node& node;
  std::string_view sample;
};

enum class Need { required, optional };

/// One key of a table, and how it is read into T.
template <class T>
struct Key {
  std::string_view name;
  Need need;
  void (*read)(Reading&, const Entry&, T&);
  std::string_view sample;  ///< as after `=`
};
template <class T>
Key(std::string_view, Need, void (*)(Reading&, const Entry&, T&), std::string_view) -> Key<T>;

// ---- read one value; nothing, with a complaint, if it is not of the wanted kind --------------

std::optional<double> read_quantity(Reading& reading, const Entry& entry, Dimension dimension);
/// The diameter of a wire [m], from its length or its gauge.
std::optional<double> read_wire(Reading& reading, const Entry& entry);
std::optional<double> read_number(Reading& reading, const Entry& entry);
std::optional<int> read_whole(Reading& reading, const Entry& entry);
std::optional<std::string> read_text(Reading& reading, const Entry& entry);
std::optional<bool> read_truth(Reading& reading, const Entry& entry);
/// Index into `words`.
std::optional<std::size_t> read_choice(Reading& reading, const Entry& entry,
                                       std::span<const std::string_view> words);
/// A list of exactly two lengths.
std::optional<std::pair<double, double>> read_two_lengths(Reading& reading, const Entry& entry);
std::optional<std::array<double, 3>> read_three_lengths(Reading& reading, const Entry& entry);
/// A list of (r, z) pairs; reports every bad one.
std::optional<std::vector<Point>> read_corners(Reading& reading, const Entry& entry);

/// A list of (depth, temperature) pairs; reports every bad one.
std::optional<TemperatureProfile> read_temperatures(Reading& reading, const Entry& entry);

/// True if the entry is of this kind; else reports it.
bool is_table(Reading& reading, const Entry& entry);
bool is_list(Reading& reading, const Entry& entry);
/// Reports a key that is not in `names`.
void refuse_unknown(Reading& reading, const Entry& table, std::span<const std::string> names);
/// The value of this key, else of the first mistyped key that means it, so that mistakes inside are
/// reported as well; null if there is neither.
const Node* written(const Entry& table, std::string_view name, std::span<const std::string> names);
/// Reports that `name` is missing, unless a mistyped key means it.
void demand(Reading& reading, const Entry& table, std::string_view name, std::string_view sample);

/// Reports each of `names` that is present: "found pitch, but <reason>; remove it".
void forbid(Reading& reading, const Entry& table, std::span<const std::string_view> names,
            std::string_view reason);

/// `path.name`, or `name` at the top.
std::string dotted(std::string_view path, std::string_view name);

// ---- table-driven: a table of keys reads a table of the file --------------------------------

template <class T>
void read_table(Reading& reading, const Entry& entry, std::span<const Key<T>> keys, T& to) {
  if (!is_table(reading, entry)) return;
  std::vector<std::string> names;
  for (const Key<T>& key : keys) names.emplace_back(key.name);
  refuse_unknown(reading, entry, names);
  for (const Key<T>& key : keys) {
    const Node* found = written(entry, key.name, names);
    if (found == nullptr) {
      if (key.need == Need::required) demand(reading, entry, key.name, key.sample);
      continue;
    }
    const std::string path = dotted(entry.path, key.name);
    reading.where.at[path] = found->at;
    key.read(reading, {path, *found, key.sample}, to);
  }
}

namespace keys {

template <class>
struct Member;
template <class T, class V>
struct Member<V T::*> {
  using Owner = T;
};
template <auto M>
using Owner = typename Member<decltype(M)>::Owner;

template <class V, class From>
void assign(V& to, From&& from) {
  if constexpr (std::is_same_v<V, Temperature> || std::is_same_v<V, std::optional<Temperature>>) {
    to = Temperature{from};
  } else if constexpr (std::is_same_v<V, Frequency>) {
    to = Frequency{from};
  } else {
    to = std::forward<From>(from);
  }
}

template <auto M, Dimension D>
void quantity(Reading& reading, const Entry& entry, Owner<M>& to) {
  if (const auto value = read_quantity(reading, entry, D)) assign(to.*M, *value);
}

/// A member that takes the value of `Read` unchanged.
template <auto M, auto Read>
void plain(Reading& reading, const Entry& entry, Owner<M>& to) {
  if (auto value = Read(reading, entry)) to.*M = std::move(*value);
}
template <auto M>
inline constexpr auto wire = &plain<M, read_wire>;
template <auto M>
inline constexpr auto number = &plain<M, read_number>;
template <auto M>
inline constexpr auto whole = &plain<M, read_whole>;
template <auto M>
inline constexpr auto text = &plain<M, read_text>;
template <auto M>
inline constexpr auto truth = &plain<M, read_truth>;
template <auto M>
inline constexpr auto two_lengths = &plain<M, read_two_lengths>;
template <auto M>
inline constexpr auto three_lengths = &plain<M, read_three_lengths>;
template <auto M>
inline constexpr auto corners = &plain<M, read_corners>;
template <auto M>
inline constexpr auto temperatures = &plain<M, read_temperatures>;

/// `Words` is an array of texts in the order of the enumerators of E.
template <auto M, class E, const auto& Words>
void choice(Reading& reading, const Entry& entry, Owner<M>& to) {
  if (const auto index = read_choice(reading, entry, Words)) to.*M = static_cast<E>(*index);
}

/// A nested table read by the array of keys `Keys` into the member's type V.
template <auto M, class V, const auto& Keys>
void table(Reading& reading, const Entry& entry, Owner<M>& to) {
  V value{};
  read_table<V>(reading, entry, Keys, value);
  to.*M = std::move(value);
}

/// A list of tables, read by `Keys` into a vector of V.
template <auto M, class V, const auto& Keys>
void tables(Reading& reading, const Entry& entry, Owner<M>& to) {
  if (!is_list(reading, entry)) return;
  std::vector<V> all;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const std::string path = dotted(entry.path, std::to_string(i));
    reading.where.at[path] = entry.node.list[i].at;
    read_table<V>(reading, {path, entry.node.list[i], entry.sample}, Keys, all.emplace_back());
  }
  to.*M = std::move(all);
}

}  // namespace keys

}  // namespace cw::cases
