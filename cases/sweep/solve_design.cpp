#include "cases/sweep/solve_design.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <nlohmann/json.hpp>

#include "cases/check/check_case.hpp"
#include "cases/run/run_case.hpp"
#include "postproc/result/write_result.hpp"

namespace cw::cases {

namespace {

using OrderedJson = nlohmann::ordered_json;

std::string dumped(const OrderedJson& json) {
  return json.dump(-1, ' ', false, OrderedJson::error_handler_t::replace);
}

/// The result without what is common to every design of the case.
std::string compact(const Result& result) {
  OrderedJson json = OrderedJson::parse(result_json(result));
  for (const char* shared :
       {"format", "title", "version", "case_sha256", "build", "cautions", "sources", "timing"})
    json.erase(shared);
  return dumped(json);
}

/// The mistakes without the name of the file, which is the same for all designs.
std::string reasons(const std::vector<std::string>& messages, const std::string& file) {
  std::string text;
  for (std::string line : messages) {
    if (line.starts_with(file + ":")) {
      line.erase(0, file.size() + 1);
      line.erase(0, line.find(": ") + 2);  // line and column do not apply: the value is not from
                                           // the file
    }
    text += (text.empty() ? "" : "\n") + line;
  }
  return text;
}

/// A file of the design that has changed since the design was planned, so that its figures would be
/// stored under the wrong id. Empty: none.
std::string edited_file(const Case& design, const NamedFiles& planned) {
  for (const auto& [name, sha256] : design.files) {
    const auto was = planned.find(name);
    if (was == planned.end() || was->second != sha256) return name;
  }
  return {};
}

}  // namespace

std::string order_for(const std::vector<Change>& changes, const DesignMeans& means,
                      const NamedFiles& files) {
  OrderedJson json = {{"method", word(means.method)}, {"changes", OrderedJson::array()}};
  if (means.heating) json["heating"] = true;
  if (means.effort) json["accuracy"] = word(*means.effort);
  if (means.give_up) json["give_up_s"] = *means.give_up;
  for (const Change& change : changes) json["changes"].push_back({change.key, change.value});
  if (!files.empty()) json["files"] = files;
  return dumped(json);
}

DesignOutcome outcome_of(const std::string& answer) {
  const OrderedJson json = OrderedJson::parse(answer);
  return {status_of(json.at("status")), json.at("reason"), json.at("result"), json.at("mesh_s"),
          json.at("solve_s"),           json.at("total_s")};
}

std::optional<Result> DesignSolver::solve_fast(const Case& design,
                                               const std::vector<Change>& changes) {
  // Responses of rings and work hold for one frequency, so they pay only if other keys vary.
  if (changes.size() > 1)
    if (auto result = fast_->solve(design)) return result;
  if (auto result = band_->solve(design, changes)) return result;
  return fast_->solve(design);
}

DesignOutcome DesignSolver::solve_checked(const Case& design, const std::vector<Change>& changes,
                                          const DesignMeans& means) {
  if (means.method == SweepMethod::fast && !means.heating)
    if (const auto result = solve_fast(design, changes))
      return {DesignStatus::solved, "", compact(*result), 0.0, result->timing.solve,
              result->timing.total};
  RunOptions options;
  options.effort = means.effort.value_or(effort_);
  options.maker = std::ref(*meshes_);
  options.give_up = means.give_up;
  const Run run =
      means.heating ? run_case(design, options) : run_case(design, options.effort, options.maker);
  const Timing& t = run.result.timing;
  if (run.interrupted) return {DesignStatus::set_aside, "", "", t.mesh, t.solve, t.total};
  if (run.result.states.empty())
    return {DesignStatus::failed,
            fmt::format("{}", fmt::join(run.result.warnings, "\n")),
            "",
            t.mesh,
            t.solve,
            t.total};
  return {DesignStatus::solved, "", compact(run.result), t.mesh, t.solve, t.total};
}

DesignOutcome DesignSolver::solve(const std::vector<Change>& changes, const DesignMeans& means,
                                  const NamedFiles& planned) {
  try {
    const Case design = read_set_case(subject_.text, subject_.file, subject_.set, changes);
    if (const std::string name = edited_file(design, planned); !name.empty())
      return {DesignStatus::crashed,
              fmt::format("{} was edited during the sweep; run the same command again", name),
              "",
              0,
              0,
              0};
    const CheckResult found = check_case(design);
    if (found.errors.empty()) return solve_checked(design, changes, means);
    return {DesignStatus::invalid, reasons(found.errors, subject_.file.string()), "", 0, 0, 0};
  } catch (const CaseError& error) {
    return {DesignStatus::invalid, reasons(error.messages(), subject_.file.string()), "", 0, 0, 0};
  } catch (const std::exception& error) {
    return {DesignStatus::failed, error.what(), "", 0, 0, 0};
  }
}

std::string DesignSolver::operator()(const std::string& order) {
  const OrderedJson asked = OrderedJson::parse(order);
  std::vector<Change> changes;
  for (const auto& pair : asked.at("changes")) changes.push_back({pair.at(0), pair.at(1)});
  DesignMeans means{method_of(asked.at("method")), asked.contains("heating")};
  if (asked.contains("accuracy")) means.effort = effort_of(asked.at("accuracy"));
  if (asked.contains("give_up_s")) means.give_up = asked.at("give_up_s");
  const DesignOutcome outcome = solve(changes, means, asked.value("files", NamedFiles{}));
  return dumped({{"status", word(outcome.status)},
                 {"reason", outcome.reason},
                 {"result", outcome.result},
                 {"mesh_s", outcome.mesh_s},
                 {"solve_s", outcome.solve_s},
                 {"total_s", outcome.total_s}});
}

}  // namespace cw::cases
