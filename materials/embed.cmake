# Writes OUTPUT, a C++ source whose FUNCTION, declared in HEADER, gives every *.toml of DIRECTORY as a raw string
# (cmake -P, see CMakeLists.txt).
file(GLOB files ${DIRECTORY}/*.toml)
list(SORT files)
set(rows "")
foreach(file ${files})
  cmake_path(GET file STEM name)
  file(READ ${file} text)
  string(APPEND rows "    EmbeddedFile{\"${name}\", R\"cw_toml(${text})cw_toml\"},\n")
endforeach()
file(WRITE ${OUTPUT} "#include \"${HEADER}\"

#include <array>

namespace cw {
namespace {
constexpr std::array files = {
${rows}};
}  // namespace

std::span<const EmbeddedFile> ${FUNCTION}() { return files; }

}  // namespace cw
")
