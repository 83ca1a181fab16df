// A short fuzz run: the readers get files of the project with random changes, the same on every
// machine. `./dev fuzz` is the long run, guided by coverage.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

#include "tests/fuzz/any_bytes.hpp"
#include "tests/fuzz/spoil_json.hpp"

namespace cw::fuzz {
namespace {

namespace fs = std::filesystem;

const fs::path root = fs::absolute(fs::path(__FILE__)).parent_path().parent_path().parent_path();

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// All files of a folder, in the order of their names.
std::vector<std::string> files_of(const fs::path& folder) {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(folder)) paths.push_back(entry.path());
  std::ranges::sort(paths);
  std::vector<std::string> texts;
  texts.reserve(paths.size());
  for (const auto& path : paths) texts.push_back(bytes_of(path));
  return texts;
}

/// Difficult input for readers: ends of ranges, brackets without a partner, escapes, invalid UTF-8.
constexpr std::array tokens{"\"",    "'",  "[",      "]",    "{",        "}",      "=",
                            "\n",    "\\", "nan",    "-inf", "1e999",    "-1",     "0",
                            "1e308", "#",  "\x1b[",  "\x7f", "\xc2\x9b", "\xff",   "\xe2\x82",
                            ".",     ",",  "\"\"\"", "null", "true",     "1e-320", "[[[[[[[["};

/// Changes one to four places of a text.
class Spoiler {
 public:
  explicit Spoiler(unsigned seed) : engine_(seed) {}

  std::string operator()(const std::vector<std::string>& seeds) {
    std::string text = seeds[below(seeds.size())];
    for (std::size_t changes = 1 + below(4); changes > 0; --changes)
      change(text, seeds[below(seeds.size())]);
    return text;
  }

 private:
  std::size_t below(std::size_t n) { return n == 0 ? 0 : engine_() % n; }

  void change(std::string& text, const std::string& other) {
    const std::size_t at = below(text.size() + 1),
                      most = std::min<std::size_t>(text.size() - at, 20);
    const std::size_t length = below(most + 1), from = below(other.size() + 1);
    switch (below(6)) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(at, tokens[below(tokens.size())]);
        break;
      case 2:
        text.replace(at, length, tokens[below(tokens.size())]);
        break;
      case 3:
        if (at < text.size()) text[at] = static_cast<char>(below(256));
        break;
      case 4:
        text.insert(at, other.substr(from, below(60)));
        break;
      default:
        text.insert(at, text.substr(below(at + 1), below(60)));
    }
  }

  std::mt19937 engine_;
};

struct Reader {
  const char* name;
  void (*any)(std::string_view);
  int inputs;  ///< number of inputs that takes some seconds
  std::vector<std::string> (*seeds)();
};

/// Name of the test; gtest would print the bytes, which change from start to start.
void PrintTo(const Reader& reader, std::ostream* out) {
  *out << reader.name;
}

const std::array readers{
    Reader{"case", any_case, 4000, [] { return files_of(root / "cases/examples"); }},
    Reader{"material", any_material, 4000, [] { return files_of(root / "materials/data"); }},
    Reader{"readings", any_readings, 4000, [] { return std::vector{readings_seed()}; }},
    Reader{"result", any_result, 2000,
           [] {
             return std::vector{full_result_seed(), least_result_seed()};
           }},
    Reader{"designs", any_designs, 500, [] { return std::vector{designs_seed()}; }},
    Reader{"stored", any_stored, 500, [] { return std::vector{stored_seed()}; }},
};

class AnyBytes : public testing::TestWithParam<Reader> {
 protected:
  static void read(std::string_view bytes) {
    try {
      GetParam().any(bytes);
    } catch (const std::exception& error) {
      ADD_FAILURE() << error.what() << "\nfrom\n" << bytes;
    }
  }
};

// Property: the files of the project are read without error.
TEST_P(AnyBytes, Seeds) {
  ASSERT_FALSE(GetParam().seeds().empty());
  for (const auto& text : GetParam().seeds()) read(text);
}

// Property: randomly changed files give a valid object or clean messages.
TEST_P(AnyBytes, EndInAnObjectOrCleanMessages) {
  Spoiler spoil(20);
  const auto seeds = GetParam().seeds();
  for (int i = 0; i < GetParam().inputs && !HasFailure(); ++i) read(spoil(seeds));
}

// Property: a result that is valid JSON with wrong values is refused, or makes a page.
TEST(SpoiltResult, IsRefusedOrMakesAPage) {
  std::mt19937 engine(1);
  for (int i = 0; i < 1000; ++i) {
    const std::string text =
        spoil_json(i % 2 == 0 ? full_result_seed() : least_result_seed(), engine);
    ASSERT_NO_THROW(any_result(text)) << text;
  }
}

// Property: the same for the designs of a sweep, and for a row of its store.
TEST(SpoiltDesigns, AreRefusedOrMakeAPage) {
  std::mt19937 engine(2);
  for (int i = 0; i < 500; ++i) {
    const std::string designs = spoil_json(designs_seed(), engine);
    ASSERT_NO_THROW(any_designs(designs)) << designs;
    const std::string row = spoil_json(stored_seed(), engine);
    ASSERT_NO_THROW(any_stored(row)) << row;
  }
}

// Property: a hundred thousand levels of nesting give a clean message from every reader: no stack
// is deep enough for code that recurses once per level.
TEST_P(AnyBytes, DeepNestingGivesACleanMessage) {
  constexpr std::size_t deep = 100000;
  std::string key = "a", tables = "k = ";
  for (std::size_t k = 0; k < deep; ++k) {
    key += ".a";
    tables += "{ a = ";
  }
  for (const std::string& text :
       {key + " = 1\n", "[" + key + "]\n", "[[" + key + "]]\n", "k = { " + key + " = 1 }\n", tables,
        "k = " + std::string(deep, '[') + std::string(deep, ']') + "\n", std::string(deep, '['),
        "{\"format\": " + std::string(deep, '[') + std::string(deep, ']') + "}"})
    read(text);
}

INSTANTIATE_TEST_SUITE_P(Readers, AnyBytes, testing::ValuesIn(readers),
                         [](const auto& reader) { return std::string(reader.param.name); });

// Property: the check itself refuses terminal controls, invalid text and lines without their file.
// their file.
TEST(CleanMessage, RefusesTheOthers) {
  EXPECT_NO_THROW(demand_clean_message("fuzz.file:1:2: found \"\xc3\xa9\""));
  for (const char* message : {"", "no file", "fuzz.file: \x1b[2J", "fuzz.file: \x7f",
                              "fuzz.file: \xc2\x9b", "fuzz.file: \xff", "fuzz.file: a\nb"})
    EXPECT_THROW(demand_clean_message(message), std::logic_error) << message;
}

}  // namespace
}  // namespace cw::fuzz
