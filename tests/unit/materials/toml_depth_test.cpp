#include "materials/toml_depth.hpp"

#include <gtest/gtest.h>

#include <initializer_list>
#include <string>
#include <string_view>

#include "materials/library.hpp"

namespace cw {
namespace {

std::string dotted(int parts) {
  std::string key = "a";
  for (int k = 1; k < parts; ++k) key += k % 2 == 0 ? ".a" : " . \"b\"";
  return key;
}

std::string joined(std::initializer_list<std::string_view> parts) {
  std::string whole;
  for (const std::string_view part : parts) whole += part;
  return whole;
}

// Property: everything that our files may contain does not count as depth: dots and brackets in
// texts and comments, many numbers, many keys, sixteen levels of either kind.
TEST(TomlDepth, LetsThroughWhatIsShallow) {
  const std::string brackets(40, '['), dots(40, '.');
  std::string numbers = "k = [";
  for (int i = 0; i < 100; ++i) numbers += "1.5, ";
  for (const std::string& text :
       {"k = \"" + brackets + dots + "\"\n", "k = '" + brackets + dots + "'\n",
        "# " + brackets + dots + "\nk = 1\n",
        "k = \"\"\"\n" + brackets + "\"\" \\\"\"\" " + dots + "\"\"\"\n",
        "k = '''\n" + brackets + "''\n" + dots + "'''''\n", "k = \"\\\"" + brackets + "\"\n",
        numbers + "]\n", std::string("k = \"\"\nl = ''\n"), dotted(16) + " = 1\n",
        joined({"[", dotted(16), "]\n"}),
        joined({"k = ", std::string(16, '['), std::string(16, ']'), "\n"}), std::string()})
    EXPECT_FALSE(too_deep(text)) << text;
}

// Property: the seventeenth level is refused with its place, wherever it hides.
TEST(TomlDepth, NamesTheSeventeenthLevel) {
  const std::string deep(17, '[');
  for (const std::string& text :
       {"k = " + deep, dotted(17) + " = 1\n", joined({"[", dotted(17), "]\n"}),
        joined({"[[", dotted(17), "]]\n"}), joined({"k = { ", dotted(17), " = 1 }\n"}),
        "k = \"\" # \"\nl = " + deep, "k = '\\'\nl = " + deep, "k = \"\"\"a\"\"\"\"\"\nl = " + deep,
        "k = '''a'''''\nl = " + deep, "k = \"a\\\\\"\nl = " + deep})
    EXPECT_TRUE(too_deep(text)) << text;
  const auto found = too_deep("a = 1\nk = " + deep);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->line, 2);
  EXPECT_EQ(found->column, 21);  // "k = " and seventeen brackets
}

// Property: for a material file the message has file, line, what was found and what is allowed.
TEST(TomlDepth, IsAnsweredInAMaterialFile) {
  std::string key = "a";
  for (int k = 1; k < 40000; ++k) key += ".a";
  try {
    static_cast<void>(read_material_text("name = \"x\"\n" + key + " = 1\n", "m.toml"));
    ADD_FAILURE();
  } catch (const MaterialError& error) {
    EXPECT_EQ(std::string(error.what()),
              "m.toml:2:32: found a key of more than 16 parts; allowed: 16 at most, as a.b.c has "
              "three; write fewer dots");
  }
}

}  // namespace
}  // namespace cw
