#include "cases/design/ask_shelf.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <stdexcept>
#include <vector>

#include "materials/library.hpp"
#include "materials/units.hpp"

namespace cw::cases {

namespace {

/// What is wrong with an answer; empty: nothing.
using Judge = std::function<std::string(const std::string&)>;

Judge quantity(Dimension dimension) {
  return [dimension](const std::string& answer) {
    return parse_quantity(answer, dimension).complaint;
  };
}

/// A quantity, or that word.
Judge quantity_or(Dimension dimension, const std::string& word) {
  return [dimension, word](const std::string& answer) {
    return answer == word ? "" : parse_quantity(answer, dimension).complaint;
  };
}

std::string judged_metal(const std::string& answer) {
  try {
    find_material(answer);
    return "";
  } catch (const std::exception& error) {
    return error.what();
  }
}

std::string judged_count(const std::string& answer) {
  const bool digits = !answer.empty() && answer.size() < 4 &&
                      answer.find_first_not_of("0123456789") == std::string::npos;
  return digits && std::stoi(answer) > 0 ? "" : "found no whole number; write for example 10";
}

std::string judged_conductor(const std::string& answer) {
  const std::size_t space = answer.find(' ');
  const std::string kind = answer.substr(0, space);
  if ((kind != "tube" && kind != "wire") || space == std::string::npos)
    return "allowed: tube or wire and its size; write for example tube 6 mm";
  return parse_quantity(answer.substr(space + 1), Dimension::length).complaint;
}

std::string yes_or_no(const std::string& answer) {
  return answer == "yes" || answer == "no" ? "" : "allowed: yes, no; write no";
}

/// The section of a supply that is still to be bought.
constexpr const char* no_supply = "[drive]\n\n";

std::string judged_limit_kind(const std::string& answer) {
  return answer == "fold" || answer == "trip" || answer == "hiccup"
             ? ""
             : "allowed: fold, trip, hiccup; write fold";
}

class Questions {
 public:
  Questions(std::istream& answers, const std::function<void(const std::string&)>& say)
      : answers_(answers), say_(say) {}

  /// `usual`: taken for an empty answer; empty: one must be given.
  std::string ask(const std::string& question, const std::string& usual, const Judge& judge) {
    while (true) {
      say_(fmt::format("{}{} ", question, usual.empty() ? "" : fmt::format(" [{}]", usual)));
      std::string answer;
      if (!std::getline(answers_, answer))
        throw std::invalid_argument(
            "the answers ended before the last question; nothing was "
            "written");
      const std::size_t first = answer.find_first_not_of(" \t\r");
      answer = first == std::string::npos
                   ? usual
                   : answer.substr(first, answer.find_last_not_of(" \t\r") - first + 1);
      const std::string wrong = answer.empty() ? std::string("an answer is needed") : judge(answer);
      if (wrong.empty()) return answer;
      say_(wrong + "\n");
    }
  }

