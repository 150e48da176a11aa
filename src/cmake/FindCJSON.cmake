# Makes CJSON::CJSON; cJSON's own CMake package names its target plainly "cjson".
find_path(CJSON_INCLUDE_DIR cjson/cJSON.h)
find_library(CJSON_LIBRARY cjson)
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(CJSON REQUIRED_VARS CJSON_LIBRARY CJSON_INCLUDE_DIR
    REASON_FAILURE_MESSAGE "install it, on Debian: apt-get install libcjson-dev")
if(CJSON_FOUND AND NOT TARGET CJSON::CJSON)
    add_library(CJSON::CJSON UNKNOWN IMPORTED)
    set_target_properties(CJSON::CJSON PROPERTIES IMPORTED_LOCATION ${CJSON_LIBRARY}
                          INTERFACE_INCLUDE_DIRECTORIES ${CJSON_INCLUDE_DIR})
endif()
