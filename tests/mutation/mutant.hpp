// Inserted by mutants.py into a copy of the solver's sources. Each changed place acts as written
// until the environment variable CW_MUTANT gives its number. So all mutants are compiled at once,
// and one program contains all of them.
#pragma once

#include <fcntl.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <complex>
#include <concepts>
#include <cstdlib>
#include <type_traits>
#include <utility>

namespace cw::mutation {

inline constexpr int most = 4096;
inline unsigned char unseen[most];
inline constinit unsigned char* reached = unseen;
inline constinit int active = -1;

/// Runs before any other code: reads which mutant is active, and opens the file that records which
/// ones were reached. The file is shared memory, so forked workers record theirs too.
[[gnu::constructor(101)]] inline void start() {
  if (const char* number = std::getenv("CW_MUTANT")) active = std::atoi(number);
  const char* const name = std::getenv("CW_MUTANT_REACHED");
  const int file = name ? ::open(name, O_RDWR) : -1;
  if (file < 0) return;
  void* const memory = ::mmap(nullptr, most, PROT_READ | PROT_WRITE, MAP_SHARED, file, 0);
  if (memory != MAP_FAILED) reached = static_cast<unsigned char*>(memory);
  ::close(file);
}

template <int id>
bool on() {
  reached[id] = 1;
  return active == id;
}

template <class T>
struct IsComplex : std::false_type {};
template <class T>
struct IsComplex<std::complex<T>> : std::true_type {};
template <class T>
concept Scalar = (std::is_arithmetic_v<std::remove_cvref_t<T>> &&
                  !std::same_as<std::remove_cvref_t<T>, bool>) ||
                 IsComplex<std::remove_cvref_t<T>>::value;

/// x times a factor; of the same type for numbers.
template <class T>
decltype(auto) times(double factor, T&& x) {
  if constexpr (Scalar<T>)
    return static_cast<std::remove_cvref_t<T>>(x * static_cast<double>(factor));
  else
    return factor * std::forward<T>(x);
}

template <class T>
requires(std::integral<std::remove_cvref_t<T>>) T whole_times(double factor, T x) {
  return factor == 1.0 ? x : static_cast<T>(static_cast<double>(x) * factor);
}

// Operators: `a + b` is written `a + Sum<7, 0>{} + b`, with the same precedence.

template <class L, class Op>
struct Left {
  L&& value;
};

/// `factor` precedes the right side of + - += -=: -1 changes the sign, 0 drops the term.
template <int id, int factor>
struct Sum {
  template <class L>
  friend Left<L, Sum> operator+(L&& l, Sum) {
    return {std::forward<L>(l)};
  }
  template <class L>
  friend Left<L, Sum> operator-(L&& l, Sum) {
    return {std::forward<L>(l)};
  }
  template <class R>
  static decltype(auto) changed(R&& r) {
    if constexpr (std::integral<std::remove_cvref_t<R>>)
      return static_cast<std::remove_cvref_t<R>>(on<id>() ? factor * r : r);
    else
      return times(on<id>() ? factor : 1.0, std::forward<R>(r));
  }
  template <class R>
  decltype(auto) operator=(R&& r) const {
    return changed(std::forward<R>(r));
  }
};
template <class L, int id, int factor, class R>
decltype(auto) operator+(Left<L, Sum<id, factor>> l, R&& r) {
  return std::forward<L>(l.value) + Sum<id, factor>::changed(std::forward<R>(r));
}
template <class L, int id, int factor, class R>
decltype(auto) operator-(Left<L, Sum<id, factor>> l, R&& r) {
  return std::forward<L>(l.value) - Sum<id, factor>::changed(std::forward<R>(r));
}

/// * for / and the other way round, of numbers.
template <int id>
struct Product {
  template <Scalar L>
  friend Left<L, Product> operator*(L&& l, Product) {
    return {std::forward<L>(l)};
  }
  template <Scalar L>
  friend Left<L, Product> operator/(L&& l, Product) {
    return {std::forward<L>(l)};
  }
};
template <class L, int id, Scalar R>
auto operator*(Left<L, Product<id>> l, const R& r) {
  return on<id>() ? l.value / r : l.value * r;
}
template <class L, int id, Scalar R>
auto operator/(Left<L, Product<id>> l, const R& r) {
  return on<id>() ? l.value * r : l.value / r;
}
/// `a *= b` is written `a *= Scaling<7>{} = b`: divides instead; the same for /=.
template <int id>
struct Scaling {
  template <class R>
  requires(Scalar<R> && !std::integral<std::remove_cvref_t<R>>) auto operator=(const R& r) const {
    return on<id>() ? 1.0 / r : r;
  }
};

/// < for > and the other way round, <= for >=.
template <int id>
struct Order {
  template <class L>
  friend Left<L, Order> operator<(L&& l, Order) {
    return {std::forward<L>(l)};
  }
  template <class L>
  friend Left<L, Order> operator>(L&& l, Order) {
    return {std::forward<L>(l)};
  }
  template <class L>
  friend Left<L, Order> operator<=(L&& l, Order) {
    return {std::forward<L>(l)};
  }
  template <class L>
  friend Left<L, Order> operator>=(L&& l, Order) {
    return {std::forward<L>(l)};
  }
};
template <class L, int id, class R>
bool operator<(Left<L, Order<id>> l, const R& r) {
  return on<id>() ? l.value > r : l.value < r;
}
template <class L, int id, class R>
bool operator>(Left<L, Order<id>> l, const R& r) {
  return on<id>() ? l.value < r : l.value > r;
}
template <class L, int id, class R>
bool operator<=(Left<L, Order<id>> l, const R& r) {
  return on<id>() ? l.value >= r : l.value <= r;
}
template <class L, int id, class R>
bool operator>=(Left<L, Order<id>> l, const R& r) {
  return on<id>() ? l.value <= r : l.value >= r;
}

/// A factor on a number or on a returned value: a unit, a sign, sqrt 2, pi.
template <int id, class T>
requires(!std::same_as<std::remove_cvref_t<T>, bool>) decltype(auto) factor(double by, T&& x) {
  if constexpr (std::integral<std::remove_cvref_t<T>>)
    return whole_times(on<id>() ? by : 1.0, std::remove_cvref_t<T>(x));
  else
    return times(on<id>() ? by : 1.0, std::forward<T>(x));
}

/// One function of a number for another.
template <int id>
struct Instead {
  template <Scalar T>
  static auto sin(const T& x) {
    return on<id>() ? std::cos(x) : std::sin(x);
  }
  template <Scalar T>
  static auto cos(const T& x) {
    return on<id>() ? std::sin(x) : std::cos(x);
  }
  template <Scalar T>
  static auto sqrt(const T& x) -> decltype(std::sqrt(x)) {
    return on<id>() ? x : std::sqrt(x);
  }
  template <Scalar T>
  static auto conj(const T& x) {
    return on<id>() ? x : std::conj(x);
  }
  template <Scalar T>
  static auto exp(const T& x) {
    return on<id>() ? std::exp(-x) : std::exp(x);
  }
  template <Scalar T>
  static auto log(const T& x) -> decltype(std::log(x)) {
    return on<id>() ? -std::log(x) : std::log(x);
  }
  template <Scalar T>
  static T max(T a, T b) {
    return on<id>() ? std::min(a, b) : std::max(a, b);
  }
  template <Scalar T>
  static T min(T a, T b) {
    return on<id>() ? std::max(a, b) : std::min(a, b);
  }
};

}  // namespace cw::mutation
