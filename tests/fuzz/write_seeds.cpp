// Writes the seeds that are not files of the project: write_seeds DIR.
#include <filesystem>
#include <fstream>

#include "tests/faults/wrong_cases.hpp"
#include "tests/fuzz/any_bytes.hpp"

int main(int count, char** arguments) {
  if (count != 2) return 2;
  const std::filesystem::path folder = arguments[1];
  for (const char* kind : {"case", "readings", "result", "designs", "stored"})
    std::filesystem::create_directories(folder / kind);
  for (const auto& wrong : cw::faults::wrong_cases(CW_WRONG_CASES))
    std::ofstream(folder / "case" / (wrong.name + ".toml")) << wrong.text;
  std::ofstream(folder / "readings/all.toml") << cw::fuzz::readings_seed();
  std::ofstream(folder / "result/full.json") << cw::fuzz::full_result_seed();
  std::ofstream(folder / "designs/all.json") << cw::fuzz::designs_seed();
  std::ofstream(folder / "stored/result.json") << cw::fuzz::stored_seed();
  std::ofstream(folder / "result/least.json") << cw::fuzz::least_result_seed();
}
