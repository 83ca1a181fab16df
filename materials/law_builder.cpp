#include "materials/law_builder.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace cw {
namespace {

/// Ends of neighbouring pieces that differ by less than this [K] count as equal.
constexpr double same = 1e-6;

double celsius(double kelvin) {
  return kelvin - zero_celsius;
}

using Points = std::vector<std::pair<double, double>>;

Piece straight(std::pair<double, double> a, std::pair<double, double> b) {
  const double slope = (b.second - a.second) / (b.first - a.first);
  return {a.first, b.first, Piece::Form::polynomial, {a.second - slope * celsius(a.first), slope}};
}

void gather(const std::vector<LawBlock>& blocks, Points& points, std::vector<Piece>& pieces) {
  for (const LawBlock& block : blocks) {
    if (const Table* table = std::get_if<Table>(&block.shape)) {
      for (std::size_t i = 0; i < table->kelvin.size(); ++i) {
        points.emplace_back(table->kelvin[i], table->value[i]);
      }
    } else if (const auto* own = std::get_if<std::vector<Piece>>(&block.shape)) {
      pieces.insert(pieces.end(), own->begin(), own->end());
    }
  }
  std::sort(points.begin(), points.end());
  std::sort(pieces.begin(), pieces.end(),
            [](const Piece& a, const Piece& b) { return a.from < b.from; });
}

std::string fault(const Points& points, const std::vector<Piece>& pieces) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].first - points[i - 1].first < same) {
      return fmt::format(
          "found T = {:.6g} degC twice; allowed: one value for each temperature; leave one out",
          celsius(points[i].first));
    }
  }
  for (std::size_t i = 1; i < pieces.size(); ++i) {
    if (std::abs(pieces[i].from - pieces[i - 1].to) > same) {
      return fmt::format(
          "found a piece to {:.6g} degC followed by one from {:.6g} degC; allowed: pieces that "
          "meet; "
          "write from = \"{:.6g} degC\"",
          celsius(pieces[i - 1].to), celsius(pieces[i].from), celsius(pieces[i - 1].to));
    }
  }
  if (pieces.empty()) return {};
  for (const auto& [kelvin, value] : points) {
    if (kelvin > pieces.front().from - same && kelvin < pieces.back().to + same) {
      return fmt::format(
          "found T = {:.6g} degC inside the range of the formula, {:.6g} to {:.6g} degC; allowed: "
          "points outside it; leave this one out",
          celsius(kelvin), celsius(pieces.front().from), celsius(pieces.back().to));
    }
  }
  return {};
}

Table table_of(const Points& points) {
  Table table;
  for (const auto& [kelvin, value] : points) {
    table.kelvin.push_back(kelvin);
    table.value.push_back(value);
  }
  return table;
}

/// Adds linear pieces from point to point below and above the closed pieces.
std::vector<Piece> continued(const std::vector<Piece>& pieces, const Points& points) {
  Law closed;
  closed.shape = pieces;
  closed.lowest = pieces.front().from;
  closed.highest = pieces.back().to;
  const std::pair low(closed.lowest, closed(Temperature{closed.lowest}));
  const std::pair high(closed.highest, closed(Temperature{closed.highest}));
  std::vector<Piece> out;
  Points below, above{high};
  for (const auto& p : points) (p.first < low.first ? below : above).push_back(p);
  below.push_back(low);
  for (std::size_t i = 1; i < below.size(); ++i) out.push_back(straight(below[i - 1], below[i]));
  out.insert(out.end(), pieces.begin(), pieces.end());
  for (std::size_t i = 1; i < above.size(); ++i) out.push_back(straight(above[i - 1], above[i]));
  return out;
}

std::vector<Piece> as_pieces(const Law& law) {
  if (const auto* pieces = std::get_if<std::vector<Piece>>(&law.shape)) return *pieces;
  std::vector<Piece> out;
  if (const Table* table = std::get_if<Table>(&law.shape)) {
    for (std::size_t i = 1; i < table->kelvin.size(); ++i) {
      out.push_back(straight({table->kelvin[i - 1], table->value[i - 1]},
                             {table->kelvin[i], table->value[i]}));
    }
  }
  return out;
}

std::vector<Piece> split_at(const std::vector<Piece>& pieces, double kelvin) {
  std::vector<Piece> out;
  for (const Piece& p : pieces) {
    out.push_back(p);
    if (p.from + same < kelvin && kelvin < p.to - same) {
      out.back().to = kelvin;
      out.push_back(p);
      out.back().from = kelvin;
    }
  }
  return out;
}

}  // namespace

std::optional<Law> join(const std::vector<LawBlock>& blocks, std::string& complaint) {
  Law law;
  for (const LawBlock& block : blocks) {
    law.sources.push_back(block.source);
    law.uncertainty = std::max(law.uncertainty, block.uncertainty);
    if (const double* constant = std::get_if<double>(&block.shape)) {
      if (blocks.size() > 1) {
        complaint =
            "found a constant beside other data; allowed: one constant, or tables and formulas; "
            "write a table "
            "with its temperature";
        return std::nullopt;
      }
      law.shape = *constant;
      return law;
    }
  }
  Points points;
  std::vector<Piece> pieces;
  gather(blocks, points, pieces);
  complaint = fault(points, pieces);
  if (!complaint.empty() || (points.empty() && pieces.empty())) return std::nullopt;
  if (pieces.empty()) {
    law.lowest = points.front().first;
    law.highest = points.back().first;
    law.shape = table_of(points);
    return law;
  }
  pieces = continued(pieces, points);
  law.lowest = pieces.front().from;
  law.highest = pieces.back().to;
  law.shape = std::move(pieces);
  return law;
}

std::string fold_in(Law& heat_capacity, std::span<const Transformation> transformations) {
  constexpr double half_width = 5.0;
  for (const Transformation& change : transformations) {
    const double from = change.at.kelvin - half_width, to = change.at.kelvin + half_width;
    std::vector<Piece> pieces = as_pieces(heat_capacity);
    if (pieces.empty() || from < heat_capacity.lowest || to > heat_capacity.highest) {
      return fmt::format(
          "found a transformation at {:.6g} degC outside the heat capacity's data; allowed: a "
          "table or "
          "formula of heat_capacity that covers it by 5 K each way; extend heat_capacity",
          celsius(change.at.kelvin));
    }
    pieces = split_at(split_at(pieces, from), to);
    for (Piece& p : pieces) {
      // The first coefficient of every form is an additive constant.
      if (p.from > from - same && p.to < to + same)
        p.c.front() += change.latent / (2.0 * half_width);
    }
    heat_capacity.shape = std::move(pieces);
  }
  return {};
}

}  // namespace cw
