#include "cases/live/live_session.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <utility>

#include "cases/live/case_fields.hpp"
#include "cases/live/live_answer.hpp"
#include "cases/live/live_check.hpp"
#include "cases/live/live_sweep.hpp"
#include "cases/live/size_handles.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/write_error.hpp"

namespace cw::cases {

namespace fs = std::filesystem;

namespace {

using ReplyJson = nlohmann::ordered_json;

constexpr int bad_request = 400, not_found = 404, conflict = 409, out_of_space = 507;

LiveReply reply(const ReplyJson& json, int status = 200) {
  return {status, json.dump(-1, ' ', false, ReplyJson::error_handler_t::replace)};
}

LiveReply refuse(int status, const std::string& why) {
  return reply({{"wrong", why}}, status);
}

/// The bytes of the file; nothing if it is not there.
std::optional<std::string> held_by(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) return std::nullopt;
  return std::string(std::istreambuf_iterator<char>(stream), {});
}

/// The members of a body that are texts; nothing if it is not an object with a text.
std::optional<std::map<std::string, std::string>> texts_in(const std::string& body) {
  const ReplyJson json = ReplyJson::parse(body, nullptr, false);
  if (!json.is_object() || !json.contains("text")) return std::nullopt;
  std::map<std::string, std::string> texts;
  for (const auto& [name, value] : json.items()) {
    if (!value.is_string()) return std::nullopt;
    texts[name] = value.get<std::string>();
  }
  return texts;
}

constexpr const char* no_text = "the body must be a JSON object with the text of the case";

ReplyJson listed(const std::vector<Complaint>& complaints) {
  ReplyJson list = ReplyJson::array();
  for (const Complaint& complaint : complaints)
    list.push_back({{"line", complaint.at.line},
                    {"column", complaint.at.column},
                    {"key", complaint.key},
                    {"message", complaint.text}});
  return list;
}

ReplyJson listed(const std::vector<CaseField>& fields) {
  ReplyJson list = ReplyJson::array();
  for (const CaseField& field : fields)
    list.push_back({{"key", field.key}, {"label", field.label}, {"value", field.value}});
  return list;
}

ReplyJson listed(const std::vector<SizeHandle>& handles) {
  ReplyJson list = ReplyJson::array();
  for (const SizeHandle& h : handles)
    list.push_back({{"key", h.key},
                    {"label", h.label},
                    {"x", h.at.x},
                    {"y", h.at.y},
                    {"upright", h.upright},
                    {"number", h.number},
                    {"unit", h.unit},
                    {"per_point", h.per_point},
                    {"step", h.step},
                    {"least", h.least ? ReplyJson(*h.least) : ReplyJson()}});
  return list;
}

ReplyJson shown_drawing(const SizeDrawing& drawing) {
  return {{"svg", inlined_drawing(svg_of(drawing.canvas), "Coil and work in section, sizes in mm")},
          {"width", drawing.canvas.width},
          {"height", drawing.canvas.height},
          {"handles", listed(drawing.handles)}};
}

/// The text and the values to sweep; nothing if the body is not of that form.
std::optional<std::pair<std::string, std::vector<SweptField>>> sweep_in(const std::string& body) {
  try {
    const ReplyJson json = ReplyJson::parse(body);
    std::vector<SweptField> fields;
    for (const ReplyJson& one : json.at("keys"))
      fields.push_back({one.at("key"), one.at("from"), one.at("to"),
                        std::atoi(one.at("count").get<std::string>().c_str())});
    return std::pair(json.at("text").get<std::string>(), std::move(fields));
  } catch (const ReplyJson::exception&) {
    return std::nullopt;
  }
}

}  // namespace

