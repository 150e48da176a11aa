# cpack -G DEB makes three packages: wortfit (the command), libwortfitN (the shared library) and
# libwortfit-dev. The command has the library inside, so a brewer installs one file.
set(CPACK_PACKAGE_NAME wortfit)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_CONTACT "The wortfit developers <wortfit@localhost>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
set(CPACK_PACKAGE_DESCRIPTION "From the beer that you want and what is in the store to the weights of
grain and hops that give it, at the lowest cost, with a proof of how good they are.")
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/LICENSE)
set(CPACK_GENERATOR DEB TGZ)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL command development)
if(WF_SHARED)
    list(APPEND CPACK_COMPONENTS_ALL library)
endif()
set(CPACK_PRE_BUILD_SCRIPTS ${PROJECT_SOURCE_DIR}/src/cmake/PackageDocs.cmake)

set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_RELEASE 1)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)

set(CPACK_DEBIAN_COMMAND_PACKAGE_NAME wortfit)
set(CPACK_DEBIAN_COMMAND_PACKAGE_SECTION utils)
set(CPACK_COMPONENT_COMMAND_DESCRIPTION "${PROJECT_DESCRIPTION}\n${CPACK_PACKAGE_DESCRIPTION}")

set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libwortfit${wf_interface})
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libs)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS ON)
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION "${PROJECT_DESCRIPTION}: shared library\nFor programs that use it.")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libwortfit-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "libglpk-dev, libcjson-dev")
if(WF_SHARED)
    string(PREPEND CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS
           "libwortfit${wf_interface} (= ${PROJECT_VERSION}-1), ")
endif()
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION
    "${PROJECT_DESCRIPTION}: for developers\nHeaders, static library, pkg-config and CMake files.")
include(CPack)
