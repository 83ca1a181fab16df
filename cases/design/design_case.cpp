#include "cases/design/design_case.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cases/design/design_text.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/case_lines.hpp"

namespace cw::cases {

namespace {

/// A value with its unit, as it stands in a file; a bare number stands without quotes.
std::string file_value(const std::string& value) {
  return value.find(' ') == std::string::npos ? value : fmt::format("\"{}\"", value);
}

/// Puts a value at "coil.turns", "tank.can_limits.voltage".
void put_change(CaseLines& lines, const Change& change) {
  const std::size_t dot = change.key.rfind('.');
  if (!lines.put(change.key.substr(0, dot), change.key.substr(dot + 1), file_value(change.value)))
    throw std::runtime_error(
        fmt::format("{}: there is no place in the file to write {} = {}; give its section a line "
                    "of its own, [{}]",
                    change.key, change.key, change.value, change.key.substr(0, dot)));
}

/// Where the work stands and which stretch of it is to be hot, where the file does not say so.
void put_work(const ShelfCase& shelf, const OfferedDesign& design, CaseLines& lines) {
  const Case& subject = design.subject;
  const bool moved = design.choice.shift != 0.0;
  if (moved)
    put_change(lines, {"workpiece.centre",
                       fmt::format("{:.6g} mm", 1e3 * subject.workpiece->outline.centre)});
  if ((moved || shelf.all_heated) && subject.heat->heated &&
      !lines.put("heat", "heated",
                 fmt::format("[{}, {}]", millimetre_text(subject.heat->heated->from),
                             millimetre_text(subject.heat->heated->to))))
    throw std::runtime_error("heat.heated: there is no place in the file to write it");
}

/// A sweep over the neighbours of the design.
std::string sweep_round(const Choice& c, const ChoiceBounds& bounds) {
  const double fewer = std::max(1.0, c.turns - 1);
  const double close = std::max(bounds.least_pitch, c.pitch - bounds.pitch_step);
  std::string turns = fmt::format("{:g}", fewer);
  if (fewer < c.turns) turns += fmt::format(", {:g}", c.turns);
  return fmt::format(
      "\n[sweep]                              # `coilwright sweep` on this file: a step to each "
      "side\nvary = [{{ key = \"coil.turns\", values = [{}, {:g}] }},\n"
      "        {{ key = \"coil.pitch\", values = [{}, {}] }}]\nrank = \"heat.time_to_target_s\"\n",
      turns, c.turns + 1, millimetre_text(close), millimetre_text(c.pitch + bounds.pitch_step));
}

/// Whether what was written says what was solved.
bool says_the_same(const Case& written, const Case& solved) {
  const auto near = [](double a, double b) { return std::abs(a - b) <= 1e-5 * std::abs(b) + 1e-9; };
  const auto bank = [&] {
    return !solved.tank || (written.tank && written.tank->cans == solved.tank->cans &&
                            written.tank->cans_in_series == solved.tank->cans_in_series &&
                            near(written.tank->capacitance, solved.tank->capacitance));
  };
  return near(written.coil.turns, solved.coil.turns) && near(written.coil.bore, solved.coil.bore) &&
         near(written.coil.pitch, solved.coil.pitch) && bank() &&
         near(extent_of(written.workpiece->outline).low,
              extent_of(solved.workpiece->outline).low) &&
         (!solved.heat->heated ||
          (written.heat->heated && near(written.heat->heated->from, solved.heat->heated->from) &&
           near(written.heat->heated->to, solved.heat->heated->to)));
}

}  // namespace

std::string file_of(const OfferedDesign& design) {
  std::string name = words_of(design.kinds.front());
  std::ranges::replace(name, ' ', '-');
  return name + ".toml";
}

std::string design_case(const ShelfCase& shelf, const OfferedDesign& design,
                        const std::filesystem::path& directory) {
  const CaseText& text = shelf.text;
  CaseLines lines(text.text);
  for (const Change& change : text.set) put_change(lines, change);
  for (const Change& change : changes_of(shelf, design.choice)) put_change(lines, change);
  put_work(shelf, design, lines);
  lines.set_aside("shelf");
  if (!shelf.subject.sweep && design.subject.coil.shape == CoilShape::helix)
    lines.append(sweep_round(design.choice, choice_bounds(shelf)));
  if (text.file != standard_input) lines.rebase(text.file.parent_path(), directory);
  std::string written =
      fmt::format("# {}: {}.\n# {}\n\n{}", words_of(design.kinds.front()),
                  words_of(shelf, design.choice), design.result.verdict->sentence, lines.text());
  if (!says_the_same(read_case_text(written, directory / file_of(design)), design.subject))
    throw std::runtime_error(
        "the shelf file is written in a form that the design cannot be put into; write each "
        "section with a heading of its own and each key on a line of its own");
  return written;
}

}  // namespace cw::cases
