/* report_reasons.c: why there is no recipe, for people. */
#include "report/reason_words.h"
#include "report/report_parts.h"

#include "base/number.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

#define INDENT "  "

/* ---- What cannot hold together --------------------------------------------------------------- */

/* The first, a demand a line. */
static void add_first(struct wf_text *out, const struct wf_conflict *c,
                      const struct wf_report_style *s)
{
    if (c->demand_count == 0) {
        wf_style_line(out, s, WF_MARK_BAD,
                      "There is none whatever is wished: nothing in this store makes a beer that "
                      "this scale can weigh.");
        return;
    }
    wf_style_line(out, s, WF_MARK_BAD,
                  !c->irreducible        ? "These cannot hold together, perhaps fewer of them:"
                  : c->demand_count == 1 ? "This cannot be met:"
                                         : "These cannot hold together:");
    for (size_t i = 0; i < c->demand_count; i++) {
        wf_text_add(out, INDENT);
        wf_words_of_demand(out, &c->demands[i], s->units);
        wf_text_add(out, "\n");
    }
}

/* A line of running text behind its label. */
static void add_item(struct wf_text *out, const struct wf_report_style *s, const char *label,
                     struct wf_text *value)
{
    out->failed = out->failed || value->failed;
    if (value->data)
        wf_style_labelled(out, s, WF_MARK_NONE, label, strlen(label), value->data);
    wf_text_free(value);
}

/* The others, a line each. */
static void add_others(struct wf_text *out, const struct wf_reasons *why,
                       const struct wf_report_style *s)
{
    wf_text_add(out, "Nor can these, each line by itself:\n");
    for (size_t i = 1; i < why->conflict_count; i++) {
        const struct wf_conflict *c = &why->conflicts[i];
        struct wf_text line = {0};
        for (size_t k = 0; k < c->demand_count; k++) {
            wf_text_add(&line, "%s", k > 0 ? ", " : "");
            wf_words_of_demand(&line, &c->demands[k], s->units);
        }
        if (!c->irreducible)
            wf_text_add(&line, ", perhaps fewer of them");
        add_item(out, s, "", &line);
    }
}

/* ---- What would do --------------------------------------------------------------------------- */

/* The head of the list of changes. */
static const char *head_of(const struct wf_reasons *why)
{
    if (why->remedy_count > 1)
        return "Any one of these would do, and no less of it:";
    return why->remedies[0].shift_count > 1 ? "These changes together would do, and no less of any:"
                                            : "This change would do, and no less of it:";
}

/* The only remedy, a change a line. */
static void add_together(struct wf_text *out, const struct wf_remedy *r,
                         const struct wf_report_style *s)
{
    struct wf_text sum = {0};
    for (size_t i = 0; i < r->shift_count; i++) {
        struct wf_text line = {0};
        wf_words_of_shift(&line, &r->shifts[i], s->units);
        add_item(out, s, "", &line);
    }
    wf_words_of_sum(&sum, r);
    add_item(out, s, "", &sum);
}

/* A remedy a line. */
static void add_each(struct wf_text *out, const struct wf_reasons *why,
                     const struct wf_report_style *s)
{
    for (size_t i = 0; i < why->remedy_count; i++) {
        struct wf_text line = {0};
        char label[16];
        wf_snprintf(label, sizeof label, "%3zu", i + 1);
        if (why->remedies[i].shift_count > 1)
            wf_text_add(&line, "together: ");
        wf_words_of_remedy(&line, &why->remedies[i], s->units);
        add_item(out, s, label, &line);
    }
}

/* Whether one change of that demand is told that does alone. */
static bool does_alone(const struct wf_reasons *why, const struct wf_demand *d)
{
    for (size_t i = 0; i < why->remedy_count; i++) {
        const struct wf_demand *of = &why->remedies[i].shifts[0].demand;
        if (why->remedies[i].shift_count == 1 && of->kind == d->kind && of->end == d->end &&
            of->index == d->index && of->part == d->part)
            return true;
    }
    return false;
}

/* What of the first conflict does not do alone, which is as good to know. */
static void add_rest(struct wf_text *out, const struct wf_reasons *why)
{
    const struct wf_conflict *c = &why->conflicts[0];
    size_t alone = 0;
    for (size_t i = 0; i < c->demand_count; i++)
        alone += does_alone(why, &c->demands[i]);
    if (!why->complete || c->demand_count < 2 || alone == c->demand_count)
        return;
    wf_text_add(out, "%s\n",
                alone == 0 ? "No change of one thing alone would do."
                           : "No change of another of them alone would do.");
}

static void add_remedies(struct wf_text *out, const struct wf_reasons *why,
                         const struct wf_report_style *s)
{
    const char *note = NULL;
    wf_text_add(out, "\n");
    wf_style_line(out, s, WF_MARK_STRONG, head_of(why));
    if (why->remedy_count == 1)
        add_together(out, &why->remedies[0], s);
    else
        add_each(out, why, s);
    for (size_t i = 0; i < why->remedy_count; i++)
        if (why->remedies[i].bought && why->remedies[i].note && *why->remedies[i].note)
            note = why->remedies[i].note;
    if (why->conflict_count > 0)
        add_rest(out, why);
    if (!note)
        return;
    wf_text_add(out, "Prices of what is to be got: ");
    wf_plain_add(out, note);
    wf_text_add(out, "\n");
}

static void add_no_remedy(struct wf_text *out, const struct wf_reasons *why)
{
    if (why->conflict_count > 0)
        wf_text_add(out, "\nNo change of these wishes, and nothing to get, was found that would "
                         "do.\n");
}

/* ---- The whole ------------------------------------------------------------------------------- */

static void add_title(struct wf_text *out, const struct wf_reasons *why,
                      const struct wf_report_style *s)
{
    char text[64];
    wf_text_add(out, "%s", wf_style_on(s, WF_MARK_STRONG));
    wf_plain_add(out, why->target);
    wf_text_add(out, ", %s: no recipe meets every wish%s\n",
                wf_quantity_print(WF_DIM_VOLUME, why->batch_l, s->units, text, sizeof text),
                wf_style_off(s, WF_MARK_STRONG));
}

enum wf_status wf_report_none_text(const struct wf_reasons *why, const struct wf_recipe *nearest,
                                   const struct wf_report_style *s, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    add_title(&text, why, s);
    if (why->conflict_count > 0) {
        wf_text_add(&text, "\n");
        add_first(&text, &why->conflicts[0], s);
    }
    if (why->conflict_count > 1)
        add_others(&text, why, s);
    if (why->remedy_count > 0)
        add_remedies(&text, why, s);
    else
        add_no_remedy(&text, why);
    if (!why->complete)
        wf_text_add(&text, "\nNot all of this could be settled in the time: give more with "
                           "--time.\n");
    if (nearest)
        wf_part_nearest(&text, nearest, s);
    return wf_text_hand_over(&text, out, e);
}
