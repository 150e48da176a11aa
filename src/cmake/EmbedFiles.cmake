# Run by wf_embed at build time: FILES (a list), NAME and OUT in; one C table out.
set(body "")
set(rows "")
set(i 0)
foreach(file IN LISTS FILES)
    get_filename_component(stem ${file} NAME_WE)
    file(READ ${file} hex HEX)
    string(LENGTH "${hex}" digits)
    math(EXPR length "${digits} / 2")
    string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
    string(REGEX REPLACE "(0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,)"
           "\\1\n" bytes "${bytes}")
    string(APPEND body "static const unsigned char text_${i}[] = {\n${bytes}0x00};\n")
    string(APPEND rows "    {\"${stem}\", text_${i}, ${length}},\n")
    math(EXPR i "${i} + 1")
endforeach()
file(WRITE ${OUT} "/* Generated from JSON files; do not edit. */\n#include \"catalogue/embedded.h\"\n\n"
     "${body}\nconst struct wf_embedded ${NAME}[] = {\n${rows}    {0, 0, 0}};\n")
