# Warnings and sanitizers as interface targets: linked privately, never global flags.
# Left out on purpose: -Wfloat-equal (exact comparison is right for bounds and sentinels),
# -Wswitch-default (it contradicts -Wswitch-enum), -Wdeclaration-after-statement (C90).
# clang takes every NAN and INFINITY for a promotion from float, so -Wdouble-promotion is for gcc only.
add_library(wf_warnings INTERFACE)
target_compile_options(wf_warnings INTERFACE
    -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wcast-qual -Wcast-align
    -Wwrite-strings -Wformat=2 -Wundef -Wmissing-prototypes -Wstrict-prototypes
    -Wold-style-definition -Wredundant-decls -Wnested-externs -Wswitch-enum -Wvla
    -Wimplicit-fallthrough)
if(CMAKE_C_COMPILER_ID STREQUAL "GNU")
    target_compile_options(wf_warnings INTERFACE -Wlogical-op -Wduplicated-cond -Wdouble-promotion
                           -Wduplicated-branches)
endif()
if(WF_WERROR)
    target_compile_options(wf_warnings INTERFACE -Werror)
endif()

add_library(wf_sanitizers INTERFACE)
if(WF_SANITIZE)
    target_compile_options(wf_sanitizers INTERFACE -fsanitize=address,undefined
                           -fno-sanitize-recover=all -fno-omit-frame-pointer)
    target_link_options(wf_sanitizers INTERFACE -fsanitize=address,undefined)
endif()
if(WF_FUZZ)
    # fuzzer-no-link: coverage for all, and main from libFuzzer for the targets alone (tests/fuzz). A double
    # that does not fit an integer is undefined too, though the group of that name leaves it out.
    target_compile_options(wf_sanitizers INTERFACE
                           -fsanitize=fuzzer-no-link,address,undefined,float-cast-overflow
                           -fno-sanitize-recover=all -fno-omit-frame-pointer)
    target_link_options(wf_sanitizers INTERFACE -fsanitize=address,undefined)
endif()
