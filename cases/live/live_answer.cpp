#include "cases/live/live_answer.hpp"

#include <fmt/format.h>

#include <chrono>
#include <nlohmann/json.hpp>

#include "cases/compare/first_power.hpp"
#include "cases/live/live_check.hpp"
#include "cases/live/live_parts.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_result.hpp"

namespace cw::cases {

namespace fs = std::filesystem;

namespace {

using Message = nlohmann::ordered_json;

constexpr const char* small_heater = R"(
[coil]
turns = 2
bore = "20 mm"
pitch = "8 mm"
conductor = { tube = "6 mm", wall = "1 mm" }
[drive]
kind = "current"
frequency = "100 kHz"
rms = "100 A"
[workpiece]
material = "steel-low-carbon"
diameter = "10 mm"
length = "20 mm"
)";

/// Sends messages; text that is not UTF-8 is made so.
class Teller {
 public:
  explicit Teller(const SendMessage& send) : send_(send) {}
  void tell(const Message& message) const {
    send_(message.dump(-1, ' ', false, Message::error_handler_t::replace));
  }
  void computing(const std::string& what) const { tell({{"computing", what}}); }
  void part(const char* id, const std::string& html) const { tell({{"part", id}, {"html", html}}); }

 private:
  const SendMessage& send_;
};

void tell_figures(const Run& run, const Teller& teller) {
  Message rows = Message::array();
  for (const auto& [name, value] : compared_figures(run.result)) rows.push_back({name, value});
  teller.tell({{"figures", rows}});
}

void tell_lamps(const Run& run, const Teller& teller) {
  nlohmann::json lamps = nlohmann::json::array();
  for (const LimitLamp& lamp : limit_lamps(run.result))
    lamps.push_back({{"part", lamp.part},
                     {"state", lamp.state},
                     {"word", lamp.word},
                     {"nearness", lamp.nearness}});
  teller.tell({{"lamps", lamps}});
}

/// Everything that is known of the run apart from pictures, the quick parts first.
void tell_run(const Run& run, bool heating_follows, const Teller& teller) {
  teller.part("verdict", verdict_part(run.result, heating_follows));
  teller.part("states", states_part(run.result.states));
  teller.part("limits", limits_part(run.result));
  tell_lamps(run, teller);
  teller.part("warnings", warnings_part(run.result));
  teller.part("care", care_part(run.result));
  teller.part("cautions", cautions_part(run.result));
  tell_figures(run, teller);
  teller.tell({{"result", result_json(run.result)}});
}

using WarningAdder = std::function<void(Run&)>;

bool heats(const Case& subject) {
  return subject.heat && subject.workpiece;
}

/// Passes on how far the heating is, at most five times a second.
std::function<void(const HeatingMoment&)> heating_told(const Teller& teller) {
  using Clock = std::chrono::steady_clock;
  return [&teller, last = Clock::time_point()](const HeatingMoment& m) mutable {
    if (Clock::now() - last < std::chrono::milliseconds(200)) return;
    last = Clock::now();
    teller.computing(
        fmt::format("the heating run, {:.0f} s and {:.0f} \u00b0C at the surface so far", m.time,
                    m.surface - zero_celsius));
  };
}

void tell_states(Run& run, const Case& subject, const Teller& teller) {
  tell_run(run, heats(subject), teller);
  teller.computing("the drawings");
  teller.part("demand", demand_part(run.result));
  teller.part("field", field_part(run, subject));
  if (heats(subject)) teller.computing("the heating run");
}

/// Quickly, each part as soon as it is known.
void solve_in_steps(const Case& subject, const WarningAdder& add_warnings, const Teller& teller) {
  RunOptions options;
  options.effort = Effort::fast;
  options.progress = heating_told(teller);
  options.state_solved = [&](const std::vector<StateResult>& states) {
    teller.part("states", states_part(states));
  };
  options.states_solved = [&](Run& run) {
    add_warnings(run);
    tell_states(run, subject, teller);
  };
  teller.computing("the states");
  Run run = run_case(subject, options);
  if (heats(subject)) {
    add_warnings(run);
    tell_run(run, false, teller);
  }
  teller.part("heating", heats(subject) ? heating_part(run.result) : "");
}

/// At the accuracy of `run`, told when it is whole.
void solve_as_run_does(const Case& subject, const WarningAdder& add_warnings,
                       const Teller& teller) {
  teller.computing("the same");
  Run run = run_case(subject, RunOptions{});
  add_warnings(run);
  tell_run(run, false, teller);
  teller.part("demand", demand_part(run.result));
  teller.part("field", field_part(run, subject));
  teller.part("heating", heats(subject) ? heating_part(run.result) : "");
}

void solve_and_tell(const Case& subject, const std::vector<std::string>& warnings,
                    const Teller& teller) {
  const auto add_warnings = [&](Run& run) {
    for (const std::string& line : warnings) run.result.warnings.push_back(line);
  };
  solve_in_steps(subject, add_warnings, teller);
  teller.tell({{"accuracy", "fast"}});
  solve_as_run_does(subject, add_warnings, teller);
  teller.tell({{"accuracy", "normal"}});
}

/// Runs `solve` on the case; what goes wrong becomes a message.
template <class Solve>
void with_case(const std::string& text, const fs::path& file, const Teller& teller,
               const Solve& solve) {
  try {
    const LiveCheck check = check_live(text, file);
    if (!check.subject) throw CaseError(as_lines(file.filename().string(), check.mistakes));
    solve(*check.subject, as_lines(file.filename().string(), check.warnings));
  } catch (const std::bad_alloc&) {
    teller.tell({{"failed", "out of memory: try a lower frequency or a shorter workpiece"}});
  } catch (const std::exception& error) {
    teller.tell({{"failed", error.what()}});
  }
}

}  // namespace

void warm_up() {
  try {
    run_case(read_case_text(small_heater, "small.toml"), Effort::fast);
  } catch (const std::exception&) {
    return;  // the case to be solved will tell
  }
}

void answer_live(const std::string& text, const fs::path& file, const SendMessage& send) {
  const Teller teller(send);
  with_case(text, file, teller, [&](const Case& subject, const std::vector<std::string>& warnings) {
    solve_and_tell(subject, warnings, teller);
  });
}

void report_live(const std::string& text, const fs::path& file, const SendMessage& send) {
  const Teller teller(send);
  with_case(text, file, teller, [&](const Case& subject, const std::vector<std::string>& warnings) {
    const fs::path folder = report_folder(file);
    require_result_directory(folder);
    RunOptions options;
    options.further = options.advise = true;
    Run run = run_case(subject, options);
    run.result.commissioning = commissioning_of(subject);
    for (const std::string& line : warnings) run.result.warnings.push_back(line);
    write_run(run, subject, folder);
    teller.tell({{"written", folder.filename().string()}});
  });
}

fs::path report_folder(const fs::path& file) {
  return file.parent_path() / (file.stem().string() + "-results");
}

}  // namespace cw::cases
