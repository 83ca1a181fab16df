#include "solver/fem/front_tree.hpp"

#include <algorithm>
#include <numeric>

namespace cw {

namespace {

/// Compressed lists of numbers.
struct Lists {
  std::vector<int> start, item;
};

/// The column each column is first coupled to once it is eliminated; -1 for the last of a part.
/// Source: J. W. H. Liu, ACM Trans. Math. Software 12 (1986) 127.
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

/// Children before parents, each subtree in one piece; columns by place.
std::vector<int> postorder(const std::vector<int>& parent) {
  const auto n = static_cast<int>(parent.size());
  std::vector<int> first_child(n, -1), sibling(n, -1), roots, order;
  for (int j = n - 1; j >= 0; --j) {
    if (parent[j] < 0) {
      roots.push_back(j);
      continue;
    }
    sibling[j] = first_child[parent[j]];
    first_child[parent[j]] = j;
  }
  order.reserve(parent.size());
  std::vector<int> path;
  for (auto root = roots.rbegin(); root != roots.rend(); ++root) {
    path.push_back(*root);
    while (!path.empty()) {
      int& child = first_child[path.back()];
      if (child < 0) {
        order.push_back(path.back());
        path.pop_back();
      } else {
        const int next = child;
        child = sibling[next];
        path.push_back(next);
      }
    }
  }
  return order;
}

/// The pattern with columns and rows by place: for each column the rows below the diagonal.
Lists below_diagonal(const Pattern& p, const std::vector<int>& place) {
  Lists lists;
  lists.start.assign(p.size + 1, 0);
  const auto each = [&](auto visit) {
    for (int column = 0; column < p.size; ++column)
      for (int k = p.column_start[column]; k < p.column_start[column + 1]; ++k) {
        const int a = place[p.row[k]], b = place[column];
        if (a != b) visit(std::min(a, b), std::max(a, b));
      }
  };
  each([&](int column, int) { ++lists.start[column + 1]; });
  std::partial_sum(lists.start.begin(), lists.start.end(), lists.start.begin());
  lists.item.resize(lists.start.back());
  std::vector<int> next(lists.start.begin(), lists.start.end() - 1);
  each([&](int column, int row) { lists.item[next[column]++] = row; });
  return lists;
}

/// Entries of each column of the factor below the diagonal: row by row, up the tree from every
/// entry of the matrix to where the row has been before.
std::vector<int> column_counts(const Lists& below, const std::vector<int>& parent) {
  const auto n = static_cast<int>(parent.size());
  Lists rows;  // transposed: for each row its columns
  rows.start.assign(n + 1, 0);
  for (const int row : below.item) ++rows.start[row + 1];
  std::partial_sum(rows.start.begin(), rows.start.end(), rows.start.begin());
  rows.item.resize(below.item.size());
  std::vector<int> next(rows.start.begin(), rows.start.end() - 1);
  for (int column = 0; column < n; ++column)
    for (int k = below.start[column]; k < below.start[column + 1]; ++k)
      rows.item[next[below.item[k]]++] = column;
  std::vector<int> count(n, 0), seen(n, -1);
  for (int row = 0; row < n; ++row) {
    seen[row] = row;
    for (int k = rows.start[row]; k < rows.start[row + 1]; ++k)
      for (int j = rows.item[k]; seen[j] != row; j = parent[j]) {
        seen[j] = row;
        ++count[j];
      }
  }
  return count;
}

/// Whether a front and the last of its children are better one: the more columns, the fewer zeros
/// may come to be stored.
bool worth_joining(int columns, std::size_t zeros, std::size_t stored) {
  constexpr int always = 8, often = 16, sometimes = 48;
  if (columns <= always) return true;
  const double share = static_cast<double>(zeros) / static_cast<double>(stored);
  return share < (columns <= often ? 0.5 : columns <= sometimes ? 0.15 : 0.05);
}

/// A group of columns while groups are being joined.
struct Group {
  int first, pivots, rows;
  std::size_t zeros;  ///< stored
};

std::size_t panel(std::size_t pivots, std::size_t rows) {
  return pivots * rows - pivots * (pivots - 1) / 2;
}

/// Columns with the same rows below, then neighbours in the tree where that pays.
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
  // A child that ends where its parent begins is the last group before it.
  std::vector<Group> joined;
  for (Group g : groups) {
    while (!joined.empty()) {
      const Group& child = joined.back();
      if (parent[g.first - 1] != g.first) break;
      const int columns = child.pivots + g.pivots, rows = child.pivots + g.rows;
      const std::size_t stored = panel(columns, rows);
      const std::size_t zeros = stored - panel(child.pivots, child.rows) - panel(g.pivots, g.rows) +
                                child.zeros + g.zeros;
      if (!worth_joining(columns, zeros, stored)) break;
      g = {child.first, columns, rows, zeros};
      joined.pop_back();
    }
    joined.push_back(g);
  }
  return joined;
}

}  // namespace

