# wf_embed(TARGET NAME FILE...): compiles the files into the target as one table,
#     const struct wf_embedded NAME[] = { { "file name without .json", text, length }, ... {0} };
# The table is written at build time by EmbedFiles.cmake, so an edited file is embedded anew.
function(wf_embed target name)
    set(out ${CMAKE_CURRENT_BINARY_DIR}/${name}.c)
    list(TRANSFORM ARGN PREPEND ${CMAKE_CURRENT_SOURCE_DIR}/ OUTPUT_VARIABLE files)
    add_custom_command(OUTPUT ${out}
        COMMAND ${CMAKE_COMMAND} -DOUT=${out} -DNAME=${name} "-DFILES=${files}"
                -P ${PROJECT_SOURCE_DIR}/src/cmake/EmbedFiles.cmake
        DEPENDS ${files} ${PROJECT_SOURCE_DIR}/src/cmake/EmbedFiles.cmake
        COMMENT "embedding ${name}" VERBATIM)
    target_sources(${target} PRIVATE ${out})
endfunction()
