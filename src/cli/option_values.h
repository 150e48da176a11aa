/*
 * option_values.h: from the words given for one option to its member in the command's struct.
 */
#ifndef WF_OPTION_VALUES_H
#define WF_OPTION_VALUES_H

#include "cli/options.h"

/* Fills the member at `at` from `count` values (0: the row's preset, or what stands for "not
 * given"). A value that is not right is told with what would be. */
enum wf_status wf_option_convert(const struct wf_option *row, const char *const *values,
                                 size_t count, void *at, struct wf_arena *arena,
                                 struct wf_error *e) WF_MUST_USE;

#endif
