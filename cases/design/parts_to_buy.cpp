#include "cases/design/parts_to_buy.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cases/design/choke_sheet.hpp"
#include "materials/figures.hpp"

namespace cw::cases {

namespace {

constexpr double quarter_more = 1.25;

class PartsToBuy {
 public:
  PartsToBuy(const ShelfCase& shelf, const FoundDesigns& found)
      : shelf_(shelf), found_(found), designs_(found.offered) {}

  std::vector<std::string> run() {
    if (designs_.empty()) return {};
    supply();
    if (!written("drive.switch"))
      add("two switches for {:.0f} V or more", hardest("switch", "voltage_peak_V"));
    if (!written("drive.choke")) chokes();
    cans();
    return std::move(parts_);
  }

 private:
  template <class... Values>
  void add(fmt::format_string<Values...> text, Values&&... values) {
    parts_.push_back(fmt::format(text, std::forward<Values>(values)...));
  }

  [[nodiscard]] bool written(const char* key) const {
    return shelf_.subject.where.at.contains(key);
  }

  static double largest_in(const OfferedDesign& d, const char* part, const char* quantity) {
    for (const LimitResult& limit : d.result.limits)
      if (limit.part == part && limit.quantity == quantity) return limit.value;
    return 0.0;
  }

  [[nodiscard]] double hardest(const char* part, const char* quantity) const {
    double most = 0.0;
    for (const OfferedDesign& d : designs_) most = std::max(most, largest_in(d, part, quantity));
    return quarter_more * most;
  }

  void supply() {
    if (found_.supply)
      add("a supply of {:g} V that gives {:g} A", found_.supply->volts, found_.supply->amperes);
  }

  void chokes() {
    double inductance = 0.0;
    for (const OfferedDesign& d : designs_)
      inductance = std::max(inductance, std::get<PushPullDrive>(d.subject.drive).choke.inductance);
    add("two chokes of {} uH or more that stand {} peak", figure_short(1e6 * inductance),
        figure(hardest("feed choke", "current_peak_A"), "A"));
    const OfferedDesign& first = designs_.front();
    const auto sheet =
        choke_sheet(first.result, std::get<PushPullDrive>(first.subject.drive).choke);
    if (sheet) parts_.back() += ", for example " + words_of(*sheet);
  }

  void cans() {
    double volts = 0.0;
    int most = 0;
    for (const OfferedDesign& d : designs_) {
      volts =
          std::max(volts, largest_in(d, "capacitor bank", "voltage_rms_V") / d.choice.in_series);
      most = std::max(most, d.choice.cans());
    }
    if (!written("tank.can_limits"))
      add("cans for {} rms each, {} rms", figure(hardest("capacitor can", "current_rms_A"), "A"),
          figure(quarter_more * volts, "V"));
    if (found_.cans_on_hand && most > *found_.cans_on_hand)
      add("up to {} more {} of the same kind", most - *found_.cans_on_hand,
          most - *found_.cans_on_hand == 1 ? "can" : "cans");
  }

  const ShelfCase& shelf_;
  const FoundDesigns& found_;
  const std::vector<OfferedDesign>& designs_;
  std::vector<std::string> parts_;
};

}  // namespace

std::vector<std::string> parts_to_buy(const ShelfCase& shelf, const FoundDesigns& found) {
  return PartsToBuy(shelf, found).run();
}

}  // namespace cw::cases
