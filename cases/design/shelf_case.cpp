#include "cases/design/shelf_case.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cases/check/check_case.hpp"
#include "cases/complaint.hpp"
#include "cases/design/choice.hpp"
#include "cases/read/case_file.hpp"

namespace cw::cases {

namespace {

std::string length_value(double metres) {
  return fmt::format("{:.6g} mm", 1e3 * metres);
}

/// Which keys of a section stand in the file or on the command line.
class Written {
 public:
  explicit Written(const CaseText& text)
      : root_(parse_file(text.text, text.file, "case file")), set_(text.set) {}

  [[nodiscard]] bool has(const std::string& section, const std::string& key) const {
    const auto same = [&](const Change& change) { return change.key == section + "." + key; };
    return std::ranges::any_of(set_, same) || in_file(section, key);
  }

  [[nodiscard]] bool in_file(const std::string& section, const std::string& key) const {
    const auto found = root_.table.find(section);
    return found != root_.table.end() && found->second.table.contains(key);
  }

  [[nodiscard]] std::string title() const {
    const auto found = root_.table.find("title");
    return found == root_.table.end() ? "" : found->second.text;
  }

  [[nodiscard]] bool has_section(const std::string& section) const {
    return root_.table.contains(section);
  }

  /// Whether [shelf] buy names it.
  [[nodiscard]] bool to_buy(const std::string& what) const {
    const auto shelf = root_.table.find("shelf");
    if (shelf == root_.table.end() || !shelf->second.table.contains("buy")) return false;
    return std::ranges::any_of(shelf->second.table.at("buy").list,
                               [&](const Node& word) { return word.text == what; });
  }

