/*
 * terminal.h: what the command asks of the terminal it runs in. The only part that reads the
 * environment.
 */
#ifndef WF_TERMINAL_H
#define WF_TERMINAL_H

#include <stdbool.h>

/* First of all. A standard descriptor that is closed is opened on nothing, lest the next file that
 * is opened get its number and be written over by what is printed; printing to it fails as before.
 * A limit on the size of files becomes an error like others instead of the end. */
void wf_terminal_begin(void);

/* True where results may be emphasised: standard output is a terminal and NO_COLOR is not set
 * (https://no-color.org). */
bool wf_terminal_colour(void);

/* Writes each line of `text` to standard error, safe for a terminal, after "wortfit: " unless it is
 * indented: a line of a file that is shown. */
void wf_terminal_complain(const char *text);

/* A line on standard error that shows how long work goes on, renewed in place; nothing unless that
 * is a terminal and the work takes over a second. wf_terminal_progress has the type of
 * wf_solve_options.progress, with a zeroed struct wf_terminal_line as its data. */
struct wf_terminal_line {
    bool shown;
    double last; /* seconds, when it was renewed */
};
void wf_terminal_progress(void *data, double seconds, double value, double bound);
void wf_terminal_progress_end(struct wf_terminal_line *line);

/* Starts watching for SIGINT and SIGTERM: the first sets the flag that is returned, a second one
 * ends the process as usual. */
const volatile bool *wf_terminal_watch(void);

#endif
