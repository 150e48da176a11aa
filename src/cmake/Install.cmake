# What is installed where. Components: command (what a brewer needs), library, development.
include(CMakePackageConfigHelpers)

set(wf_cmake_folder ${CMAKE_INSTALL_LIBDIR}/cmake/wortfit)
set(wf_libraries wortfit_lib)
if(WF_SHARED)
    list(APPEND wf_libraries wortfit_shared)
endif()

install(TARGETS wortfit COMPONENT command)
install(TARGETS ${wf_libraries} EXPORT wortfit_targets
        LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT library NAMELINK_COMPONENT development
        ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT development)
install(DIRECTORY include/wortfit DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT development)

# Documents, examples, and the schemas of all files: those that are read and those that are written.
install(FILES README.md CHANGELOG.md LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT command)
install(DIRECTORY examples DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT command)
install(DIRECTORY src/pantry/ src/report/ DESTINATION ${CMAKE_INSTALL_DATADIR}/wortfit/schemas
        COMPONENT command FILES_MATCHING PATTERN "*.schema.json")

# For other people's builds: find_package(wortfit) and pkg-config.
install(EXPORT wortfit_targets NAMESPACE wortfit:: DESTINATION ${wf_cmake_folder} COMPONENT development)
configure_package_config_file(src/cmake/wortfitConfig.cmake.in ${PROJECT_BINARY_DIR}/wortfitConfig.cmake
    INSTALL_DESTINATION ${wf_cmake_folder} NO_SET_AND_CHECK_MACRO)
write_basic_package_version_file(${PROJECT_BINARY_DIR}/wortfitConfigVersion.cmake
    COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/wortfitConfig.cmake ${PROJECT_BINARY_DIR}/wortfitConfigVersion.cmake
        src/cmake/FindGLPK.cmake src/cmake/FindCJSON.cmake
        DESTINATION ${wf_cmake_folder} COMPONENT development)

# ${pcfiledir} makes the file right wherever the tree is put.
file(RELATIVE_PATH wf_prefix_from_pc ${CMAKE_INSTALL_FULL_LIBDIR}/pkgconfig ${CMAKE_INSTALL_PREFIX})
configure_file(src/cmake/wortfit.pc.in ${PROJECT_BINARY_DIR}/wortfit.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/wortfit.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig
        COMPONENT development)
