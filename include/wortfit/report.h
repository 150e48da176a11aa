/*
 * report.h: a finished result as text. It computes nothing about brewing.
 */
#ifndef WORTFIT_REPORT_H
#define WORTFIT_REPORT_H

#include "wortfit/brewday.h"
#include "wortfit/choices.h"
#include "wortfit/pantry.h"
#include "wortfit/reasons.h"

struct wf_comparison; /* check.h */
struct wf_survey;     /* survey.h */
struct wf_refit;      /* refit.h */
struct wf_plan;       /* plan.h */

struct wf_report_style {
    enum wf_units units;
    bool colour; /* terminal escapes for emphasis */
};

/* Text for a brewer: grist, hop schedule in boil order, yeast, wanted against got, cost, proof.
 * *out is the caller's to free with wf_text_release() (solve.h). */
enum wf_status wf_report_recipe_text(const struct wf_recipe *r, const struct wf_report_style *s,
                                     char **out, struct wf_error *e) WF_MUST_USE;
/* The recipe file (JSON), as every other command reads it. */
enum wf_status wf_report_recipe_json(const struct wf_recipe *r, char **out,
                                     struct wf_error *e) WF_MUST_USE;

/* Where no recipe exists: what stands in the way, what would do, and the nearest recipe (NULL:
 * there is not even that). As JSON a recipe file of status "none": see recipe.schema.json. */
enum wf_status wf_report_none_text(const struct wf_reasons *why, const struct wf_recipe *nearest,
                                   const struct wf_report_style *s, char **out,
                                   struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_none_json(const struct wf_reasons *why, const struct wf_recipe *nearest,
                                   char **out, struct wf_error *e) WF_MUST_USE;

/* Several recipes (choices.h): the first as above, the others in short, each with what sets it
 * apart; and as {"recipes": [...]}. */
enum wf_status wf_report_alternatives_text(const struct wf_alternatives *a,
                                           const struct wf_report_style *s, char **out,
                                           struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_alternatives_json(const struct wf_alternatives *a, char **out,
                                           struct wf_error *e) WF_MUST_USE;
/* Cost against number of ingredients, each point with its recipe in short; and as
 * {"trade": [...]}, which is what a plot needs. */
enum wf_status wf_report_trade_text(const struct wf_trade *t, const struct wf_report_style *s,
                                    char **out, struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_trade_json(const struct wf_trade *t, char **out,
                                    struct wf_error *e) WF_MUST_USE;

/* A recipe that was reckoned forwards: what it rests on, and the verdict on its wishes. `target`:
 * the name of what it was held against, or NULL. As JSON it is a recipe like any other. */
enum wf_status wf_report_check_text(const struct wf_recipe *r, const char *target,
                                    const struct wf_report_style *s, char **out,
                                    struct wf_error *e) WF_MUST_USE;

/* Two recipes side by side; as JSON, see src/report/compare.schema.json. */
enum wf_status wf_report_compare_text(const struct wf_comparison *c,
                                      const struct wf_report_style *s, char **out,
                                      struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_compare_json(const struct wf_comparison *c, char **out,
                                      struct wf_error *e) WF_MUST_USE;

/* Several beers from one store: what goes where, what to buy, each recipe in short; as JSON, see
 * src/report/plan.schema.json. */
enum wf_status wf_report_plan_text(const struct wf_plan *p, const struct wf_report_style *s,
                                   char **out, struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_plan_json(const struct wf_plan *p, char **out,
                                   struct wf_error *e) WF_MUST_USE;

/* A scaled recipe, the second of the comparison, and how it differs from the first, which it was
 * made from. As JSON it is a recipe like any other. */
enum wf_status wf_report_scale_text(const struct wf_comparison *c, const struct wf_report_style *s,
                                    char **out, struct wf_error *e) WF_MUST_USE;

/* Revised recipes (revise.h) beside the one that they were made from. */
struct wf_revision_report {
    const struct wf_recipe *from;
    const struct wf_recipe *base; /* what the least change is from; NULL: `from` */
    double loose;                 /* as wf_revised */
    bool shop;                    /* what is new is from the sample shop */
};
enum wf_status wf_report_adjust_text(const struct wf_recipe *r, const struct wf_revision_report *v,
                                     const struct wf_report_style *s, char **out,
                                     struct wf_error *e) WF_MUST_USE;
/* A recipe, with "changes", "distance", "loosened" and "lost". */
enum wf_status wf_report_adjust_json(const struct wf_recipe *r, const struct wf_revision_report *v,
                                     char **out, struct wf_error *e) WF_MUST_USE;
/* Several; as JSON, see src/report/substitute.schema.json. */
enum wf_status wf_report_substitute_text(const struct wf_alternatives *a,
                                         const struct wf_revision_report *v,
                                         const struct wf_report_style *s, char **out,
                                         struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_substitute_json(const struct wf_alternatives *a,
                                         const struct wf_revision_report *v, char **out,
                                         struct wf_error *e) WF_MUST_USE;

/* Many beers against one store, in the order that the survey has; as JSON, see
 * src/report/survey.schema.json. */
enum wf_status wf_report_survey_text(const struct wf_survey *v, const struct wf_report_style *s,
                                     char **out, struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_survey_json(const struct wf_survey *v, char **out,
                                     struct wf_error *e) WF_MUST_USE;

/* A recipe whose hops were refitted, and what became of each addition of the old one. As JSON it is
 * a recipe like any other. */
enum wf_status wf_report_refit_text(const struct wf_recipe *from, const struct wf_refit *f,
                                    const struct wf_report_style *s, char **out,
                                    struct wf_error *e) WF_MUST_USE;

/* The sheet of a brew day: as text; as one HTML file that needs no other; and as JSON, see
 * src/report/sheet.schema.json. */
enum wf_status wf_report_sheet_text(const struct wf_brewday *d, const struct wf_report_style *s,
                                    char **out, struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_sheet_html(const struct wf_brewday *d, const struct wf_report_style *s,
                                    char **out, struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_sheet_json(const struct wf_brewday *d, char **out,
                                    struct wf_error *e) WF_MUST_USE;

#endif
