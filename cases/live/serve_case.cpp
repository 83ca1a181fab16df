#include "cases/live/serve_case.hpp"

#include <fmt/format.h>
#include <httplib.h>

#include <charconv>
#include <nlohmann/json.hpp>

#include "cases/complaint.hpp"
#include "cases/live/event_stream.hpp"
#include "cases/live/live_answer.hpp"
#include "cases/live/live_page.hpp"
#include "cases/live/live_session.hpp"
#include "cases/live/live_sweep.hpp"
#include "cases/live/request_guard.hpp"

namespace cw::cases {

namespace {

using Asked = httplib::Request;
using Told = httplib::Response;

std::optional<std::uint64_t> number_in(const std::string& text) {
  std::uint64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return number;
}

RequestHead head_of(const Asked& asked, const RequestGuard& guard) {
  RequestHead head;
  head.method = asked.method;
  head.path = asked.path;
  head.host = asked.get_header_value("Host");
  head.origin = asked.get_header_value("Origin");
  head.token = asked.get_header_value("X-Coilwright-Token");
  if (head.token.empty())
    head.token = cookie_in(asked.get_header_value("Cookie"), guard.cookie_name());
  // The printed address opens the page, and nothing else.
  if (asked.method == "GET" && asked.path == "/" && asked.has_param("token"))
    head.token = asked.get_param_value("token");
  head.content_type = asked.get_header_value("Content-Type");
  if (asked.has_header("Content-Length")) {
    const auto length = number_in(asked.get_header_value("Content-Length"));
    head.content_length = length.value_or(RequestGuard::largest_body + 1);
  }
  head.encoded = asked.has_header("Transfer-Encoding") || asked.has_header("Content-Encoding");
  return head;
}

void answer_with(const LiveReply& reply, Told& told) {
  told.status = reply.status;
  told.set_content(reply.json, "application/json");
}

void add_page(httplib::Server& server, const RequestGuard& guard, const LiveSession& session,
              const std::string& name) {
  server.Get("/", [&, name](const Asked& /*asked*/, Told& told) {
    const LivePage page = live_page(name, session.text());
    told.set_header("Content-Security-Policy", page.policy);
    told.set_header("Set-Cookie", fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict",
                                              guard.cookie_name(), guard.token()));
    told.set_content(page.html, "text/html; charset=utf-8");
  });
}

/// A page that lost its stream says what it heard last; a new one asks for what follows `after`.
void add_events(httplib::Server& server, const LiveSession& session, EventStreams& streams) {
  server.Get("/events", [&](const Asked& asked, Told& told) {
    const auto heard = number_in(asked.get_header_value("Last-Event-ID"));
    const auto after = heard ? heard : number_in(asked.get_param_value("after"));
    const auto stream = std::make_shared<EventStream>(session, streams, after.value_or(0));
    told.set_chunked_content_provider(
        "text/event-stream", [stream](std::size_t /*sent*/, httplib::DataSink& sink) {
          const std::optional<std::string> bytes = stream->next();
          if (!bytes) sink.done();
          return !bytes || bytes->empty() || sink.write(bytes->data(), bytes->size());
        });
  });
}

void add_answers(httplib::Server& server, LiveSession& session) {
  server.Get("/result",
             [&](const Asked& /*asked*/, Told& told) { answer_with(session.result(), told); });
  const auto show = [](const std::string& page, Told& told) {
    told.status = page.empty() ? 404 : 200;
    told.set_content(page, "text/html; charset=utf-8");
  };
  server.Get("/report", [&session, show](const Asked& /*asked*/, Told& told) {
    show(session.report_page(), told);
  });
  server.Get("/sweep", [&session, show](const Asked& /*asked*/, Told& told) {
    show(session.sweep_page(), told);
  });
  server.Post("/sweep", [&](const Asked& asked, Told& told) {
    answer_with(session.sweep(asked.body), told);
  });
  server.Post("/change", [&](const Asked& asked, Told& told) {
    answer_with(session.change(asked.body), told);
  });
  server.Post("/save",
              [&](const Asked& asked, Told& told) { answer_with(session.save(asked.body), told); });
  server.Post("/report", [&](const Asked& asked, Told& told) {
    answer_with(session.report(asked.body), told);
  });
}

void add_starters(httplib::Server& server, const std::vector<LiveStarter>& starters) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const LiveStarter& one : starters)
    list.push_back({{"name", one.name}, {"title", one.title}, {"text", one.text}});
  server.Get("/starters", [json = nlohmann::ordered_json{{"starters", list}}.dump()](
                              const Asked& /*asked*/, Told& told) {
    told.set_content(json, "application/json");
  });
}

void set_up(httplib::Server& server, const RequestGuard& guard) {
  // One request for each connection: what follows a refused one is never read.
  server.set_keep_alive_max_count(1);
  // Every stream of events holds a thread; so does whoever connects and says nothing, for a second.
  constexpr std::size_t for_requests = 16;
  server.new_task_queue = [] { return new httplib::ThreadPool(EventStreams::most + for_requests); };
  server.set_keep_alive_timeout(1);
  server.set_read_timeout(2);
  server.set_payload_max_length(RequestGuard::largest_body);
  server.set_default_headers({{"Cache-Control", "no-store"},
                              {"X-Content-Type-Options", "nosniff"},
                              {"Referrer-Policy", "no-referrer"},
                              {"Cross-Origin-Resource-Policy", "same-origin"}});
  server.set_pre_routing_handler([&guard](const Asked& asked, Told& told) {
    const int status = guard.refusal(head_of(asked, guard));
    if (status == 0) return httplib::Server::HandlerResponse::Unhandled;
    told.status = status;
    told.set_content(fmt::format("{}\n", status), "text/plain");
    return httplib::Server::HandlerResponse::Handled;
  });
}

/// Binds to the port, or to any free one; the port.
int bound_port(httplib::Server& server, int wanted) {
  constexpr const char* here = "127.0.0.1";
  if (wanted == 0) {
    const int port = server.bind_to_any_port(here);
    if (port > 0) return port;
  } else if (server.bind_to_port(here, wanted)) {
    return wanted;
  }
  throw CaseError({fmt::format(
      "--port: found {}, which is in use or not allowed; write another, or leave --port out",
      wanted)});
}

}  // namespace

void serve_case(const LiveOptions& options, const std::function<void(const std::string&)>& ready) {
  const std::filesystem::path file = std::filesystem::absolute(options.file);
  SolverProcess solver([&](const std::string& text,
                           const SolverProcess::Send& send) { answer_live(text, file, send); },
                       warm_up);
  SolverProcess sweeper([&](const std::string& text, const SolverProcess::Send& send) {
    sweep_live(text, file, send);
  });
  SolverProcess reporter([&](const std::string& text, const SolverProcess::Send& send) {
    report_live(text, file, send);
  });
  httplib::Server server;
  server.set_socket_options([](socket_t) {});  // a port that another program serves is not shared
  const RequestGuard guard(bound_port(server, options.port), random_token());
  LiveSession session(file, options.text, {solver, reporter, sweeper});
  set_up(server, guard);
  add_page(server, guard, session, file.filename().string());
  EventStreams streams;
  add_events(server, session, streams);
  add_answers(server, session);
  add_starters(server, options.starters);
  ready(guard.address());
  server.listen_after_bind();
}

}  // namespace cw::cases
