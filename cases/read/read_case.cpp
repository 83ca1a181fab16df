#include "cases/read/read_case.hpp"

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

#include <fmt/format.h>

#include "cases/check/findings.hpp"
#include "cases/read/assume_parts.hpp"
#include "cases/read/case_file.hpp"
#include "cases/read/case_sections.hpp"
#include "cases/read/change_tree.hpp"
#include "cases/read/fingerprint.hpp"
#include "materials/one_line.hpp"
#include "solver/heater/rings.hpp"
#include "solver/heater/target.hpp"

namespace cw::cases {

namespace {

using enum Need;

constexpr std::array case_keys = {
    Key{"title", optional, keys::text<&Case::title>, "\"Chisel blank, hardening heat\""},
    Key{"workpiece", optional, read_workpiece, "[workpiece]"},
    Key{"body", optional, read_bodies, "[[body]]"},
    Key{"coil", required, read_coil, "[coil]"},
    Key{"tank", optional, read_tank, "[tank]"},
    Key{"drive", required, read_drive, "[drive]"},
    Key{"heat", optional, read_heat, "[heat]"},
    Key{"sweep", optional, read_sweep, "[sweep]"},
    Key{"nearby", optional, read_nearby, "[[nearby]]"},
    Key{"commissioning", optional, read_commissioning, "[commissioning]"},
    Key{"tolerance", optional, read_tolerance, "[tolerance]"},
    Key{"shelf", optional, read_shelf, "[shelf]"},
};

/// Whether a section is present, possibly under a mistyped name.
bool has_section(const Reading& reading, const Node& root, const std::string& name) {
  return root.table.contains(name) || std::ranges::find(reading.meant, name) != reading.meant.end();
}

/// Checks which sections require another one.
void check_sections(Reading& reading, const Node& root) {
  const auto drive = root.table.find("drive");
  if (drive != root.table.end() && !has_section(reading, root, "tank")) {
    const auto kind = drive->second.table.find("kind");
    const bool written = kind != drive->second.table.end();
    const std::string_view which = written ? std::string_view(kind->second.text)
                                   : drive->second.table.contains("supply") ? PushPullDrive::kind
                                                                            : std::string_view{};
    if (uses_tank(which))
      reading.complain("drive.kind",
                       fmt::format("found a {} drive without a tank; write [tank] with "
                                   "capacitance = \"2 uF\"",
                                   which));
  }
  const auto coil = root.table.find("coil");
  if (root.table.contains("shelf") && coil != root.table.end() &&
      !(coil->second.table.contains("turns") && coil->second.table.contains("bore")))
    reading.complain("shelf",
                     "found a shelf beside a coil without turns or bore; `coilwright design` finds "
                     "them and writes cases for the other commands");
  if (root.table.contains("heat") && !has_section(reading, root, "workpiece")) {
    reading.complain(
        "heat",
        "found a heating run without anything to heat; write [workpiece], or remove [heat]");
  }
}

/// Whether a section has no mistakes.
bool is_sound(const Reading& reading, std::string_view section) {
  return std::ranges::none_of(reading.complaints, [&](const Complaint& other) {
    return other.key == section || other.key.starts_with(fmt::format("{}.", section));
  });
}

/// Moves a workpiece along the axis to the position given by its insertion.
void insert(Workpiece& piece, const Coil& coil) {
  const double bottom = extent_of(piece.outline).low;
  const double shift = extent_of(coil).high - *piece.insertion - bottom;
  for (Point& c : piece.outline.profile) c.z += shift;
  if (piece.outline.length) piece.outline.centre += shift;
}

/// A depth without a temperature means the temperature at which the steel hardens.
void fill_target(Reading& reading, Case& to) {
  if (!to.heat || !to.heat->target_depth || to.heat->target || !to.workpiece) return;
  to.heat->target = austenite_of(to);
  if (!to.heat->target && !to.workpiece->material.name.empty())
    reading.complain(
        "heat.target_depth",
        fmt::format("found a depth without a temperature; {} does not harden, so none follows from "
                    "it; write for example target = \"820 degC\" beside it",
                    to.workpiece->material.name));
}

Case read_tree(Reading& reading, const Node& root) {
  Case result;
  reading.where.at[""] = {1, 1};
  read_table<Case>(reading, {"", root, ""}, case_keys, result);
  check_sections(reading, root);
  // The default tolerance of the gap must fit into a narrow bore.
  if (!reading.where.at.contains("tolerance.gap") && result.coil.bore > 0)
    result.tolerance.gap = std::min(result.tolerance.gap, result.coil.bore / 8);
  assume_parts(reading, result);
  fill_target(reading, result);
  if (result.workpiece && result.workpiece->insertion && is_sound(reading, "coil") &&
      is_sound(reading, "workpiece"))
    insert(*result.workpiece, result.coil);
  return result;
}

/// Two axes with one key: the last would be used, and tables and pictures would show values that
/// were not solved.
void check_axes(Reading& reading, const Node& root, const Sweep& sweep) {
  std::map<std::string, std::string> first;
  for (std::size_t i = 0; i < sweep.vary.size(); ++i) {
    const std::string& key = sweep.vary[i].key;
    const std::string path = fmt::format("sweep.vary.{}.key", i);
    const auto [seen, fresh] = first.emplace(numbered(root, key), path);
    if (fresh) continue;
    const TextPlace at = reading.where.of(seen->second);
    reading.complain(path, fmt::format("found \"{}\" a second time (first in line {}, column {}); "
                                       "allowed: each key once; write all its values there, and "
                                       "remove this one",
                                       key, at.line, at.column));
  }
}

/// Checks every value of every axis alone: its mistakes must not appear after an hour of the sweep.
void check_sweep(Reading& reading, const Node& root, const Sweep& sweep) {
  check_axes(reading, root, sweep);
  Node bare = root;  // without the lists of values: it is copied for each of them
  bare.table.erase("sweep");
  for (std::size_t i = 0; i < sweep.vary.size(); ++i) {
    const SweepAxis& axis = sweep.vary[i];
    const std::string& key = axis.key;
    std::vector<std::string> values = axis.values;
    if (values.empty() && axis.range)
      values = {sweep_value(*axis.range, 0), sweep_value(*axis.range, 1)};
    const std::string path = fmt::format("sweep.vary.{}", i);
    for (std::size_t k = 0; k < values.size(); ++k) {
      Node changed = bare;
      const bool placed = !key.starts_with("sweep") && change_tree(changed, key, values[k]);
      if (!placed) {
        reading.complain(path + ".key", fmt::format("found \"{}\", which is not a key that can be "
                                                    "varied; write for example \"coil.turns\"",
                                                    key));
        break;
      }
      Reading trial;
      trial.file = reading.file;
      trial.materials = std::move(reading.materials);
      trial.files = std::move(reading.files);
      read_tree(trial, changed);
      reading.materials = std::move(trial.materials);
      reading.files = std::move(trial.files);
      const std::string at = reading.where.at.contains(fmt::format("{}.values.{}", path, k))
                                 ? fmt::format("{}.values.{}", path, k)
                                 : path;
      for (const Complaint& complaint : trial.complaints) {
        reading.complain(at, fmt::format("with {} = \"{}\": {}: {}", key, values[k], complaint.key,
                                         complaint.text));
      }
      if (!trial.complaints.empty()) break;  // the other values would mostly repeat the mistake
    }
  }
}

/// Adds the physical checks of the sections that were read without a mistake, so that sizes out of
/// range and the like are reported together with the mistakes of other sections.
void add_checks(Reading& reading, const Case& read) {
  const auto in_doubt = [&](std::string_view key) {
    return std::ranges::any_of(reading.complaints, [&](const Complaint& other) {
      const std::string table = other.key.substr(0, other.key.rfind('.') + 1);
      return !table.empty() && key.starts_with(table);
    });
  };
  Findings findings{read};
  check_sound_sections(findings,
                       [&](std::string_view section) { return is_sound(reading, section); });
  std::vector<Complaint> found;
  for (const Complaint& error : findings.errors)
    if (reading.where.at.contains(error.key) && !in_doubt(error.key)) found.push_back(error);
  std::ranges::copy(found, std::back_inserter(reading.complaints));
}

void apply(Reading& reading, Node& root, std::span<const Change> changes) {
  for (const Change& change : changes) {
    if (change_tree(root, change.key, change.value)) continue;
    reading.complain(change.key,
                     fmt::format("found no key for the changed value \"{}\"", change.value));
  }
}

/// Values from the command line have no place in the file.
void apply_set(Reading& reading, Node& root, std::span<const Change> set) {
  constexpr TextPlace nowhere{};
  for (const Change& change : set) {
    if (change_tree(root, change.key, change.value, nowhere)) continue;
    reading.where.at[change.key] = nowhere;
    reading.complain(change.key,
                     fmt::format("found no key for the value \"{}\"; allowed: a key of the case "
                                 "that holds one value; write for example coil.turns=8",
                                 change.value));
  }
}

/// "coil.turns = 9, coil.pitch = 8 mm"
std::string in_title(std::span<const Change> set) {
  std::string words;
  for (const Change& change : set)
    words += fmt::format("{}{} = {}", words.empty() ? "" : ", ", change.key, change.value);
  return words;
}

/// Sets title and fingerprint: from the text, and from the values set on the command line.
void sign_case(Case& subject, std::string_view text, std::span<const Change> set) {
  if (subject.title.empty())
    subject.title = subject.file == standard_input ? "Case from standard input"
                                                   : one_line(subject.file.stem().string());
  if (set.empty()) {
    subject.sha256 = sha256_hex(text);
    return;
  }
  const std::string words = in_title(set);
  subject.sha256 = sha256_hex(fmt::format("{}\n{}", text, words));
  subject.title = one_line(fmt::format("{}, {}", subject.title, words));
}

}  // namespace

Case read_set_case(std::string_view text, const std::filesystem::path& file,
                   std::span<const Change> set, std::span<const Change> changes) {
  Node root = parse_file(text, file, "case file");
  Reading reading;
  reading.file = file;
  apply_set(reading, root, set);
  apply(reading, root, changes);
  Case result = read_tree(reading, root);
  result.files = reading.files;
  // A case with changes is one design of a sweep that was already checked.
  if (changes.empty() && result.sweep && reading.complaints.empty())
    check_sweep(reading, root, *result.sweep);
  if (result.sweep) result.sweep->files = reading.files;
  result.file = file;
  result.where = reading.where;
  if (!reading.complaints.empty()) {
    add_checks(reading, result);
    throw LocatedCaseError(file.string(), reading.complaints);
  }
  sign_case(result, text, set);
  return result;
}

Case read_case_text(std::string_view text, const std::filesystem::path& file,
                    std::span<const Change> changes) {
  return read_set_case(text, file, {}, changes);
}

std::string case_bytes(const std::filesystem::path& file) {
  const bool from_input = file == standard_input;
  FileText text = read_file(from_input ? "/dev/stdin" : file);
  if (!text.complaint.empty())
    throw CaseError(
        {fmt::format("{}: {}", from_input ? "standard input" : file.string(), text.complaint)});
  return std::move(text.bytes);
}

Case read_case(const std::filesystem::path& file, std::span<const Change> changes) {
  return read_case_text(case_bytes(file), file, changes);
}

Case read_case(const std::filesystem::path& file) {
  return read_case(file, std::span<const Change>{});
}

}  // namespace cw::cases
