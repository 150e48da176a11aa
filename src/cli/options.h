/*
 * options.h: options as data. A row says all about an option: the parser, the help page and the
 * messages read it. A command's options land in a plain struct of its own, at each row's offset.
 *
 * Parsing collects first (every word is looked up, none acted on), then converts, and tells all
 * that is wrong at once.
 */
#ifndef WF_OPTIONS_H
#define WF_OPTIONS_H

#include "base/alloc.h"
#include "wortfit/quantity.h"
#include "wortfit/status.h"

#include <stdbool.h>
#include <stddef.h>

/* What an option takes, and the type of the member at its offset. */
enum wf_option_kind {
    WF_OPTION_END,   /* ends a table */
    WF_OPTION_FLAG,  /* nothing; bool */
    WF_OPTION_TEXT,  /* any text; const char *, NULL: not given */
    WF_OPTION_TEXTS, /* any text, may be repeated; const char *const *, NULL-terminated or NULL */
    WF_OPTION_QUANTITY, /* a quantity; double, NaN: not given */
    WF_OPTION_RANGE,    /* a wanted value; struct wf_range, wf_range_any(): not given */
    WF_OPTION_DATE,     /* a day; long, days since 1970-01-01, -1: not given */
    WF_OPTION_CHOICES,  /* words of a list; struct wf_choices */
    WF_OPTION_KIND_COUNT
};

#define WF_CHOICES_MOST 8
struct wf_choices {
    int picked[WF_CHOICES_MOST]; /* indices into the row's words, in the order given, none twice */
    size_t count;
};

struct wf_option {
    const char *name; /* without its dashes: "colour" */
    const char *also; /* another spelling, not shown: "color"; or NULL */
    const char *word; /* what its argument is called: "RANGE"; NULL for a flag */
    enum wf_option_kind kind;
    enum wf_dimension dimension; /* quantities and ranges */
    double tolerance;            /* of a bare aim in a range, internal unit */
    double least, most;          /* of a quantity, internal unit; both 0: no limit */
    const char *limits;          /* these two in words: "1 s to 24 h" */
    const char *without_end;  /* of a quantity: a word that is right too and gives +inf; or NULL */
    const char *const *words; /* choices, NULL-terminated */
    bool many;                /* choices: several, parted by commas */
    const char *preset;       /* value when not given, as written; or NULL */
    const char *text;         /* for help: "wanted original gravity" */
    size_t offset;            /* of the member in the command's struct */
};

struct wf_command;

/* What a command was called with. Texts belong to argv, lists to the arena. */
struct wf_call {
    const struct wf_command *command;
    const char *const *operands; /* what is not an option, in order */
    size_t operand_count;
    void *options; /* the command's struct */
    bool help;     /* --help was given: nothing else was checked */
    struct wf_arena *arena;
};

/* Parses argv[0..argc), the words after the command's name. On WF_OK fills *call; its arena is the
 * caller's to free in any case. */
enum wf_status wf_options_parse(const struct wf_command *command, int argc, char **argv,
                                struct wf_call *call, struct wf_error *e) WF_MUST_USE;

#endif