 private:
  std::istream& answers_;
  const std::function<void(const std::string&)>& say_;
};

std::string work_text(Questions& q) {
  std::string text = fmt::format(
      "[workpiece]\nmaterial = \"{}\"\n",
      q.ask("What is it made of? A name listed by `coilwright materials`:", "steel-medium-carbon",
            judged_metal));
  text += fmt::format("diameter = \"{}\"\n",
                      q.ask("Its diameter, as in 12 mm:", "", quantity(Dimension::length)));
  return text + fmt::format("length   = \"{}\"\n\n",
                            q.ask("Its length:", "", quantity(Dimension::length)));
}

std::string coil_text(Questions& q) {
  const std::string conductor = q.ask(
      "Tube or wire for the coil, as in tube 6 mm or wire 2 mm:", "tube 6 mm", judged_conductor);
  const std::size_t space = conductor.find(' ');
  std::string text = fmt::format(
      "[coil]\nconductor = {{ {} = \"{}\" }}\nleads     = {{ length = \"120 mm\", spacing = \"20 "
      "mm\" }}\n",
      conductor.substr(0, space), conductor.substr(space + 1));
  const std::string water = conductor.starts_with("tube")
                                ? q.ask("Water through it, as in 0.5 L/min, or none:", "none",
                                        quantity_or(Dimension::flow, "none"))
                                : "none";
  if (water != "none") text += fmt::format("coolant   = {{ flow = \"{}\" }}\n", water);
  return text + "\n";
}

std::string tank_text(Questions& q) {
  const std::string each =
      q.ask("One capacitor can, as in 0.33 uF:", "0.33 uF", quantity(Dimension::capacitance));
  const std::string count = q.ask("How many of them:", "", judged_count);
  const std::string amps =
      q.ask("What one carries, from its data sheet, as in 14 A, or unknown:", "unknown",
            quantity_or(Dimension::current, "unknown"));
  const std::string volts =
      q.ask("What voltage it stands, rms, as in 250 V, or unknown:", "unknown",
            quantity_or(Dimension::voltage, "unknown"));
  const double all = *parse_quantity(each, Dimension::capacitance).value * std::stod(count);
  std::string text =
      fmt::format("[tank]\ncapacitance = \"{:.6g} uF\"\ncans = {}\n", 1e6 * all, count);
  std::string limits;
  if (amps != "unknown") limits += fmt::format("current = \"{}\"", amps);
  if (volts != "unknown")
    limits += fmt::format("{}voltage = \"{}\"", limits.empty() ? "" : ", ", volts);
  return text + (limits.empty() ? "" : fmt::format("can_limits = {{ {} }}\n", limits)) + "\n";
}

std::string drive_text(Questions& q) {
  const std::string volts = q.ask(
      "Voltage of the supply, as in 24 V, or none if it is still to be "
      "bought:",
      "", quantity_or(Dimension::voltage, "none"));
  if (volts == "none") return no_supply;
  std::string text = fmt::format("[drive]\nsupply = \"{}\"\n", volts);
  const std::string limit = q.ask("Most current it gives, as in 20 A, or unlimited:", "unlimited",
                                  quantity_or(Dimension::current, "unlimited"));
  if (limit == "unlimited") return text + "\n";
  return text +
         fmt::format("supply_limit = \"{}\"\nlimit_kind = \"{}\"\n\n", limit,
                     q.ask("What it does there: fold (its voltage falls), trip (it switches off) "
                           "or hiccup (it tries again):",
                           "fold", judged_limit_kind));
}

std::string heat_text(Questions& q) {
  std::string text = fmt::format(
      "[heat]\ntarget = \"{}\"\n",
      q.ask("How hot it is to be, as in 850 degC:", "", quantity(Dimension::temperature)));
  const std::string stretch = q.ask("How much of its length, about the middle, or all:", "all",
                                    quantity_or(Dimension::length, "all"));
  if (stretch != "all") {
    const double half = 500 * *parse_quantity(stretch, Dimension::length).value;
    text += fmt::format("heated = [\"{:.6g} mm\", \"{:.6g} mm\"]\n", -half, half);
  }
  return text + fmt::format("until  = \"{}\"\n\n",
                            q.ask("Within what time, as in 120 s:", "", quantity(Dimension::time)));
}

}  // namespace

std::string ask_shelf(std::istream& answers, const std::function<void(const std::string&)>& say) {
  Questions q(answers, say);
  const std::string title = "title = \"Designed from a shelf\"\n\n";
  const std::string work = work_text(q), heat = heat_text(q), drive = drive_text(q),
                    tank = tank_text(q), coil = coil_text(q);
  const std::string metres = q.ask("Length of that tube or wire on hand, or enough:", "enough",
                                   quantity_or(Dimension::length, "enough"));
  const bool more = q.ask("May more of these cans be bought, yes or no:", "no", yes_or_no) == "yes";
  std::string shelf = "[shelf]\n";
  if (metres != "enough") shelf += fmt::format("tube_length = \"{}\"\n", metres);
  std::vector<std::string> buy;
  if (drive == no_supply) buy.emplace_back("\"supply\"");
  if (more) buy.emplace_back("\"cans\"");
  if (!buy.empty()) shelf += fmt::format("buy = [{}]\n", fmt::join(buy, ", "));
  return title + work + coil + tank + drive + heat + shelf;
}

}  // namespace cw::cases
