/*
 * help.h: help pages, printed from the same rows that the parser reads.
 */
#ifndef WF_HELP_H
#define WF_HELP_H

#include "cli/command.h"

#define WF_HELP_LINES   24 /* a terminal's screen */
#define WF_HELP_COLUMNS 80

/* The page of all commands. */
void wf_help_all(struct wf_text *out);

/* The page of one command. Unless `all` is asked for it fits a screen: where there are too many
 * options, the last ones are only named. */
void wf_help_command(struct wf_text *out, const struct wf_command *c, bool all);

/* For this and other pages. "--colour RANGE" into head, and its width; the options of a table. */
size_t wf_option_head(const struct wf_option *row, char *head, size_t size);
size_t wf_option_count(const struct wf_option *rows);

#endif