LiveSession::LiveSession(fs::path file, std::string text, LiveProcesses processes)
    : file_(std::move(file)), processes_(processes), on_disk_(held_by(file_)) {
  for (const auto& [process, take] : {std::pair(&processes_.solver, &LiveSession::take),
                                      std::pair(&processes_.reporter, &LiveSession::take_report),
                                      std::pair(&processes_.sweeper, &LiveSession::take_sweep)})
    listeners_.emplace_back([this, process, take] { listen(*process, take); });
  change(ReplyJson{{"text", std::move(text)}}.dump(-1, ' ', false,
                                                   ReplyJson::error_handler_t::replace));
}

LiveSession::~LiveSession() {
  for (SolverProcess* process : {&processes_.solver, &processes_.reporter, &processes_.sweeper})
    process->stop();
  for (std::thread& listener : listeners_) listener.join();
}

LiveReply LiveSession::change(const std::string& body) {
  auto texts = texts_in(body);
  if (!texts) return refuse(bad_request, no_text);
  std::string text = std::move((*texts)["text"]);
  ReplyJson answer;
  if (texts->contains("key")) {
    if (auto changed = with_field(text, (*texts)["key"], (*texts)["value"]))
      text = std::move(*changed);
    else
      answer["field"] = "This value cannot be written into the text from here: change the text.";
  }
  const LiveCheck check = check_live(text, file_);
  const std::lock_guard lock(mutex_);
  text_ = text;
  processes_.solver.begin(++change_, check.subject ? text : "");
  computing_ = check.subject ? "the states" : "";
  accuracy_.clear();
  answer["change"] = change_;
  answer["sequence"] = note();
  answer["text"] = text;
  answer["fields"] = listed(fields_of(text));
  answer["mistakes"] = listed(check.mistakes);
  answer["warnings"] = listed(check.warnings);
  if (check.subject) answer["drawing"] = shown_drawing(size_drawing(*check.subject, text));
  answer["saved"] = on_disk_ == text;
  return reply(answer);
}

std::string LiveSession::text() const {
  const std::lock_guard lock(mutex_);
  return text_;
}

bool LiveSession::wait_for_news(std::uint64_t after, std::chrono::milliseconds most) const {
  std::unique_lock lock(mutex_);
  return noted_.wait_for(lock, most, [&] { return sequence_ > after; });
}

LiveNews LiveSession::news(std::uint64_t after) const {
  const std::lock_guard lock(mutex_);
  const ReplyJson head{{"change", change_},       {"sequence", sequence_},
                       {"computing", computing_}, {"accuracy", accuracy_},
                       {"reporting", reporting_}, {"report", report_says_},
                       {"sweep", sweep_says_}};
  std::string json = reply(head).json;
  json.back() = ',';  // the parts are JSON already
  json += "\"parts\":{";
  for (const auto& [name, part] : parts_)
    if (part.sequence > after)
      json += fmt::format("{}\"{}\":{}", json.ends_with('{') ? "" : ",", name, part.json);
  return {sequence_, json + "}}"};
}

LiveReply LiveSession::result() const {
  const std::lock_guard lock(mutex_);
  if (result_.empty()) return refuse(not_found, "no result yet");
  return {200, result_};
}

LiveReply LiveSession::save(const std::string& body) {
  const auto texts = texts_in(body);
  if (!texts) return refuse(bad_request, no_text);
  const std::string& text = texts->at("text");
  const std::lock_guard lock(mutex_);
  if (held_by(file_) != on_disk_)
    return refuse(conflict, fmt::format("{} was changed by another program: it is left as it is. "
                                        "Copy your text, and start this command again",
                                        file_.filename().string()));
  try {
    replace_file(file_, text);
  } catch (const WriteError& error) {
    return refuse(out_of_space, error.what());
  }
  on_disk_ = text;
  return reply({{"saved", file_.filename().string()}});
}

LiveReply LiveSession::report(const std::string& body) {
  const auto texts = texts_in(body);
  if (!texts) return refuse(bad_request, no_text);
  if (!check_live(texts->at("text"), file_).subject)
    return refuse(bad_request, "the case has mistakes: mend them first");
  const std::lock_guard lock(mutex_);
  if (reporting_) return refuse(conflict, "a report is being made");
  reporting_ = true;
  report_says_ = "The report is being made at accuracy normal.";
  note();
  processes_.reporter.begin(1, texts->at("text"));
  return reply({{"report", report_says_}});
}

