# What is installed, and the packages made of it: dryfit (the program) and libdryfit-dev (the library).
include(GNUInstallDirs)

set(share ${PROJECT_BINARY_DIR}/share)
# Manual pages, completions and schemas are written by the program itself.
add_custom_command(
  OUTPUT ${share}/written
  COMMAND ${CMAKE_COMMAND} -E rm -rf ${share}
  COMMAND dryfit manual --output ${share}
  COMMAND sh -c "cd '${share}' && gzip -9n man1/*.1 && touch written"
  DEPENDS dryfit
  COMMENT "Writing manual pages, completions and schemas"
  VERBATIM)
add_custom_target(dryfit_share ALL DEPENDS ${share}/written)

install(TARGETS dryfit RUNTIME COMPONENT program)
install(DIRECTORY ${share}/man1 DESTINATION ${CMAKE_INSTALL_MANDIR} COMPONENT program)
install(FILES ${share}/bash/dryfit DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT program)
install(FILES ${share}/zsh/_dryfit DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions COMPONENT program)
install(FILES ${share}/fish/dryfit.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d COMPONENT program)
install(DIRECTORY ${share}/schemas DESTINATION ${CMAKE_INSTALL_DATADIR}/dryfit COMPONENT program)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/scenarios DESTINATION ${CMAKE_INSTALL_DATADIR}/dryfit COMPONENT program
        FILES_MATCHING PATTERN "*.yaml" PATTERN "*.expect.yaml" EXCLUDE PATTERN "regress" EXCLUDE)
if(DRYFIT_POCKET_MODULE)
  install(FILES ${PROJECT_BINARY_DIR}/pocket/dryfit.html DESTINATION ${CMAKE_INSTALL_DATADIR}/dryfit COMPONENT program)
  cmake_path(GET DRYFIT_POCKET_MODULE PARENT_PATH module_folder)
  install(FILES ${module_folder}/licences.txt DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME module-licences.txt COMPONENT program)
endif()
install(FILES ${PROJECT_SOURCE_DIR}/README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/cli/docs DESTINATION ${CMAKE_INSTALL_DOCDIR}/cli COMPONENT program)
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright COMPONENT program)
install(FILES ${PROJECT_SOURCE_DIR}/cli/cards/three.licence.txt DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)

# The library: what the headers below need, and no more, is installed; the consumer test includes each by itself.
set(public_headers
  model/geometry/at.hpp
  model/geometry/convex.hpp
  model/geometry/direction.hpp
  model/frame/frame.hpp
  model/frame/input_error.hpp
  model/text/length.hpp
  model/measure/mass_properties.hpp
  model/placing/reader.hpp
  model/geometry/solid.hpp
  model/geometry/turn.hpp
  model/geometry/vec.hpp
  model/geometry/wood.hpp
  planner/best/best_answer.hpp
  planner/best/best_order.hpp
  planner/state/body_index.hpp
  planner/shop/buy.hpp
  planner/change/change.hpp
  planner/state/contacts.hpp
  planner/shop/drill.hpp
  planner/effort/effort.hpp
  planner/base/foreman.hpp
  planner/base/lifting.hpp
  planner/fit/fit.hpp
  planner/fit/fit_answer.hpp
  planner/fit/fit_replace.hpp
  planner/effort/handling.hpp
  planner/effort/heavy_last.hpp
  planner/effort/loose_rest.hpp
  planner/change/match.hpp
  planner/change/undo_cost.hpp
  planner/early/hold.hpp
  planner/moves/moves.hpp
  planner/order/in_rings.hpp
  planner/now/carry.hpp
  planner/now/doorway.hpp
  planner/now/go_on.hpp
  planner/now/loose_pieces.hpp
  planner/now/meanwhile.hpp
  planner/now/stop_order.hpp
  planner/now/stops.hpp
  planner/now/way_between.hpp
  planner/now/way_on.hpp
  planner/order/order.hpp
  planner/state/links.hpp
  planner/state/overlap.hpp
  planner/order/pose.hpp
  planner/best/pose_plan.hpp
  planner/early/precedence.hpp
  planner/base/remark.hpp
  planner/judge/replay.hpp
  planner/shop/span.hpp
  planner/state/state.hpp
  planner/state/step.hpp
  planner/effort/tilt.hpp)
foreach(header IN LISTS public_headers)
  get_filename_component(folder ${header} DIRECTORY)
  install(FILES ${PROJECT_SOURCE_DIR}/${header} DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/dryfit/${folder}
          COMPONENT library)
endforeach()
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/libdryfit-dev RENAME copyright
        COMPONENT library)
set(cmake_folder ${CMAKE_INSTALL_LIBDIR}/cmake/dryfit)
set_target_properties(dryfit_model PROPERTIES EXPORT_NAME model)
set_target_properties(dryfit_planner PROPERTIES EXPORT_NAME planner)
install(TARGETS dryfit_model dryfit_planner EXPORT dryfit ARCHIVE COMPONENT library)
install(EXPORT dryfit NAMESPACE dryfit:: FILE dryfit-targets.cmake DESTINATION ${cmake_folder} COMPONENT library)
include(CMakePackageConfigHelpers)
configure_package_config_file(${PROJECT_SOURCE_DIR}/planner/dryfit-config.cmake.in
  ${PROJECT_BINARY_DIR}/dryfit-config.cmake INSTALL_DESTINATION ${cmake_folder})
write_basic_package_version_file(${PROJECT_BINARY_DIR}/dryfit-config-version.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/dryfit-config.cmake ${PROJECT_BINARY_DIR}/dryfit-config-version.cmake
        DESTINATION ${cmake_folder} COMPONENT library)

set(CPACK_PACKAGE_NAME dryfit)
set(CPACK_PACKAGE_VENDOR "The dryfit project")
set(CPACK_PACKAGE_CONTACT "The dryfit project <dryfit@localhost>")
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/LICENSE)
set(CPACK_STRIP_FILES ON)
set(CPACK_VERBATIM_VARIABLES ON)
set(CPACK_GENERATOR DEB TGZ)
set(CPACK_COMPONENTS_ALL program library)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME dryfit)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION "rehearses the build of a threaded-pipe frame on paper
 Reads what a builder has on paper, pipes, fittings and boards trapped on the pipes,
 and says whether it fits, whether it can be put together at all, and in which order.")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libdryfit-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS
  "libfmt-dev, libyaml-cpp-dev, libboost-dev, coinor-libcbc-dev, pkg-config")
set(CPACK_DEBIAN_LIBRARY_DESCRIPTION "model and planner of dryfit as a C++ library
 Static libraries, headers and a CMake package: read a frame, list its contacts, find an order, judge an order.")
include(CPack)
