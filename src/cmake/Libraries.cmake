# The shared library, out of the static one's objects. It shows what the public headers declare and no
# more: the list of names is read from them, so that there is nothing to keep in step by hand.
#
# The number of its interface is the version's first two parts while the first is 0: until 1.0 a new
# second part may break programs (Semantic Versioning, 4).
string(REGEX MATCH "^[0-9]+\\.[0-9]+" wf_interface ${PROJECT_VERSION})
if(PROJECT_VERSION_MAJOR GREATER 0)
    set(wf_interface ${PROJECT_VERSION_MAJOR})
endif()

# gcc would keep every function replaceable from outside, and so not inline it.
if(CMAKE_C_COMPILER_ID STREQUAL "GNU")
    target_compile_options(wortfit_lib PRIVATE -fno-semantic-interposition)
endif()

if(NOT WF_SHARED)
    return()
endif()

# Every wf_ name before a bracket in the headers, and every public table; macros and words of comments
# that slip in name nothing.
file(GLOB wf_headers CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/include/wortfit/*.h)
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${wf_headers})
set(wf_names "")
foreach(header IN LISTS wf_headers)
    file(READ ${header} text)
    string(REGEX REPLACE "/\\*[^*]*\\*+([^/*][^*]*\\*+)*/" "" text "${text}")
    string(REGEX MATCHALL "wf_[a-z0-9_]+[(]" calls "${text}")
    string(REGEX MATCHALL "extern [^;]*" tables "${text}")
    string(REGEX MATCHALL "wf_[a-z0-9_]+(\\[|$|;)" tables "${tables}")
    list(APPEND wf_names ${calls} ${tables})
endforeach()
string(REGEX REPLACE "[^a-z0-9_;]" "" wf_names "${wf_names}")
list(REMOVE_DUPLICATES wf_names)
list(SORT wf_names)
string(REPLACE ";" ";\n        " wf_names "${wf_names}")
file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/wortfit.map @ONLY CONTENT
"WORTFIT_${wf_interface} {
    global:
        ${wf_names};
    local: *;
};
")

add_library(wortfit_shared SHARED $<TARGET_OBJECTS:wortfit_lib>)
set_target_properties(wortfit_shared PROPERTIES OUTPUT_NAME wortfit EXPORT_NAME wortfit
                      VERSION ${PROJECT_VERSION} SOVERSION ${wf_interface} LINKER_LANGUAGE C
                      LINK_DEPENDS ${PROJECT_BINARY_DIR}/wortfit.map)
target_include_directories(wortfit_shared INTERFACE $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}>)
target_link_libraries(wortfit_shared PRIVATE GLPK::GLPK CJSON::CJSON Threads::Threads m
                      $<BUILD_INTERFACE:wf_sanitizers>)
target_link_options(wortfit_shared PRIVATE -Wl,--version-script=${PROJECT_BINARY_DIR}/wortfit.map)
