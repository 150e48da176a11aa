# Run by cpack before it packs: what Debian wants of documents. Every package has a copyright and two
# changelogs, the project's and the package's; they and the manual pages are compressed.
find_program(GZIP gzip)
if(NOT GZIP OR NOT CPACK_GENERATOR STREQUAL "DEB")
    return()
endif()
get_filename_component(source ${CPACK_RESOURCE_FILE_LICENSE} DIRECTORY)
set(version ${CPACK_PACKAGE_VERSION}-${CPACK_DEBIAN_PACKAGE_RELEASE})
string(TIMESTAMP now "%a, %d %b %Y %H:%M:%S +0000" UTC) # SOURCE_DATE_EPOCH where that is set

function(compress file)
    execute_process(COMMAND ${GZIP} -9nf ${file} COMMAND_ERROR_IS_FATAL ANY)
endfunction()

foreach(component IN LISTS CPACK_COMPONENTS_ALL)
    string(TOUPPER ${component} COMPONENT)
    set(root ${CPACK_TEMPORARY_DIRECTORY}/${component})
    set(package ${CPACK_DEBIAN_${COMPONENT}_PACKAGE_NAME})
    set(folder ${root}/usr/share/doc/${package})
    file(REMOVE ${folder}/LICENSE ${folder}/CHANGELOG.md)
    file(READ ${source}/CHANGELOG.md changes)
    file(WRITE ${folder}/changelog "${changes}")
    file(WRITE ${folder}/changelog.Debian
"wortfit (${version}) unstable; urgency=medium

  * Packed by cpack; what changed is in changelog.gz.

 -- ${CPACK_PACKAGE_CONTACT}  ${now}
")
    file(WRITE ${folder}/copyright
"Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: wortfit

Files: *
Copyright: 2026 The wortfit developers
License: GPL-3.0-or-later
 On Debian systems the text of the GNU General Public License, version 3, is in
 /usr/share/common-licenses/GPL-3.
")
    file(GLOB pages ${root}/usr/share/man/man*/*)
    foreach(page IN LISTS pages)
        compress(${page})
    endforeach()
    compress(${folder}/changelog)
    compress(${folder}/changelog.Debian)
endforeach()
