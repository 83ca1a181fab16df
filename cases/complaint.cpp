#include "cases/complaint.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "materials/one_line.hpp"

namespace cw::cases {

CaseError::CaseError(std::vector<std::string> messages)
    : std::runtime_error(fmt::format("{}", fmt::join(messages, "\n"))),
      messages_(std::move(messages)) {}

LocatedCaseError::LocatedCaseError(const std::string& file, std::vector<Complaint> complaints)
    : CaseError(as_lines(file, complaints)), complaints_(in_order(std::move(complaints))) {}

std::string as_line(const std::string& file, const Complaint& complaint) {
  const std::string_view name = file == standard_input ? "standard input" : std::string_view(file);
  const bool in_file = complaint.at.line > 0;
  std::string line =
      in_file ? fmt::format("{}:{}:{}: ", name, complaint.at.line, complaint.at.column) : "--set ";
  if (!complaint.key.empty()) line += complaint.key + ": ";
  line += complaint.text;
  return one_line(line);
}

std::vector<Complaint> in_order(std::vector<Complaint> complaints) {
  std::ranges::stable_sort(complaints, [](const Complaint& a, const Complaint& b) {
    return std::pair(a.at.line, a.at.column) < std::pair(b.at.line, b.at.column);
  });
  return complaints;
}

std::vector<std::string> as_lines(const std::string& file, std::vector<Complaint> complaints) {
  std::vector<std::string> lines;
  lines.reserve(complaints.size());
  for (const Complaint& complaint : in_order(std::move(complaints)))
    lines.push_back(as_line(file, complaint));
  return lines;
}

void require_supply(const Case& subject, std::string_view who) {
  if (supply_of(subject.drive) != nullptr) return;
  throw CaseError({as_line(
      subject.file.string(),
      {subject.where.of("drive.kind"), "drive.kind",
       fmt::format(
           "found a drive of fixed frequency; {} push-pull drive; write kind = \"push-pull\", a "
           "supply and a [tank]",
           who)})});
}

}  // namespace cw::cases
