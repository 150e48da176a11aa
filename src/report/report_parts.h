/*
 * report_parts.h: the sections of a recipe's text, each in a file of its own. Each writes whole
 * lines and starts with an empty one.
 */
#ifndef WF_REPORT_PARTS_H
#define WF_REPORT_PARTS_H

#include "report/json_put.h"
#include "report/style.h"

/* Wanted against got, a line a wish (report_wishes.c). */
void wf_part_wishes(struct wf_text *out, const struct wf_recipe *r,
                    const struct wf_report_style *s);
/* Where no recipe exists: what the nearest one misses. */
void wf_part_misses(struct wf_text *out, const struct wf_recipe *r,
                    const struct wf_report_style *s);

/* The table of what is missed. */
void wf_part_missed_wishes(struct wf_text *out, const struct wf_recipe *r,
                           const struct wf_report_style *s);
/* The nearest recipe below the reasons: its figures, what it misses, what goes in, its cost. */
void wf_part_nearest(struct wf_text *out, const struct wf_recipe *r,
                     const struct wf_report_style *s);

/* "missed by 1.2 SRM", or "just missed" where that would read 0. */
char *wf_part_missed(const struct wf_wish_result *w, enum wf_units units, char *buffer,
                     size_t size);

/* Cost and how good the answer is, goal by goal (report_proof.c). */
void wf_part_cost(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s);
void wf_part_proof(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s);

/* The members of a recipe's object in JSON (report_json.c). */
void wf_put_recipe(struct wf_json_put *j, const struct wf_recipe *r);
void wf_put_misses(struct wf_json_put *j,
                   const struct wf_recipe *r); /* "reasons": what is missed */
void wf_put_closest(struct wf_json_put *j, const struct wf_recipe *r);

/* The beer's figures, each with its range; r->ranges must be there (report_sure.c). It belongs to
 * the head, so no empty line comes before it. */
void wf_part_ranges(struct wf_text *out, const struct wf_recipe *r,
                    const struct wf_report_style *s);
void wf_put_ranges(struct wf_json_put *j, const struct wf_recipe *r);

/* What the recipe leans on, if that was looked into (report_worth.c). */
void wf_part_worth(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s);
void wf_put_leans(struct wf_json_put *j, const struct wf_recipe *r);

#endif