LiveReply LiveSession::sweep(const std::string& body) {
  const auto wanted = sweep_in(body);
  if (!wanted) return refuse(bad_request, "the body must hold the text, and one or two keys");
  if (!check_live(wanted->first, file_).subject)
    return refuse(bad_request, "The case has mistakes: mend them first.");
  std::string text;
  try {
    text = swept_text(wanted->first, file_, wanted->second);
  } catch (const CaseError& error) {
    return refuse(bad_request, error.what());
  }
  const std::lock_guard lock(mutex_);
  sweep_says_ = "The sweep has started.";
  note();
  processes_.sweeper.begin(++sweep_, text);
  return reply({{"sweep", sweep_says_}});
}

std::string LiveSession::report_page() const {
  return held_by(report_folder(file_) / "report.html").value_or("");
}

std::string LiveSession::sweep_page() const {
  return held_by(sweep_folder(file_) / "report.html").value_or("");
}

void LiveSession::listen(const SolverProcess& process, Taker take) {
  SolverAnswer answer;
  while (process.next(answer)) {
    const std::lock_guard lock(mutex_);
    (this->*take)(answer);
  }
  const std::lock_guard lock(mutex_);  // the overseer was ended from outside
  computing_.clear();
  reporting_ = false;
  sweep_says_.clear();
  put("failed", ReplyJson("The process that solves has ended: start the program again.").dump());
}

std::uint64_t LiveSession::note() {
  noted_.notify_all();
  return ++sequence_;
}

void LiveSession::put(const std::string& name, std::string json) {
  parts_[name] = {note(), std::move(json)};
}

void LiveSession::take(const SolverAnswer& answer) {
  if (answer.order != change_) return;  // of a text that has been changed since
  if (answer.kind != SolverAnswer::Kind::part) {
    computing_.clear();
    note();
    if (answer.kind == SolverAnswer::Kind::death)
      put("failed", ReplyJson("The solver ended before its time: " + answer.bytes).dump());
    return;
  }
  const ReplyJson message = ReplyJson::parse(answer.bytes);
  if (message.contains("computing")) {
    computing_ = message["computing"].get<std::string>();
    note();
  }
  if (message.contains("accuracy")) {
    accuracy_ = message["accuracy"].get<std::string>();
    note();
  }
  if (message.contains("part")) put(message["part"].get<std::string>(), message["html"].dump());
  for (const char* name : {"figures", "lamps", "failed"})
    if (message.contains(name)) put(name, message[name].dump());
  if (message.contains("result")) result_ = message["result"].get<std::string>();
  if (message.contains("part")) put("failed", "\"\"");
}

void LiveSession::take_report(const SolverAnswer& answer) {
  note();
  if (answer.kind != SolverAnswer::Kind::part) {
    reporting_ = false;
    if (answer.kind == SolverAnswer::Kind::death)
      report_says_ = "The report was not made: " + answer.bytes;
    return;
  }
  const ReplyJson message = ReplyJson::parse(answer.bytes);
  if (message.contains("written"))
    report_says_ = fmt::format("Written to {}.", message["written"].get<std::string>());
  if (message.contains("failed"))
    report_says_ = "The report was not made: " + message["failed"].get<std::string>();
}

void LiveSession::take_sweep(const SolverAnswer& answer) {
  if (answer.order != sweep_) return;
  note();
  if (answer.kind != SolverAnswer::Kind::part) {
    if (answer.kind == SolverAnswer::Kind::death) sweep_says_ = "The sweep ended: " + answer.bytes;
    return;
  }
  const ReplyJson message = ReplyJson::parse(answer.bytes);
  if (message.contains("sweeping")) sweep_says_ = message["sweeping"].get<std::string>();
  if (message.contains("part")) put(message["part"].get<std::string>(), message["html"].dump());
}

}  // namespace cw::cases
