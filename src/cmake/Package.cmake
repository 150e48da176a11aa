# cpack -G DEB makes three packages: wortfit (the command), libwortfitN (the shared library) and
# libwortfit-dev. The command has the library inside, so that a brewer installs one file. To be configured
# with the prefix /usr, as the preset "package" does.
set(WF_MAINTAINER "The wortfit developers <wortfit@example.org>" CACHE STRING "who packages: name and address")

set(CPACK_PACKAGE_NAME wortfit)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_CONTACT ${WF_MAINTAINER})
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
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
set(CPACK_COMPONENT_COMMAND_DESCRIPTION
"From the beer that you want and what is in the store to the weights of
grain and hops that give it, at the lowest cost, with the fewest
ingredients or closest to your aims, and a proof of how good they are.")

# Programs that link to the library must get this package as their dependency, and the loader its cache.
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libwortfit${wf_interface})
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libs)
file(WRITE ${PROJECT_BINARY_DIR}/debian/shlibs
     "libwortfit ${wf_interface} libwortfit${wf_interface} (>= ${PROJECT_VERSION})\n")
file(WRITE ${PROJECT_BINARY_DIR}/debian/triggers "activate-noawait ldconfig\n")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_CONTROL_EXTRA ${PROJECT_BINARY_DIR}/debian/shlibs
    ${PROJECT_BINARY_DIR}/debian/triggers)
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION "The shared library, for programs that use it.")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libwortfit-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "libglpk-dev, libcjson-dev")
if(WF_SHARED)
    string(PREPEND CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS
           "libwortfit${wf_interface} (= ${PROJECT_VERSION}-${CPACK_DEBIAN_PACKAGE_RELEASE}), ")
endif()
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION
    "For those who write programs with the library: its headers, the static\nlibrary, pkg-config and CMake files.")
include(CPack)
