# Makes CMocka::CMocka; cmocka 1.1's own CMake package sets only variables.
find_path(CMOCKA_INCLUDE cmocka.h)
find_library(CMOCKA_LIB cmocka)
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(CMocka REQUIRED_VARS CMOCKA_LIB CMOCKA_INCLUDE
    REASON_FAILURE_MESSAGE "install it, on Debian: apt-get install libcmocka-dev")
if(CMocka_FOUND AND NOT TARGET CMocka::CMocka)
    add_library(CMocka::CMocka UNKNOWN IMPORTED)
    set_target_properties(CMocka::CMocka PROPERTIES IMPORTED_LOCATION ${CMOCKA_LIB}
                          INTERFACE_INCLUDE_DIRECTORIES ${CMOCKA_INCLUDE})
endif()
