#include "materials/entry_section.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "materials/library.hpp"
#include "materials/nearest.hpp"
#include "materials/one_line.hpp"

namespace cw {
namespace {

std::string shown_range(Want want) {
  std::string out = fmt::format("{} {:g}", want.or_equal ? "at least" : "more than", want.above);
  if (want.most < std::numeric_limits<double>::infinity())
    out += fmt::format(" and at most {:g}", want.most);
  if (want.dimension != Dimension::number) out += fmt::format(" {}", si_unit(want.dimension));
  return out;
}

std::string shown_example(Want want) {
  const std::string_view text = want.show.empty() ? example(want.dimension) : want.show;
  return want.dimension == Dimension::number ? std::string(text) : fmt::format("\"{}\"", text);
}

/// A quantity in its range, or a complaint.
Parsed checked(const std::string& written, Want want) {
  Parsed parsed = parse_quantity(written, want.dimension);
  if (!parsed.value) return parsed;
  const double v = *parsed.value;
  if (v > want.above || (want.or_equal && v == want.above)) {
    if (v <= want.most) return parsed;
  }
  return {std::nullopt, fmt::format("found \"{}\"; allowed: {}; write for example {}", written,
                                    shown_range(want), shown_example(want))};
}

std::string as_written(const Entry& entry) {
  return entry.number() != nullptr ? fmt::format("{}", *entry.number()) : *entry.text();
}

}  // namespace

void Mistakes::add(int line, int column, std::string_view key, std::string_view sentence) {
  found.emplace_back(std::pair(line, column),
                     one_line(fmt::format("{}:{}:{}: {}: {}", file, line, column, key, sentence)));
}

void Mistakes::throw_if_any() {
  if (found.empty()) return;
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::string all;
  for (const auto& [at, line] : found) {
    if (!all.empty()) all += '\n';
    all += line;
  }
  throw MaterialError(all);
}

bool Entry::tables() const {
  const List* items = list();
  return items != nullptr && !items->empty() &&
         std::all_of(items->begin(), items->end(),
                     [](const Entry& e) { return e.table() != nullptr; });
}

std::string_view Entry::kind() const {
  constexpr std::string_view names[] = {"a value of another type", "a number", "a text", "a list",
                                        "a table"};
  return names[value.index()];
}

const Entry* EntrySection::get(std::string_view key) const {
  for (const Member& m : *entry.table()) {
    if (m.key == key) return &m.entry;
  }
  return nullptr;
}

const Entry* EntrySection::need(std::string_view key, std::string_view write) const {
  const Entry* found = get(key);
  if (found == nullptr)
    fault(entry, key, fmt::format("found nothing; this key is needed; write {}", write));
  return found;
}

EntrySection EntrySection::inside(std::string_view key, const Entry& table) const {
  return {table, path.empty() ? std::string(key) : fmt::format("{}.{}", path, key), mistakes,
          source};
}

void EntrySection::only(const std::vector<std::string>& known) const {
  for (const Member& m : *entry.table()) {
    if (std::find(known.begin(), known.end(), m.key) != known.end()) continue;
    const auto near = nearest(m.key, known);
    const std::string write =
        near ? fmt::format("write \"{}\"", *near) : std::string("leave it out");
    mistakes.add(m.line, m.column, path.empty() ? m.key : fmt::format("{}.{}", path, m.key),
                 fmt::format("unknown key; allowed: {}; {}", fmt::join(known, ", "), write));
  }
}

void EntrySection::fault(const Entry& at, std::string_view key, std::string_view sentence) const {
  mistakes.add(at.line, at.column,
               path.empty() ? std::string(key) : fmt::format("{}.{}", path, key), sentence);
}

std::optional<std::string> text(const EntrySection& s, std::string_view key) {
  const Entry* entry = s.get(key);
  if (entry == nullptr) return std::nullopt;
  if (entry->text() != nullptr && !entry->text()->empty()) {
    if (one_line(*entry->text()) == *entry->text()) return *entry->text();
    s.fault(*entry, key,
            "found control characters in the text; allowed: printable characters on one line; "
            "remove them");
    return std::nullopt;
  }
  s.fault(*entry, key,
          fmt::format("found {}; allowed: a text in quotes; write {} = \"...\"",
                      entry->text() != nullptr ? "an empty text" : entry->kind(), key));
  return std::nullopt;
}

Source source_of(const EntrySection& s) {
  Source source = s.source;
  if (const auto t = text(s, "source")) source = {*t, "user"};
  if (const auto p = text(s, "provenance")) {
    // Earlier material files have "memory" for recalled values.
    source.provenance = *p == "memory" ? recalled_unchecked : *p;
    if (*p != "read" && source.provenance != recalled_unchecked && *p != "user") {
      s.fault(*s.get("provenance"), "provenance",
              fmt::format("found \"{}\"; allowed: \"read\", \"{}\", \"user\"; write \"user\"", *p,
                          recalled_unchecked));
    }
  }
  return source;
}

std::optional<double> quantity(const EntrySection& s, std::string_view key, const Entry& entry,
                               Want want) {
  if (entry.number() == nullptr && entry.text() == nullptr) {
    s.fault(entry, key,
            fmt::format("found {}; allowed: a quantity; write {} = {}", entry.kind(), key,
                        shown_example(want)));
    return std::nullopt;
  }
  // A bare number goes to the same reader: it is accepted as a plain number, or gets the message
  // about its unit.
  Parsed parsed = checked(as_written(entry), want);
  if (!parsed.value) s.fault(entry, key, parsed.complaint);
  return parsed.value;
}

std::optional<double> quantity(const EntrySection& s, std::string_view key, Want want) {
  const Entry* entry = s.need(key, fmt::format("{} = {}", key, shown_example(want)));
  return entry != nullptr ? quantity(s, key, *entry, want) : std::nullopt;
}

Temperature temperature(const EntrySection& s, std::string_view key, std::string_view show) {
  const Want want{.dimension = Dimension::temperature, .show = show};
  return {quantity(s, key, want).value_or(0.0)};
}

Sourced sourced_here(const EntrySection& s, Want want) {
  Sourced out;
  out.source = source_of(s);
  const auto value = quantity(s, "value", want);
  const Entry* low = s.get("low");
  const Entry* high = s.get("high");
  out.value = value.value_or(0.0);
  out.low = low != nullptr ? quantity(s, "low", *low, want).value_or(out.value) : out.value;
  out.high = high != nullptr ? quantity(s, "high", *high, want).value_or(out.value) : out.value;
  if (value && (out.low > out.value || out.high < out.value)) {
    s.fault(*s.get("value"), "value",
            "lies outside its own band; allowed: low <= value <= high; correct low or high");
  }
  return out;
}

Sourced sourced(const EntrySection& s, std::string_view key, Want want) {
  const Entry* entry = s.need(key, fmt::format("{} = {}", key, shown_example(want)));
  if (entry == nullptr) return {};
  if (entry->table() != nullptr) {
    const EntrySection inner = s.inside(key, *entry);
    inner.only({"value", "low", "high", "source", "provenance"});
    return sourced_here(inner, want);
  }
  const double value = quantity(s, key, *entry, want).value_or(0.0);
  return {value, value, value, s.source};
}

std::vector<double> column(const EntrySection& s, std::string_view key, std::string_view unit_key,
                           Want want) {
  const Entry* entry = s.need(key, fmt::format("{} = [ .. ]", key));
  if (entry == nullptr) return {};
  if (entry->list() == nullptr || entry->list()->empty()) {
    s.fault(*entry, key,
            fmt::format("found {}; allowed: a list of one value or more; write {} = [ .. ]",
                        entry->list() != nullptr ? "an empty list" : entry->kind(), key));
    return {};
  }
  const auto unit = text(s, unit_key);
  std::vector<double> out;
  for (const Entry& item : *entry->list()) {
    Entry full = item;
    if (item.number() != nullptr && want.dimension != Dimension::number) {
      if (!unit) {
        s.fault(item, key,
                fmt::format(
                    "found a number without a unit; allowed: quantities in quotes, or numbers with "
                    "their unit given once; write {} = \"{}\"",
                    unit_key,
                    want.dimension == Dimension::temperature ? "degC" : si_unit(want.dimension)));
        return {};
      }
      full.value = fmt::format("{} {}", *item.number(), *unit);
    }
    const auto value = quantity(s, key, full, want);
    if (!value) return {};
    out.push_back(*value);
  }
  return out;
}

}  // namespace cw
