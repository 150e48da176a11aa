/*
 * lister.h: what the commands that list malts, hops, yeasts and beers share: one is shown by its
 * id, several by a part of their name, all that pass the command's filters without one.
 */
#ifndef WF_LISTER_H
#define WF_LISTER_H

#include "cli/command.h"
#include "cli/option_rows.h"
#include "report/report_list.h"
#include "wortfit/wortfit.h"

/* First in the options of each of these commands. */
struct wf_list_options {
    struct wf_choices units;
    bool json;
};

/* Their rows: `type` is the command's options, whose first member is called `list`. */
#define WF_LIST_OPTIONS(type)                                                                      \
    WF_ROW_UNITS(.offset = offsetof(type, list.units)),                                            \
        WF_ROW_JSON(.offset = offsetof(type, list.json), "for programs")

struct wf_lister {
    const struct wf_item_kind *kind;
    const char *one; /* "malt", for messages */
    /* What passes the options; and how well, the best first (NULL: all alike). */
    bool (*keep)(const void *item, const void *options);
    double (*rank)(const void *item, const void *options);
    /* More names that stand for one, NULL-terminated; or NULL. */
    const char *const *(*aliases)(const void *item);
};

/* Lists `count` things out of items, or those that the command's operand names. Reorders items. */
enum wf_status wf_lister_run(const struct wf_lister *l, const void **items, size_t count,
                             const struct wf_call *call, struct wf_text *out,
                             struct wf_error *e) WF_MUST_USE;
/* The same for an array of `count` structs of `size` bytes. */
enum wf_status wf_lister_run_array(const struct wf_lister *l, const void *array, size_t count,
                                   size_t size, const struct wf_call *call, struct wf_text *out,
                                   struct wf_error *e) WF_MUST_USE;

/* "metric", "us", NULL: enum wf_units. */
extern const char *const wf_unit_words[];

/* For filters. Whether text (NULL allowed) holds part, upper and lower case alike; whether two
 * ranges meet; whether a choice was made and is not `index`. */
bool wf_text_holds(const char *text, const char *part);
bool wf_ranges_meet(struct wf_range a, struct wf_range b);
bool wf_choice_excludes(const struct wf_choices *c, int index);

#endif
