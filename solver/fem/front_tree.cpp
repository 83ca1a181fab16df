#include "solver/fem/front_tree.hpp"

#include <algorithm>
#include <numeric>
#include <span>
#include <utility>

namespace cw {

namespace {

/// Compressed lists of numbers.
struct Lists {
  std::vector<int> start, item;

  [[nodiscard]] std::span<const int> of(int list) const {
    return std::span(item).subspan(start[list], start[list + 1] - start[list]);
  }
};

/// `each` calls its argument with every list and item, the same each time.
template <class Each>
Lists listed(int lists, const Each& each) {
  Lists l;
  l.start.assign(lists + 1, 0);
  each([&](int list, int) { ++l.start[list + 1]; });
  std::partial_sum(l.start.begin(), l.start.end(), l.start.begin());
  l.item.resize(l.start.back());
  std::vector<int> next(l.start.begin(), l.start.end() - 1);
  each([&](int list, int item) { l.item[next[list]++] = item; });
  return l;
}

/// For each column, the first column to which it is coupled once it is eliminated; -1 for the last
/// of a component. Source: J. W. H. Liu, ACM Trans. Math. Software 12 (1986) 127.
std::vector<int> elimination_tree(const Pattern& p) {
  std::vector<int> parent(p.size, -1), ancestor(p.size, -1);
  for (int column = 0; column < p.size; ++column)
    for (int k = p.column_start[column]; k < p.column_start[column + 1]; ++k) {
      int i = p.row[k];
      while (i != -1 && i < column) {
        const int next = ancestor[i];
        ancestor[i] = column;
        if (next == -1) parent[i] = column;
        i = next;
      }
    }
  return parent;
}

/// Position of each column in an order with children before parents, each subtree contiguous.
std::vector<int> postorder(const std::vector<int>& parent) {
  const auto n = static_cast<int>(parent.size());
  const auto above = [&](int j) { return parent[j] < 0 ? n : parent[j]; };
  std::vector<int> columns(n + 1, 1), end(n + 1, n), place(n);  // of subtrees; n: of all
  for (int j = 0; j < n; ++j) columns[above(j)] += columns[j];
  for (int j = n - 1; j >= 0; --j) {
    int& free = end[above(j)];
    place[j] = end[j] = free - 1;
    free -= columns[j];
  }
  return place;
}

/// Calls visit(k, a, b) with every entry of the pattern and the positions of its two unknowns, a <=
/// b.
template <class Visit>
void visit_entries(const Pattern& p, const std::vector<int>& place, const Visit& visit) {
  for (int column = 0; column < p.size; ++column)
    for (int k = p.column_start[column]; k < p.column_start[column + 1]; ++k) {
      const int a = place[p.row[k]], b = place[column];
      visit(k, std::min(a, b), std::max(a, b));
    }
}

/// The pattern with columns and rows by position: for each column the rows below the diagonal.
Lists below_diagonal(const Pattern& p, const std::vector<int>& place) {
  return listed(p.size, [&](auto visit) {
    visit_entries(p, place, [&](int, int column, int row) {
      if (column != row) visit(column, row);
    });
  });
}

/// Number of entries in each column of the factor below the diagonal. It goes row by row up the
/// tree, from every entry of the matrix to the first column that the row has already reached.
std::vector<int> column_counts(const Lists& below, const std::vector<int>& parent) {
  const auto n = static_cast<int>(parent.size());
  const Lists columns_of = listed(n, [&](auto visit) {
    for (int column = 0; column < n; ++column)
      for (const int row : below.of(column)) visit(row, column);
  });
  std::vector<int> count(n, 0), seen(n, -1);
  for (int row = 0; row < n; ++row) {
    seen[row] = row;
    for (const int column : columns_of.of(row))
      for (int j = column; seen[j] != row; j = parent[j]) {
        seen[j] = row;
        ++count[j];
      }
  }
  return count;
}

/// A group of columns, while groups are being merged.
struct Group {
  int first, pivots, rows;
  std::size_t zeros;  ///< stored
};

/// Columns with the same rows below.
std::vector<Group> groups_of(const std::vector<int>& count, const std::vector<int>& parent) {
  std::vector<Group> groups;
  const auto n = static_cast<int>(parent.size());
  for (int j = 0; j < n; ++j) {
    const bool same = j > 0 && parent[j - 1] == j && count[j - 1] == count[j] + 1;
    if (same) {
      ++groups.back().pivots;
    } else {
      groups.push_back({j, 1, count[j] + 1, 0});
    }
  }
  return groups;
}

std::size_t panel(std::size_t pivots, std::size_t rows) {
  return pivots * rows - pivots * (pivots - 1) / 2;
}

Group join(const Group& child, const Group& g) {
  const int columns = child.pivots + g.pivots, rows = child.pivots + g.rows;
  return {child.first, columns, rows,
          panel(columns, rows) - panel(child.pivots, child.rows) - panel(g.pivots, g.rows) +
              child.zeros + g.zeros};
}

/// Whether this is better than the two groups of which it was merged: the more columns, the fewer
/// zeros it may have to store.
bool worth_joining(const Group& g) {
  constexpr int always = 8, often = 16, sometimes = 48;
  if (g.pivots <= always) return true;
  const double share = static_cast<double>(g.zeros) / static_cast<double>(panel(g.pivots, g.rows));
  return share < (g.pivots <= often ? 0.5 : g.pivots <= sometimes ? 0.15 : 0.05);
}

/// Merges neighbours in the tree if that is worthwhile.
std::vector<FrontTree::Front> join_groups(const std::vector<Group>& groups,
                                          const std::vector<int>& parent) {
  std::vector<Group> joined;
  for (Group g : groups) {
    // A child that ends where its parent begins is the last group before it.
    while (!joined.empty() && parent[g.first - 1] == g.first) {
      const Group both = join(joined.back(), g);
      if (!worth_joining(both)) break;
      g = both;
      joined.pop_back();
    }
    joined.push_back(g);
  }
  std::vector<FrontTree::Front> fronts(joined.size());
  for (std::size_t s = 0; s < fronts.size(); ++s) {
    fronts[s].first = joined[s].first;
    fronts[s].pivots = joined[s].pivots;
  }
  return fronts;
}

std::vector<int> owners_of_columns(const FrontTree& tree) {
  std::vector<int> front_of;
  for (std::size_t s = 0; s < tree.fronts.size(); ++s)
    front_of.insert(front_of.end(), tree.fronts[s].pivots, static_cast<int>(s));
  return front_of;
}

std::span<const int> rows_of(const FrontTree& tree, const FrontTree::Front& f) {
  return std::span(tree.row).subspan(f.row_at, f.rows);
}

/// Rows of each front, and with them its parent: own columns, then rows of the matrix and of its
/// children below them.
void find_rows(FrontTree& tree, const Lists& below, const std::vector<int>& front_of) {
  std::vector<std::vector<int>> children(tree.fronts.size());
  std::vector<int> seen(tree.size, -1), rows;
  for (int s = 0; s < static_cast<int>(tree.fronts.size()); ++s) {
    FrontTree::Front& f = tree.fronts[s];
    const int end = f.first + f.pivots;
    rows.clear();
    const auto take = [&](std::span<const int> some) {
      for (const int r : some)
        if (r >= end && std::exchange(seen[r], s) != s) rows.push_back(r);
    };
    for (int j = f.first; j < end; ++j) take(below.of(j));
    for (const int c : children[s]) take(rows_of(tree, tree.fronts[c]));
    std::sort(rows.begin(), rows.end());
    f.row_at = tree.row.size();
    f.rows = f.pivots + static_cast<int>(rows.size());
    for (int j = f.first; j < end; ++j) tree.row.push_back(j);
    tree.row.insert(tree.row.end(), rows.begin(), rows.end());
    if (rows.empty()) continue;
    f.parent = front_of[rows.front()];
    children[f.parent].push_back(s);
  }
}

/// Positions of the contiguous panels, and the largest size that waits for parents at one time.
void lay_out(FrontTree& tree) {
  constexpr int register_width = 8;
  std::size_t waiting = 0;
  std::vector<std::size_t> for_front(tree.fronts.size(), 0);
  for (std::size_t s = 0; s < tree.fronts.size(); ++s) {
    FrontTree::Front& f = tree.fronts[s];
    f.at = tree.values;
    f.stride = (f.rows + register_width - 1) / register_width * register_width;
    tree.values += static_cast<std::size_t>(f.pivots) * f.stride;
    const std::size_t square = static_cast<std::size_t>(f.left()) * f.left();
    waiting += square;
    tree.stack = std::max(tree.stack, waiting);
    waiting -= for_front[s];
    if (f.parent >= 0) for_front[f.parent] += square;
  }
}

/// Both lists of rows rise, and the parent has all rows that the child passes on.
void find_rows_in_parents(FrontTree& tree) {
  tree.in_parent.assign(tree.row.size(), -1);
  for (const FrontTree::Front& f : tree.fronts) {
    if (f.parent < 0) continue;
    const std::span<const int> rows = rows_of(tree, f),
                               above = rows_of(tree, tree.fronts[f.parent]);
    std::size_t at = 0;
    for (int k = f.pivots; k < f.rows; ++k) {
      while (above[at] != rows[k]) ++at;
      tree.in_parent[f.row_at + k] = static_cast<int>(at);
    }
  }
}

}  // namespace

FrontTree::FrontTree(const Pattern& pattern) : size(pattern.size) {
  const std::vector<int> by_number = elimination_tree(pattern), place = postorder(by_number);
  order.resize(size);
  std::vector<int> parent(size, -1);
  for (int i = 0; i < size; ++i) {
    order[place[i]] = i;
    if (by_number[i] >= 0) parent[place[i]] = place[by_number[i]];
  }
  const Lists below = below_diagonal(pattern, place);
  fronts = join_groups(groups_of(column_counts(below, parent), parent), parent);
  const std::vector<int> front_of = owners_of_columns(*this);
  find_rows(*this, below, front_of);
  lay_out(*this);
  find_rows_in_parents(*this);
  places.resize(pattern.entries());
  visit_entries(pattern, place, [&](int k, int column, int r) {
    const Front& f = fronts[front_of[column]];
    const auto rows = row.begin() + static_cast<std::ptrdiff_t>(f.row_at);
    const auto at = r < f.first + f.pivots
                        ? r - f.first
                        : std::lower_bound(rows + f.pivots, rows + f.rows, r) - rows;
    places[k] = f.at + static_cast<std::size_t>(column - f.first) * f.stride + at;
  });
}

}  // namespace cw
