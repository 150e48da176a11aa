# wf_embed(TARGET NAME FILE...): compiles the files into the target as one table,
#     const struct wf_embedded NAME[] = { { "file name without .json", text, length }, ... {0} };
# The table is written at build time by EmbedFiles.cmake, so an edited file is embedded anew.
function(wf_embed target name)
    set(out ${CMAKE_CURRENT_BINARY_DIR}/${name}.c)
    set(files "")
    foreach(file IN LISTS ARGN)
        get_filename_component(path ${file} ABSOLUTE)
        list(APPEND files ${path})
    endforeach()
    add_custom_command(OUTPUT ${out}
        COMMAND ${CMAKE_COMMAND} -DOUT=${out} -DNAME=${name} "-DFILES=${files}"
                -P ${PROJECT_SOURCE_DIR}/src/cmake/EmbedFiles.cmake
        DEPENDS ${files} ${PROJECT_SOURCE_DIR}/src/cmake/EmbedFiles.cmake
        COMMENT "embedding ${name}" VERBATIM)
    # The command is this folder's and the target another's, so the target is told to wait for it.
    add_custom_target(${name}_table DEPENDS ${out})
    add_dependencies(${target} ${name}_table)
    target_sources(${target} PRIVATE ${out})
endfunction()