FrontTree::FrontTree(const Pattern& pattern) : size(pattern.size) {
  std::vector<int> by_number = elimination_tree(pattern);
  order = postorder(by_number);
  std::vector<int> place(size), parent(size);
  for (int k = 0; k < size; ++k) place[order[k]] = k;
  for (int k = 0; k < size; ++k)
    parent[k] = by_number[order[k]] < 0 ? -1 : place[by_number[order[k]]];
  const Lists below = below_diagonal(pattern, place);

  std::vector<int> front_of(size);
  for (const Group& g : groups_of(column_counts(below, parent), parent)) {
    Front f;
    f.first = g.first;
    f.pivots = g.pivots;
    for (int j = 0; j < g.pivots; ++j) front_of[g.first + j] = static_cast<int>(fronts.size());
    fronts.push_back(f);
  }

  // Rows: own columns, then those of the matrix and of the children below them.
  std::vector<std::vector<int>> children(fronts.size());
  std::vector<int> seen(size, -1);
  for (std::size_t s = 0; s < fronts.size(); ++s) {
    Front& f = fronts[s];
    const int end = f.first + f.pivots, mark = static_cast<int>(s);
    f.row_at = row.size();
    for (int j = f.first; j < end; ++j) row.push_back(j);
    const auto take = [&](int r) {
      if (r < end || seen[r] == mark) return;
      seen[r] = mark;
      row.push_back(r);
    };
    for (int j = f.first; j < end; ++j)
      for (int k = below.start[j]; k < below.start[j + 1]; ++k) take(below.item[k]);
    for (const int c : children[s])
      for (int k = fronts[c].pivots; k < fronts[c].rows; ++k) take(row[fronts[c].row_at + k]);
    std::sort(row.begin() + static_cast<std::ptrdiff_t>(f.row_at) + f.pivots, row.end());
    f.rows = static_cast<int>(row.size() - f.row_at);
    f.at = values;
    constexpr int register_width = 8;
    f.stride = (f.rows + register_width - 1) / register_width * register_width;
    values += static_cast<std::size_t>(f.pivots) * f.stride;
    if (f.left() == 0) continue;
    f.parent = front_of[row[f.row_at + f.pivots]];
    children[f.parent].push_back(mark);
  }

  std::vector<int> position(size);
  const auto place_rows = [&](const Front& f) {
    for (int k = 0; k < f.rows; ++k) position[row[f.row_at + k]] = k;
  };
  in_parent.assign(row.size(), -1);
  std::size_t now = 0;
  for (std::size_t s = 0; s < fronts.size(); ++s) {
    place_rows(fronts[s]);
    const auto square = [](const Front& f) {
      return static_cast<std::size_t>(f.left()) * f.left();
    };
    now += square(fronts[s]);
    stack = std::max(stack, now);
    for (const int c : children[s]) {
      const Front& child = fronts[c];
      for (int k = child.pivots; k < child.rows; ++k)
        in_parent[child.row_at + k] = position[row[child.row_at + k]];
      now -= square(child);
    }
  }

  places.resize(pattern.entries());
  // By front, so that its rows are looked up once.
  Lists entries;
  entries.start.assign(fronts.size() + 1, 0);
  const auto each = [&](auto visit) {
    for (int column = 0; column < size; ++column)
      for (int k = pattern.column_start[column]; k < pattern.column_start[column + 1]; ++k)
        visit(front_of[std::min(place[pattern.row[k]], place[column])], k, column);
  };
  each([&](int front, int, int) { ++entries.start[front + 1]; });
  std::partial_sum(entries.start.begin(), entries.start.end(), entries.start.begin());
  entries.item.resize(pattern.entries());
  std::vector<int> column_of(pattern.entries()),
      next(entries.start.begin(), entries.start.end() - 1);
  each([&](int front, int k, int column) {
    entries.item[next[front]++] = k;
    column_of[k] = column;
  });
  for (std::size_t s = 0; s < fronts.size(); ++s) {
    const Front& f = fronts[s];
    place_rows(f);
    for (int e = entries.start[s]; e < entries.start[s + 1]; ++e) {
      const int k = entries.item[e];
      const int a = place[pattern.row[k]], b = place[column_of[k]];
      places[k] = f.at + static_cast<std::size_t>(std::min(a, b) - f.first) * f.stride +
                  position[std::max(a, b)];
    }
  }
}

}  // namespace cw
