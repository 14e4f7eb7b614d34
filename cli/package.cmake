# What is installed, and the Debian package: `cmake --install build/release`, `cpack -G DEB` in build/release. docs/packaging.md says more.
include(GNUInstallDirs)

# The manual page and the completion scripts are written by the program itself, from its table of commands: they cannot say something else.
set(pages ${CMAKE_BINARY_DIR}/pages)
find_program(LEADLINE_GZIP gzip REQUIRED)
file(MAKE_DIRECTORY ${pages})
add_custom_command(OUTPUT ${pages}/leadline.1.gz ${pages}/leadline.bash ${pages}/_leadline ${pages}/leadline.fish ${pages}/changelog.gz
  COMMAND leadline help --manual > ${pages}/leadline.1
  COMMAND ${LEADLINE_GZIP} -9nf ${pages}/leadline.1
  COMMAND leadline completion bash > ${pages}/leadline.bash
  COMMAND leadline completion zsh > ${pages}/_leadline
  COMMAND leadline completion fish > ${pages}/leadline.fish
  COMMAND ${LEADLINE_GZIP} -9nc ${CMAKE_SOURCE_DIR}/docs/changelog > ${pages}/changelog.gz
  DEPENDS leadline ${CMAKE_SOURCE_DIR}/docs/changelog VERBATIM)
add_custom_target(leadline_pages ALL DEPENDS ${pages}/leadline.1.gz)

install(TARGETS leadline RUNTIME)
install(FILES ${pages}/leadline.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${pages}/leadline.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME leadline)
install(FILES ${pages}/leadline.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
# zsh looks for what a package brings in another folder than for what the machine's owner installs.
install(CODE [[
  set(LEADLINE_ZSH site-functions)
  if(CMAKE_INSTALL_PREFIX MATCHES "/usr$")
    set(LEADLINE_ZSH vendor-completions)
  endif()]])
install(FILES ${pages}/_leadline DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/\${LEADLINE_ZSH})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)  # the name Debian looks for
install(FILES README.md ${pages}/changelog.gz DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY docs/ DESTINATION ${CMAKE_INSTALL_DOCDIR} FILES_MATCHING PATTERN "*.md" PATTERN "*.json")

set(CPACK_PACKAGE_CONTACT "The Leadline authors <leadline@example.org>")
set(CPACK_PACKAGE_VENDOR "the Leadline authors")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "find the fault of an electric bow or stern thruster")
set(CPACK_PACKAGE_DESCRIPTION "Leadline takes a marine electrician, a helpdesk or a newcomer from a
complaint to a ranked and explained diagnosis. It asks targeted questions,
computes what this boat should read, weighs every answer, says what to check
or mend next with the precautions first, and proves the repair. Its knowledge
is part of the program; it opens no network connection.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SECTION electronics)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS less)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_GENERATOR DEB)
include(CPack)
