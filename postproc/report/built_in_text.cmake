# Writes OUTPUT, a C++ source whose function NAME gives the text of the files INPUT (separated by |), one after the other
# (cmake -P, see CMakeLists.txt). HEADER declares it; left out: that of the report.
if(NOT HEADER)
  set(HEADER postproc/report/built_in_text.hpp)
endif()
set(text "")
string(REPLACE "|" ";" files "${INPUT}")
foreach(file IN LISTS files)
  file(READ ${file} part)
  string(APPEND text "${part}")
endforeach()
file(WRITE ${OUTPUT} "#include \"${HEADER}\"

namespace cw {

std::string_view ${NAME}() {
  return R\"cw_text(${text})cw_text\";
}

}  // namespace cw
")
