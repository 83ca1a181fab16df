# The Debian package: cmake --build build/release --target package. It holds the program with its manual page,
# completion, examples, schemas and the list of the libraries in it, but not the libraries and headers for developers.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME coilwright)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
# An address reserved for examples (RFC 2606): whoever distributes the package sets their own here.
set(CW_CONTACT "coilwright maintainers <coilwright@example.org>" CACHE STRING "Maintainer of the Debian package")
set(CPACK_PACKAGE_CONTACT ${CW_CONTACT})
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "work coils for induction heating, computed before copper is bent")
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/LICENSE)
set(CPACK_COMPONENTS_ALL program)
set(CPACK_COMPONENTS_GROUPING ALL_COMPONENTS_IN_ONE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# The font is found by its file, not through a library.
set(CPACK_DEBIAN_PACKAGE_DEPENDS fonts-dejavu-core)
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
    "Axisymmetric finite-element eddy-current solver for work coils round a
 workpiece, coupled to tank, drive and heat: what will heat, how fast, and
 which part gives out first.")
include(CPack)

# compressed(<output> <file>): for manual and changelog (Debian policy 12.1, 12.7); the same file gives the same bytes.
find_program(GZIP gzip REQUIRED)
function(compressed output file)
  add_custom_command(OUTPUT ${output} COMMAND ${GZIP} -9n < ${file} > ${output} DEPENDS ${file} VERBATIM)
endfunction()

# Manual page and completion, from the option table of the program itself.
set(manual ${CMAKE_CURRENT_BINARY_DIR}/coilwright.1)
set(completion ${CMAKE_CURRENT_BINARY_DIR}/coilwright)
add_custom_command(OUTPUT ${manual} ${completion}.bash ${completion}.zsh ${completion}.fish
  COMMAND $<TARGET_FILE:coilwright> manual man > ${manual}
  COMMAND $<TARGET_FILE:coilwright> manual bash > ${completion}.bash
  COMMAND $<TARGET_FILE:coilwright> manual zsh > ${completion}.zsh
  COMMAND $<TARGET_FILE:coilwright> manual fish > ${completion}.fish
  DEPENDS coilwright VERBATIM)
set(changelog ${CMAKE_CURRENT_BINARY_DIR}/changelog)
configure_file(${CMAKE_CURRENT_LIST_DIR}/changelog.in ${changelog} @ONLY)
compressed(${manual}.gz ${manual})
compressed(${changelog}.gz ${changelog})
add_custom_target(manual ALL DEPENDS ${manual}.gz ${completion}.bash ${changelog}.gz)
install(FILES ${changelog}.gz ${CMAKE_CURRENT_LIST_DIR}/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program
  OPTIONAL)
install(FILES ${manual}.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program OPTIONAL)
install(FILES ${completion}.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME coilwright
  COMPONENT program OPTIONAL)
# Folders in which the Debian packages of both shells look for completions of other packages.
install(FILES ${completion}.zsh DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions RENAME _coilwright
  COMPONENT program OPTIONAL)
install(FILES ${completion}.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d
  COMPONENT program OPTIONAL)

# The libraries that the program is linked with or contains, by package, version and licence (SPDX 2.3), on the machine
# of the build; cw_compiled_in holds a file of each library that consists only of headers.
find_program(PYTHON3 python3)
find_program(DPKG_QUERY dpkg-query)
if(PYTHON3 AND DPKG_QUERY)
  set(bill ${CMAKE_CURRENT_BINARY_DIR}/coilwright.spdx.json)
  get_property(compiled_in GLOBAL PROPERTY cw_compiled_in)
  add_custom_command(OUTPUT ${bill}
    COMMAND ${PYTHON3} ${CMAKE_CURRENT_LIST_DIR}/bill_of_materials.py $<TARGET_FILE:coilwright> ${PROJECT_VERSION} ${bill}
            ${compiled_in}
    DEPENDS coilwright ${CMAKE_CURRENT_LIST_DIR}/bill_of_materials.py VERBATIM)
  add_custom_target(bill_of_materials DEPENDS ${bill})
  install(FILES ${bill} DESTINATION ${CMAKE_INSTALL_DATADIR}/coilwright COMPONENT program OPTIONAL)
endif()
