#include "cases/run/remedied_case.hpp"

#include <fmt/format.h>

#include <regex>
#include <sstream>

#include "cases/read/read_case.hpp"
#include "materials/figures.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

std::string millimetre_text(double metres) {
  return fmt::format("\"{:.6g} mm\"", 1e3 * metres);
}

/// The lines of a case file, values put into them by key.
class CaseLines {
 public:
  CaseLines(const Case& subject, const std::string& text) : where_(subject.where) {
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) lines_.push_back(line);
  }

  /// Puts a value where "section.key" has one, or behind the heading of its section. What was
  /// there stays as a comment. False where the line is not of the plain kind, key = value.
  bool put(const std::string& section, const std::string& key, const std::string& value) {
    const auto found = where_.at.find(section + "." + key);
    if (found == where_.at.end()) {
      const std::regex heading("\\s*\\[" + section + "\\]\\s*(#.*)?");
      for (std::size_t i = 0; i < lines_.size(); ++i)
        if (std::regex_match(lines_[i], heading)) {
          added_[i] += fmt::format("\n{} = {}", key, value);
          return true;
        }
      return false;
    }
    const std::size_t i = found->second.line - 1;
    const std::regex plain("(\\s*" + key + "\\s*=\\s*)(\"[^\"]*\"|[^\"#\\[{,]+?)(\\s*)(#.*)?");
    std::smatch parts;
    if (i >= lines_.size() || !std::regex_match(lines_[i], parts, plain)) return false;
    lines_[i] = fmt::format("{}{}  # instead of {}", parts.str(1), value, parts.str(2));
    return true;
  }

  void append(const std::string& text) { tail_ += text; }

  /// Material files are named as seen from `to`.
  void rebase(const std::filesystem::path& from, const std::filesystem::path& to) {
    const std::regex own("(.*\\bmaterial\\s*=\\s*\")([^\"]+\\.toml)(\".*)");
    for (std::string& line : lines_) {
      std::smatch parts;
      if (!std::regex_match(line, parts, own)) continue;
      const auto file = std::filesystem::absolute(from / parts.str(2));
      line = parts.str(1) +
             file.lexically_relative(std::filesystem::absolute(to)).generic_string() + parts.str(3);
    }
  }

  [[nodiscard]] std::string text() const {
    std::string all;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const auto added = added_.find(i);
      all += lines_[i] + (added != added_.end() ? added->second : "") + "\n";
    }
    return all + tail_;
  }

 private:
  const Where& where_;
  std::vector<std::string> lines_;
  std::map<std::size_t, std::string> added_;
  std::string tail_;
};

/// The sleeve of a remedy fits the coil that the other steps leave.
std::string sleeve_text(const Case& subject, const Remedy& remedy, const Remedy::Step& sleeve) {
  Coil coil = subject.coil;
  for (const Remedy::Step& step : remedy.steps) {
    if (step.knob == Knob::turns) coil.turns = step.to;
    if (step.knob == Knob::bore) coil.bore = step.to;
    if (step.knob == Knob::pitch) coil.pitch = step.to;
  }
  const CoilExtent extent = extent_of(coil);
  const double inner = sleeve.from, outer = sleeve.from + sleeve.to;
  std::string profile;
  for (const Point& p : {Point{inner, extent.low}, Point{outer, extent.low},
                         Point{outer, extent.high}, Point{inner, extent.high}})
    profile += fmt::format("{}[{}, {}]", profile.empty() ? "" : ", ", millimetre_text(p.r),
                           millimetre_text(p.z));
  return fmt::format(
      "\n[[body]]\nname = \"sleeve\"\nmaterial = \"ceramic-fibre\"\nprofile = [{}]\n", profile);
}

bool apply(const Case& subject, const Remedy& remedy, const Remedy::Step& step, CaseLines& lines) {
  switch (step.knob) {
    case Knob::turns:
      return lines.put("coil", "turns", fmt::format("{:g}", step.to));
    case Knob::bore:
      return lines.put("coil", "bore", millimetre_text(step.to));
    case Knob::pitch:
      return subject.coil.gap ? lines.put("coil", "gap",
                                          millimetre_text(*subject.coil.gap + step.to - step.from))
                              : lines.put("coil", "pitch", millimetre_text(step.to));
    case Knob::cans:
      return lines.put("tank", "cans", fmt::format("{:g}", step.to)) &&
             lines.put("tank", "capacitance",
                       fmt::format("\"{:.6g} uF\"",
                                   1e6 * subject.tank->capacitance * step.to / step.from));
    case Knob::finer_cans:
      return lines.put("tank", "cans", fmt::format("{:g}", step.to));
    case Knob::capacitance:
      return lines.put("tank", "capacitance", fmt::format("\"{:.6g} uF\"", 1e6 * step.to));
    case Knob::supply:
      if (std::holds_alternative<PushPullDrive>(subject.drive))
        return lines.put("drive", "supply", fmt::format("\"{:.6g} V\"", step.to));
      return lines.put(
          "drive", "rms",
          fmt::format("\"{:.6g} {}\"", step.to,
                      std::holds_alternative<CurrentDrive>(subject.drive) ? "A" : "V"));
    case Knob::insulation:
      lines.append(sleeve_text(subject, remedy, step));
      return true;
    case Knob::time:
      break;
  }
  return lines.put("heat", "until", fmt::format("\"{:.6g} s\"", step.to));
}

}  // namespace

std::string remedied_case(const Case& subject, const Remedy& remedy,
                          const std::filesystem::path& directory) {
  if (!std::filesystem::is_regular_file(subject.file)) return "";
  CaseLines lines(subject, case_bytes(subject.file));
  for (const Remedy::Step& step : remedy.steps)
    if (!apply(subject, remedy, step, lines)) return "";
  const auto folder = subject.file.parent_path();
  lines.rebase(folder, directory);
  const std::string text =
      fmt::format("# What would help {}: {}.\n# Solved at low effort, it brings: {}.\n\n{}",
                  subject.file.filename().string(), remedy.change, remedy.outcome, lines.text());
  try {
    read_case_text(text, directory / "remedy.toml");
  } catch (const std::exception&) {
    return "";  // a form of writing that the above does not know
  }
  return text;
}

}  // namespace cw::cases