 private:
  Node root_;
  const std::vector<Change>& set_;
};

/// Reports the keys that a search needs beside those of every case.
void demand_job(const Case& subject, bool has_supply) {
  std::vector<Complaint> wrong;
  const auto complain = [&](const char* key, std::string text) {
    wrong.push_back({subject.where.of(key), key, std::move(text)});
  };
  if (!has_supply)
    complain(
        "drive.supply",
        "found no supply; write for example supply = \"24 V\", or, where none is on hand, buy = "
        "[\"supply\"] in [shelf]");
  if (!subject.workpiece)
    complain("workpiece", "found nothing to heat; write [workpiece] with its material and size");
  if (!subject.heat || !subject.heat->target)
    complain("heat.target", "found no target; write for example target = \"850 degC\"");
  if (!subject.heat || !subject.heat->until)
    complain("heat.until",
             "found no time within which it is to be hot; write for example until = \"120 s\"");
  if (!std::holds_alternative<PushPullDrive>(subject.drive))
    complain("drive.kind",
             fmt::format("found \"{}\"; allowed: push-pull, the drive that designs are found for; "
                         "write supply = \"24 V\" alone where there is none yet",
                         kind_of(subject.drive)));
  if (subject.coil.shape != CoilShape::helix && subject.coil.shape != CoilShape::flat)
    complain("coil.shape",
             "found a shape that is not searched; allowed: helix, flat; write shape = \"helix\"");
  if (!wrong.empty()) throw LocatedCaseError(subject.file.string(), wrong);
}

std::vector<Change> supply_changes(const BoughtSupply& supply) {
  return {{"drive.supply", fmt::format("{:g} V", supply.volts)},
          {"drive.supply_limit", fmt::format("{:g} A", supply.amperes)}};
}

/// Whether the supply is to be bought; where there is none, another stands in, so that the rest of
/// the file can be read. False if there is none and none is to be bought.
bool settle_supply(ShelfCase& shelf, const Written& written) {
  const auto refuse = [&](const char* key, const char* why) {
    throw CaseError({fmt::format("{}: {}: {}", shelf.text.file.string(), key, why)});
  };
  const bool to_buy = written.to_buy("supply");
  if (to_buy && written.in_file("drive", "supply"))
    refuse(
        "shelf.buy",
        "found a supply to be bought and one in [drive]; allowed: one of them; remove supply and "
        "supply_limit from [drive], or \"supply\" from buy");
  if (to_buy && !written.has_section("drive"))
    refuse("drive",
           "found no place for the supply that is sought; write [drive] as a heading of its own");
  shelf.supply_to_buy = to_buy && !written.has("drive", "supply");
  const bool given = written.has("drive", "supply") || written.has("drive", "kind");
  if (shelf.supply_to_buy || !given)
    for (const Change& change : supply_changes({24.0, 20.0})) shelf.text.set.push_back(change);
  return shelf.supply_to_buy || given;
}

/// A coil to stand in for the one sought, so that the rest of the file can be read.
Choice any_choice(int cans) {
  Choice choice;
  choice.turns = 3;
  choice.bore = 0.2;
  choice.pitch = 0.05;
  choice.strings = cans;
  return choice;
}

/// Moves work and stretch along the axis.
void move_work(Case& subject, double shift) {
  Outline& outline = subject.workpiece->outline;
  for (Point& corner : outline.profile) corner.z += shift;
  outline.centre += shift;
  if (subject.heat->heated) {
    subject.heat->heated->from += shift;
    subject.heat->heated->to += shift;
  }
}

double middle_of_stretch(const Case& subject) {
  if (subject.heat->heated) return 0.5 * (subject.heat->heated->from + subject.heat->heated->to);
  const OutlineExtent work = extent_of(subject.workpiece->outline);
  return 0.5 * (work.low + work.high);
}

void find_freedom(ShelfCase& shelf, const Case& subject, const Written& written) {
  const Shelf on_hand = subject.shelf.value_or(Shelf{});
  shelf.cans = subject.tank->cans.value_or(1);
  shelf.bank_free = !on_hand.keep_cans && shelf.cans > 1 && !written.has("tank", "cans_in_series");
  shelf.all_heated = subject.coil.shape == CoilShape::helix && !subject.heat->heated &&
                     target_body(subject) == "workpiece" && !subject.heat->target_joint;
  shelf.position_free = !on_hand.keep_position && subject.coil.shape == CoilShape::helix &&
                        subject.bodies.empty() && !written.has("workpiece", "profile") &&
                        !written.has("workpiece", "insertion");
}

/// A coil of the least size, in the middle of what is to be hot.
Choice first_choice(const ShelfCase& shelf) {
  Choice choice = any_choice(shelf.cans);
  const Coil& coil = shelf.subject.coil;
  if (!shelf.turns_free) choice.turns = coil.turns;
  if (!shelf.bore_free) choice.bore = coil.bore;
  if (!shelf.pitch_free) choice.pitch = coil.pitch;
  const ChoiceBounds bounds = choice_bounds(shelf);
  if (shelf.bore_free) choice.bore = bounds.least_bore;
  if (shelf.pitch_free) choice.pitch = bounds.least_pitch;
  if (shelf.turns_free && coil.shape == CoilShape::helix)
    choice.turns = std::clamp(std::ceil(bounds.least_length / choice.pitch), 2.0,
                              static_cast<double>(bounds.most_turns));
  while (shelf.turns_free && choice.turns > 1 && !can_be_wound(shelf, bounds, choice))
    choice.turns -= 1;
  if (shelf.position_free) choice.shift = -middle_of_stretch(shelf.subject);
  return choice;
}

}  // namespace

std::vector<Change> changes_of(const ShelfCase& shelf, const Choice& choice) {
  std::vector<Change> changes;
  if (shelf.turns_free) changes.push_back({"coil.turns", fmt::format("{:g}", choice.turns)});
  if (shelf.bore_free) changes.push_back({"coil.bore", length_value(choice.bore)});
  if (shelf.pitch_free) changes.push_back({"coil.pitch", length_value(choice.pitch)});
  if (!shelf.bank_free) return changes;
  const Case& own = shelf.subject;
  if (!own.tank) return changes;
  const Tank bank = bank_of(*own.tank, shelf.cans, choice);
  changes.push_back({"tank.cans", fmt::format("{}", choice.cans())});
  if (choice.in_series > 1)
    changes.push_back({"tank.cans_in_series", fmt::format("{}", choice.in_series)});
  const auto add = [&](const char* key, double value, const char* unit) {
    if (own.where.at.contains(key)) changes.push_back({key, fmt::format("{:.6g} {}", value, unit)});
  };
  add("tank.capacitance", 1e6 * bank.capacitance, "uF");
  add("tank.esr", 1e3 * bank.esr, "mohm");
  add("tank.esl", 1e9 * bank.esl, "nH");
  return changes;
}

Tank bank_of(const Tank& all, int cans_on_hand, const Choice& choice) {
  const double share = static_cast<double>(choice.strings) / (choice.in_series * cans_on_hand);
  Tank bank = all;
  bank.cans = choice.cans();
  bank.cans_in_series = choice.in_series;
  bank.capacitance *= share;
  bank.esr /= share;
  bank.esl /= share;
  return bank;
}

Case chosen_case(const ShelfCase& shelf, const Choice& choice) {
  Case subject =
      read_set_case(shelf.text.text, shelf.text.file, shelf.text.set, changes_of(shelf, choice));
  subject.sweep.reset();
  if (shelf.all_heated) {
    const OutlineExtent work = extent_of(subject.workpiece->outline);
    subject.heat->heated = Stretch{work.low, work.high};
  }
  move_work(subject, choice.shift);
  return subject;
}

bool passes_checks(const Case& subject) {
  return findings_of(subject).errors.empty();
}

ShelfCase with_values(const ShelfCase& shelf, const std::vector<Change>& changes) {
  CaseText text = shelf.text;
  for (const Change& change : changes) {
    std::erase_if(text.set, [&](const Change& old) { return old.key == change.key; });
    text.set.push_back(change);
  }
  ShelfCase other = read_shelf_case(text);
  other.subject.title = shelf.subject.title;  // without these values
  return other;
}

ShelfCase with_supply(const ShelfCase& shelf, const BoughtSupply& supply) {
  return with_values(shelf, supply_changes(supply));
}

std::vector<Change> changes_for_cans(const ShelfCase& shelf, int cans) {
  const Tank& own = *shelf.subject.tank;
  const double by = static_cast<double>(cans) / shelf.cans;
  std::vector<Change> changes = {
      {"tank.cans", fmt::format("{}", cans)},
      {"tank.capacitance", fmt::format("{:.6g} uF", 1e6 * by * own.capacitance)}};
  const auto& at = shelf.subject.where.at;
  if (at.contains("tank.esr"))
    changes.push_back({"tank.esr", fmt::format("{:.6g} mohm", 1e3 * own.esr / by)});
  if (at.contains("tank.esl"))
    changes.push_back({"tank.esl", fmt::format("{:.6g} nH", 1e9 * own.esl / by)});
  return changes;
}

ShelfCase with_cans(const ShelfCase& shelf, int cans) {
  return with_values(shelf, changes_for_cans(shelf, cans));
}

ShelfCase read_shelf_case(const CaseText& text) {
  const Written written(text);
  ShelfCase shelf;
  shelf.text = text;
  const bool rings = written.has("coil", "ring");
  shelf.turns_free = !rings && !written.has("coil", "turns");
  shelf.bore_free = !rings && !written.has("coil", "bore");
  shelf.pitch_free = !rings && !written.has("coil", "pitch") && !written.has("coil", "gap");
  const bool has_supply = settle_supply(shelf, written);
  shelf.subject =
      read_set_case(text.text, text.file, shelf.text.set, changes_of(shelf, any_choice(1)));
  // The supply that stands in is no part of the heading.
  if (shelf.supply_to_buy) shelf.subject.title = written.title();
  demand_job(shelf.subject, has_supply);
  for (const Change& change : changes_of(shelf, any_choice(1)))
    shelf.subject.where.at.erase(change.key);  // stands nowhere in the file
  find_freedom(shelf, shelf.subject, written);
  shelf.first = first_choice(shelf);
  shelf.cans_to_buy =
      shelf.subject.tank->cans && shelf.subject.shelf && shelf.subject.shelf->buy_cans;
  // The values as written stay the base of what follows from them.
  Case first = chosen_case(shelf, shelf.first);
  if (const LocatedFindings found = findings_of(first); !found.errors.empty())
    throw LocatedCaseError(text.file.string(), found.errors);
  return shelf;
}

}  // namespace cw::cases
