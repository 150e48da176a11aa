/*
 * help.h: help pages, printed from the same rows that the parser reads.
 */
#ifndef WF_HELP_H
#define WF_HELP_H

#include "cli/command.h"

/* The page of all commands, and the page of one; each fits a screen of 80 x 24. */
void wf_help_all(struct wf_text *out);
void wf_help_command(struct wf_text *out, const struct wf_command *c);

#endif
