# Writes OUTPUT, a C++ source that carries the style sheet INPUT as a raw string (cmake -P, see CMakeLists.txt).
file(READ ${INPUT} text)
file(WRITE ${OUTPUT} "#include \"postproc/report/report_style.hpp\"

namespace cw {

std::string_view report_style() {
  return R\"cw_css(${text})cw_css\";
}

}  // namespace cw
")
