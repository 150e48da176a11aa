/*
 * stock_options.h: the words of wortfit stock: what is to be done, and what is said of a lot.
 */
#ifndef WF_STOCK_OPTIONS_H
#define WF_STOCK_OPTIONS_H

#include "cli/command.h"
#include "wortfit/wortfit.h"

enum wf_stock_word {
    WF_STOCK_WORD_LIST,
    WF_STOCK_WORD_ADD,
    WF_STOCK_WORD_SET,
    WF_STOCK_WORD_USE,
    WF_STOCK_WORD_REMOVE,
    WF_STOCK_WORD_IMPORT,
    WF_STOCK_WORD_COUNT
};

struct wf_stock_options {
    struct wf_choices kinds, units;
    const char *word;                                                 /* of a list */
    const char *is, *have, *price, *colour, *alpha, *packed, *opened; /* of a lot */
    const char *const *fields;                                        /* of a lot: "KEY=VALUE" */
    const char *take, *recipe;                                        /* of a use */
    long on;
    bool json;
};

/* The word that the command was called with, its operands and options checked. */
enum wf_status wf_stock_word(const struct wf_call *call, enum wf_stock_word *out,
                             struct wf_error *e) WF_MUST_USE;

/* The change that was asked for (add, set, use of a lot, remove); in the call's arena. */
enum wf_status wf_stock_change_asked(const struct wf_call *call, enum wf_stock_word word,
                                     struct wf_stock_change *out, struct wf_error *e) WF_MUST_USE;

#endif
