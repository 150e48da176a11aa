# Run by cpack before it packs: what Debian wants of documents. Every package has a copyright and a
# changelog; manual pages and changelogs are compressed.
find_program(GZIP gzip)
if(NOT GZIP OR NOT CPACK_GENERATOR STREQUAL "DEB")
    return()
endif()

function(compress file)
    execute_process(COMMAND ${GZIP} -9nf ${file} COMMAND_ERROR_IS_FATAL ANY)
endfunction()

foreach(component IN LISTS CPACK_COMPONENTS_ALL)
    string(TOUPPER ${component} COMPONENT)
    set(root ${CPACK_TEMPORARY_DIRECTORY}/${component})
    if(NOT IS_DIRECTORY ${root})
        continue()
    endif()
    set(folder ${root}/usr/share/doc/${CPACK_DEBIAN_${COMPONENT}_PACKAGE_NAME})
    file(MAKE_DIRECTORY ${folder})
    file(REMOVE ${folder}/LICENSE)
    file(WRITE ${folder}/copyright
"Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: wortfit

Files: *
Copyright: The wortfit developers
License: GPL-3.0-or-later
 On Debian systems the text of the GNU General Public License, version 3, is in
 /usr/share/common-licenses/GPL-3.
")
    get_filename_component(source ${CPACK_RESOURCE_FILE_LICENSE} DIRECTORY)
    file(REMOVE ${folder}/CHANGELOG.md)
    file(READ ${source}/CHANGELOG.md changes)
    file(WRITE ${folder}/changelog "${changes}")
    compress(${folder}/changelog)
    file(GLOB pages ${root}/usr/share/man/man*/*)
    foreach(page IN LISTS pages)
        compress(${page})
    endforeach()
endforeach()
