#include <fmt/format.h>

#include <malloc.h>
#include <unistd.h>
#include <CLI/CLI.hpp>

#include <csignal>
#include <new>
#include <sstream>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/read/read_case.hpp"
#include "materials/library.hpp"
#include "postproc/result/write_error.hpp"

namespace {

using namespace cw::cases;

int dispatch(int argc, char** argv) {
  CLI::App app{
      "Calculates work coils for induction heating before you bend copper: what heats, how fast, "
      "and which part reaches its limit first"};
  app.name("coilwright");
  app.set_version_flag("--version", "coilwright " CW_VERSION);
  app.require_subcommand(1);
  Work work;
  for (const auto add :
       {add_new, add_check, add_materials, add_round, add_run, add_live, add_metals, add_report,
        add_design, add_sweep, add_supply, add_tolerance, add_compare, add_manual})
    add(app, work);
  app.formatter_fn([](const CLI::App* all, std::string /*name*/, CLI::AppFormatMode /*mode*/) {
    return welcome(command_table(*all));
  });
  for (CLI::App* command : app.get_subcommands({}))
    command->formatter_fn(
        [](const CLI::App* one, std::string /*name*/, CLI::AppFormatMode /*mode*/) {
          return command_help("coilwright", command_entry(*one));
        });
  if (argc < 2) {
    say(app.help());
    return solved;
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return answer(app, error);
  }
  return work();
}

int complain(int code, const char* what) {
  tell(fmt::format("{}\n", what));
  return code;
}

}  // namespace

int main(int argc, char** argv) {
  // Solutions allocate and free megabytes: with the default, every one would be mapped anew, page
  // by page, which costs some per cent of a run.
  mallopt(M_MMAP_THRESHOLD, 1 << 30);
  mallopt(M_TRIM_THRESHOLD, 1 << 30);
  // A file beyond the size limit, or a closed pipe, is an error to report; it must not end the
  // program.
  std::signal(SIGXFSZ, SIG_IGN);
  std::signal(SIGPIPE, SIG_IGN);
  // Ctrl-C while nothing can be lost (otherwise: StopSignal, Fresh).
  std::signal(SIGINT, [](int) { ::_exit(stopped_by_user); });
  claim_standard_streams();
  try {
    const int code = dispatch(argc, argv);
    if (output_failed() && (code == solved || code == stopped_by_user))
      return complain(out_of_means, "the output could not be written; is the disk full?");
    return code;
  } catch (const CaseError& error) {
    return complain(input_wrong, error.what());
  } catch (const cw::MaterialError& error) {
    return complain(input_wrong, error.what());
  } catch (const std::invalid_argument& error) {
    return complain(input_wrong, error.what());
  } catch (const cw::WriteError& error) {
    return complain(out_of_means, error.what());
  } catch (const std::bad_alloc&) {
    return complain(out_of_means,
                    "out of memory: try --accuracy fast, a lower frequency or a shorter workpiece");
  } catch (const std::exception& error) {
    return complain(not_solved, error.what());
  }
}
