# Installs the build into an empty prefix, builds the programs beside this file against it and runs them.
#   cmake -DBUILD=<build folder> -DWORK=<scratch folder> -DCOMPILER= -DFLAGS= -DGENERATOR= -P try.cmake
cmake_minimum_required(VERSION 3.25)

function(step)
  execute_process(COMMAND ${ARGN} RESULT_VARIABLE result OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(NOT result EQUAL 0)
    list(JOIN ARGN " " command)
    message(FATAL_ERROR "${command}\n${said}")
  endif()
  set(said "${said}" PARENT_SCOPE)
endfunction()

file(REMOVE_RECURSE ${WORK})
step(${CMAKE_COMMAND} --install ${BUILD} --prefix ${WORK}/prefix)
foreach(wanted include/coilwright/mesh/generate.hpp bin/coilwright share/coilwright/examples
        share/man/man1/coilwright.1.gz share/bash-completion/completions/coilwright)
  if(NOT EXISTS ${WORK}/prefix/${wanted})
    message(SEND_ERROR "${wanted} was not installed")
  endif()
endforeach()
step(${CMAKE_COMMAND} -S ${CMAKE_CURRENT_LIST_DIR} -B ${WORK}/build -G ${GENERATOR} -DCMAKE_BUILD_TYPE=Release
     -DCMAKE_PREFIX_PATH=${WORK}/prefix -DCMAKE_CXX_COMPILER=${COMPILER} -DCMAKE_CXX_FLAGS=${FLAGS})
step(${CMAKE_COMMAND} --build ${WORK}/build)
step(${WORK}/build/ring_inductance)
message(STATUS "${said}")
step(${WORK}/build/heater)
message(STATUS "${said}")
# A run of a heater needs no reader of case files, no store, no launcher, no optimiser, no hashes, no viewer.
file(STRINGS ${WORK}/build/heater needed REGEX "^lib[A-Za-z0-9_+.-]+[.]so")
if(needed MATCHES "libmpi|libsqlite|libnlopt|libcrypto|libvtk|libtoml")
  message(SEND_ERROR "a program that only runs a heater is linked with ${needed}")
endif()
file(REMOVE_RECURSE ${WORK})
