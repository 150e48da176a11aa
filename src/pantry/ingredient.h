/*
 * ingredient.h: the tables of malts, hops and yeasts. One table a kind serves the entries of the
 * catalogue and the lots of a store: a lot starts as a copy of its entry, and each figure in the
 * file takes the place of the entry's.
 */
#ifndef WF_INGREDIENT_H
#define WF_INGREDIENT_H

#include "pantry/catalogue.h"
#include "pantry/fields.h"
#include "pantry/limits.h"
#include "pantry/names.h"

/* The `user` of a reading that holds ingredients. */
struct wf_ingredient_reading {
    const struct wf_catalogue *catalogue; /* where entries are looked up; NULL: nowhere */
    bool reference;                       /* it is the catalogue that is being read */
    struct wf_names ids;                  /* scope: the kind; value: the place in its list */
    size_t seen[WF_KIND_COUNT];           /* items so far */
};

/* Rows of a list begin with the struct wf_malt, wf_hop or wf_yeast; what follows it was needed only
 * while reading. */
extern const struct wf_json_table wf_malt_table, wf_hop_table, wf_yeast_table;
/* Scores 0..5 into double character[], by word. */
extern const struct wf_json_table wf_malt_scores_table, wf_hop_scores_table;

/* The structs of `size` bytes that a list's rows begin with, side by side. */
void *wf_ingredient_pack(struct wf_arena *a, const struct wf_json_list *list,
                         const struct wf_json_table *table, size_t size);

/* ---- For malt.c, hop.c and yeast.c ----------------------------------------------------------- */

/* Who a lot is, by its "id" and "is". */
struct wf_identity {
    const char *id, *is; /* NULL: not given, or not an id */
    const void *entry;   /* of the catalogue; NULL: none */
};
struct wf_identity wf_ingredient_identity(struct wf_json *j, const struct cJSON *node,
                                          enum wf_kind kind);
/* The name for people where the file gives none: the entry's if the lot goes by its id, else NULL.
 */
const char *wf_ingredient_name(struct wf_json *j, const struct wf_identity *who,
                               const char *entry_name);
/* Copies of an entry's text and list, so that a store outlives the catalogue. NULL stays NULL. */
const char *wf_ingredient_keep(struct wf_json *j, const char *text);
const char *const *wf_ingredient_keep_list(struct wf_json *j, const char *const *texts);
/* The entry that a lot is, for `of`: in the catalogue each is its own. */
const char *wf_ingredient_of(struct wf_json *j, const char *id, const char *of);

/* Refuses a lot whose entry is not there, whose id is taken, or that has neither an entry nor all
 * `needs` (keys); `more` names what is missing besides, or is "". */
void wf_ingredient_check(struct wf_json *j, const struct cJSON *node, enum wf_kind kind,
                         const char *const *needs, size_t need_count, const char *more);
/* Refuses a lot that was opened before it was packed. */
void wf_ingredient_check_dates(struct wf_json *j, const struct cJSON *node, long packed,
                               long opened);

/* Rows that all kinds share; T is the row's struct, M the ingredient in it. */
#define WF_INGREDIENT_FIELDS(T, M)                                                                 \
    {.key = "id",                                                                                  \
     .read = wf_json_id,                                                                           \
     .offset = WF_JSON_AT(T, M.id, const char *),                                                  \
     .required = true},                                                                            \
        {.key = "is", .read = wf_json_id, .offset = WF_JSON_AT(T, M.of, const char *)},            \
        {.key = "name",                                                                            \
         .read = wf_json_text,                                                                     \
         .offset = WF_JSON_AT(T, M.name, const char *),                                            \
         .high = 200},                                                                             \
        {.key = "source", .read = wf_json_text, .offset = WF_JSON_AT(T, M.source, const char *)},  \
        {.key = "packed", .read = wf_json_date, .offset = WF_JSON_AT(T, M.packed, long)},          \
    {                                                                                              \
        .key = "opened", .read = wf_json_date, .offset = WF_JSON_AT(T, M.opened, long)             \
    }

#endif
