# Packs the build as ./dev package does and asks lintian, Debian's own judge of packages, about it.
#   cmake -DBUILD=<build folder> -DWORK=<scratch folder> -P try.cmake
cmake_minimum_required(VERSION 3.25)

find_program(LINTIAN lintian)
find_program(SHLIBDEPS dpkg-shlibdeps)
if(NOT LINTIAN OR NOT SHLIBDEPS)
  message(STATUS "skipped: lintian or dpkg-dev is not installed")
  return()
endif()
file(REMOVE_RECURSE ${WORK})
execute_process(COMMAND ${CMAKE_CPACK_COMMAND} --config ${BUILD}/CPackConfig.cmake -B ${WORK}
                RESULT_VARIABLE result OUTPUT_VARIABLE said ERROR_VARIABLE said)
file(GLOB package ${WORK}/*.deb)
if(NOT result EQUAL 0 OR NOT package)
  message(FATAL_ERROR "no package was made: ${said}")
endif()
execute_process(COMMAND ${LINTIAN} --fail-on error,warning ${package}
                RESULT_VARIABLE result OUTPUT_VARIABLE said ERROR_VARIABLE said)
if(NOT result EQUAL 0)
  message(FATAL_ERROR "${said}")
endif()
file(REMOVE_RECURSE ${WORK})
