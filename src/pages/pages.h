/*
 * pages.h: what the build makes out of the table of commands, the catalogue and the schemas: manual
 * pages and the completion of shells. A new command or option needs nothing here.
 */
#ifndef WF_PAGES_H
#define WF_PAGES_H

#include "cli/command.h"
#include "wortfit/wortfit.h"

/* ---- Manual pages, in the man macros that groff and mandoc both read --------------------------
 */

/* wortfit(1). */
void wf_man_whole(struct wf_text *out);
/* wortfit-NAME(1). */
void wf_man_command(struct wf_text *out, const struct wf_command *c);
/* wortfit-NAME(5), out of the JSON schema of a file. */
enum wf_status wf_man_format(struct wf_text *out, const char *name, const char *schema,
                             struct wf_error *e) WF_MUST_USE;

/* For all of them. The head up to the NAME section, whose text is `what`; text in which nothing is
 * taken for markup; a title of a section. */
void wf_man_head(struct wf_text *out, const char *page, int section, const char *what);
void wf_man_text(struct wf_text *out, const char *text);
void wf_man_sentence(struct wf_text *out, const char *text); /* a capital first, a full stop last */
void wf_man_section(struct wf_text *out, const char *title);

/* ---- Completion ------------------------------------------------------------------------------ */

enum wf_shell { WF_SHELL_POSIX, WF_SHELL_FISH }; /* bash and zsh read the same tables */

/* The tables that the engines in completion.* read, as functions of the shell. */
enum wf_status wf_completion_tables(struct wf_text *out, enum wf_shell shell,
                                    struct wf_error *e) WF_MUST_USE;

/*
 * What completes an argument:
 *     flag             there is none
 *     text             nothing does
 *     file, store      the name of a file; what a store holds is then completed too
 *     word A B...      one of these
 *     list A B...      some of these, parted by commas
 *     any L...         what is in one of these lists: malt, hop, yeast, family, beer; lot: what the
 *                      store on the line holds; file
 *     command          the name of a command
 */
void wf_takes_option(struct wf_text *out, const struct wf_command *c, const struct wf_option *row);

/* One row for each place of an operand, found from the usage line. */
#define WF_TAKES_MOST 16
struct wf_takes_operand {
    char key[64]; /* "1"; "3 add": behind that word; "*": this and all that follow */
    char what[256];
};
size_t wf_takes_operands(const struct wf_command *c, struct wf_takes_operand out[WF_TAKES_MOST]);

/* The words of each list that "any" names. */
enum wf_status wf_word_lists(struct wf_text *out, enum wf_shell shell,
                             struct wf_error *e) WF_MUST_USE;

/* A table of a shell: a function that sets `takes` (fish: prints) by its first argument. */
void wf_shell_open(struct wf_text *out, enum wf_shell shell, const char *name);
void wf_shell_row(struct wf_text *out, enum wf_shell shell, const char *key, const char *value);
void wf_shell_close(struct wf_text *out, enum wf_shell shell);

#endif
