# Writes a source file that holds the SHA-256 of everything figures come from: sources and the library of materials.
#   cmake -DROOT=$PWD -DOUTPUT=sources_sha256.cpp -P cases/run/sources_sha256.cmake
file(GLOB_RECURSE files RELATIVE ${ROOT} ${ROOT}/materials/data/*.toml)
foreach(folder mesh materials solver postproc cases)
  file(GLOB_RECURSE found RELATIVE ${ROOT} ${ROOT}/${folder}/*.cpp ${ROOT}/${folder}/*.hpp)
  list(APPEND files ${found})
endforeach()
list(SORT files)
set(all "")
foreach(file ${files})
  file(SHA256 ${ROOT}/${file} digest)
  string(APPEND all "${file} ${digest}\n")
endforeach()
string(SHA256 digest "${all}")
file(WRITE ${OUTPUT} "#include \"cases/run/build_info.hpp\"\n
namespace cw::cases {
std::string sources_sha256() {
  return \"${digest}\";
}
}  // namespace cw::cases
")
