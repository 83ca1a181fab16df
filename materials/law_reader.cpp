#include "materials/law_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "materials/law_builder.hpp"

namespace cw {
namespace {

struct Form {
  std::string_view name;
  Piece::Form form;
  std::size_t least, most;  ///< permitted length of c
};
constexpr std::array forms = {Form{"polynomial", Piece::Form::polynomial, 1, 12},
                              Form{"pole", Piece::Form::pole, 3, 3},
                              Form{"shomate", Piece::Form::shomate, 5, 5}};

/// The coefficients; empty after a complaint.
std::vector<double> coefficients(const EntrySection& s, const Form& form) {
  const Entry* c = s.need("c", "c = [ .. ]");
  if (c == nullptr) return {};
  std::vector<double> out;
  if (c->list() != nullptr) {
    for (const Entry& item : *c->list()) {
      if (item.number() != nullptr && std::isfinite(*item.number())) out.push_back(*item.number());
    }
  }
  if (c->list() == nullptr || out.size() != c->list()->size() || out.size() < form.least ||
      out.size() > form.most) {
    s.fault(*c, "c",
            fmt::format("allowed for the form {}: a list of {} to {} finite plain numbers",
                        form.name, form.least, form.most));
    return {};
  }
  return out;
}

std::optional<Piece> piece(const EntrySection& s) {
  s.only({"from", "to", "form", "c"});
  const std::size_t before = s.mistakes.found.size();
  Piece p{temperature(s, "from").kelvin, temperature(s, "to").kelvin, Piece::Form::polynomial, {}};
  const Entry* name = s.need("form", "form = \"polynomial\"");
  const auto* form = std::find_if(forms.begin(), forms.end(), [&](const Form& f) {
    return name != nullptr && name->text() != nullptr && f.name == *name->text();
  });
  if (form == forms.end()) {
    if (name != nullptr) {
      s.fault(*name, "form",
              fmt::format(
                  "found \"{}\"; allowed: polynomial, pole, shomate; write form = \"polynomial\"",
                  name->text() != nullptr ? *name->text() : std::string(name->kind())));
    }
    return std::nullopt;
  }
  p.form = form->form;
  p.c = coefficients(s, *form);
  if (s.mistakes.found.size() != before) return std::nullopt;
  if (p.to <= p.from) {
    s.fault(*s.get("to"), "to",
            "is not above from; allowed: a rising range; write the higher temperature here");
    return std::nullopt;
  }
  if (p.form == Piece::Form::pole && p.from <= p.c[2] + zero_celsius &&
      p.c[2] + zero_celsius <= p.to) {
    s.fault(
        *s.get("c"), "c",
        fmt::format("has its pole at {:g} degC, inside the range; allowed: outside it", p.c[2]));
    return std::nullopt;
  }
  return p;
}

std::vector<Piece> pieces(const EntrySection& s, const Entry& entry) {
  std::vector<Piece> out;
  if (!entry.tables()) {
    s.fault(entry, "pieces",
            fmt::format("found {}; allowed: a list of tables; write [ {{ from = \"20 degC\", to = "
                        "\"600 degC\", form = \"polynomial\", c = [425, 0.773] }} ]",
                        entry.kind()));
    return out;
  }
  for (const Entry& item : *entry.list()) {
    if (auto p = piece(s.inside("pieces", item))) out.push_back(std::move(*p));
  }
  return out;
}

Table table(const EntrySection& s, Dimension dimension) {
  Table out{column(s, "T", "T_unit", {Dimension::temperature}),
            column(s, "value", "unit", {dimension})};
  if (out.kelvin.empty() || out.value.empty()) return {};
  if (out.kelvin.size() != out.value.size()) {
    s.fault(*s.get("value"), "value",
            fmt::format("found {} values for {} temperatures; allowed: one for each",
                        out.value.size(), out.kelvin.size()));
  }
  for (std::size_t i = 1; i < out.kelvin.size(); ++i) {
    if (out.kelvin[i] > out.kelvin[i - 1]) continue;
    s.fault(
        (*s.get("T")->list())[i], "T",
        fmt::format(
            "found {:.6g} degC after {:.6g} degC; allowed: rising temperatures; put them in order",
            out.kelvin[i] - zero_celsius, out.kelvin[i - 1] - zero_celsius));
  }
  return out;
}

LawBlock block(const EntrySection& s, Dimension dimension) {
  s.only({"T", "T_unit", "value", "unit", "pieces", "uncertainty", "source", "provenance"});
  LawBlock out;
  out.source = source_of(s);
  if (const Entry* u = s.get("uncertainty")) {
    out.uncertainty =
        quantity(s, "uncertainty", *u, {Dimension::number, 0.0, true, 1.0}).value_or(0.0);
  }
  if (const Entry* p = s.get("pieces")) {
    out.shape = pieces(s, *p);
  } else if (s.get("T") != nullptr) {
    out.shape = table(s, dimension);
  } else {
    out.shape = quantity(s, "value", {dimension}).value_or(1.0);
  }
  return out;
}

std::vector<LawBlock> blocks(const EntrySection& s, std::string_view key, const Entry& entry,
                             Dimension dimension) {
  std::vector<LawBlock> out;
  if (entry.table() != nullptr) {
    out.push_back(block(s.inside(key, entry), dimension));
  } else if (entry.tables()) {
    for (const Entry& item : *entry.list()) out.push_back(block(s.inside(key, item), dimension));
  } else if (dimension == Dimension::resistivity && entry.text() != nullptr &&
             *entry.text() == "insulator") {
    out.push_back({std::numeric_limits<double>::infinity(), 0.0, s.source});
  } else {
    out.push_back({quantity(s, key, entry, {dimension}).value_or(1.0), 0.0, s.source});
  }
  return out;
}

/// A temperature at which a law is not positive, if there is one; formulas are also checked between
/// their ends.
std::optional<Temperature> not_positive(const Law& law) {
  constexpr int looks = 500;
  for (int i = 0; i <= looks; ++i) {
    const Temperature t{law.lowest + (law.highest - law.lowest) * i / looks};
    if (!(law(t) > 0.0)) return t;
  }
  return std::nullopt;
}

}  // namespace

Law read_law(const EntrySection& s, std::string_view key, Dimension dimension) {
  const Entry* entry = s.need(key, fmt::format("{} = \"{}\"", key, example(dimension)));
  if (entry == nullptr) return {};
  const std::size_t before = s.mistakes.found.size();
  const std::vector<LawBlock> found = blocks(s, key, *entry, dimension);
  if (s.mistakes.found.size() != before) return {};
  std::string complaint;
  auto law = join(found, complaint);
  if (!law) {
    s.fault(*entry, key, complaint);
    return {};
  }
  if (const auto bad = not_positive(*law)) {
    s.fault(*entry, key,
            fmt::format("is {:.4g} at {:.4g} degC; allowed: more than 0 over its whole range",
                        (*law)(*bad), bad->in_celsius()));
  }
  return *law;
}

}  // namespace cw
