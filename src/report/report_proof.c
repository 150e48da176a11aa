/* report_proof.c: what the recipe costs, and how good it is proved to be. */
#include "report/report_parts.h"

#include "base/number.h"
#include "base/try.h"
#include "report/table.h"
#include "wortfit/solve.h"

#include <math.h>
#include <string.h>

/* A goal this close to its bound is called proved, as in the recipe file; a search that stops there
 * may be over by the last bit. */
#define PROVED_GAP (0.0001 * (1 + 1e-9))

/* What no other recipe does, by goal; and, for a figure that a brewer can picture, what none can
 * be. */
static const struct {
    const char *no_other, *none_under;
    int decimals;
} goal_row[] = {
    [WF_GOAL_COST] = {"costs less", "costs under", 2},
    [WF_GOAL_FEWEST] = {"has fewer ingredients", "has fewer ingredients than", 0},
    [WF_GOAL_CLOSEST] = {"comes closer to the aims", NULL, 0},
    [WF_GOAL_USE_UP] = {"uses up more of the oldest and opened lots", NULL, 0},
    [WF_GOAL_CHANGE] = {"changes less", NULL, 0},
};
_Static_assert(WF_COUNT_OF(goal_row) == WF_GOAL_COUNT, "one row a goal");

static int goal_of(const char *word)
{
    for (int g = 0; g < WF_GOAL_COUNT; g++)
        if (strcmp(word, wf_goal_word((enum wf_goal)g)) == 0)
            return g;
    return -1;
}

void wf_part_cost(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s)
{
    wf_text_add(out, "\n%sCost%s  ", wf_style_on(s, WF_MARK_STRONG),
                wf_style_off(s, WF_MARK_STRONG));
    wf_text_add(out, "%.2f", r->cost);
    if (r->currency && *r->currency) {
        wf_text_add(out, " ");
        wf_plain_add(out, r->currency);
    }
    wf_text_add(out, "\n");
    if (r->unpriced == 1)
        wf_text_add(out, "One lot has no price and is counted as 0.\n");
    if (r->unpriced > 1)
        wf_text_add(out, "%zu lots have no price and are counted as 0.\n", r->unpriced);
    if (r->price_note && *r->price_note) {
        wf_text_add(out, "Prices: ");
        wf_plain_add(out, r->price_note);
        wf_text_add(out, "\n");
    }
}

/* "within 0.4 % of the best possible: none costs under 11.39", or that this is not known. */
static void add_distance(struct wf_table *t, const struct wf_proof *p, int goal)
{
    double percent = 100 * p->gap;
    char limit[64] = "";
    if (!isfinite(p->bound) || !isfinite(percent) || percent > 100) {
        wf_table_cell(t, "not proved: better ones may exist, give it more time");
        return;
    }
    if (goal >= 0 && goal_row[goal].none_under)
        wf_snprintf(limit, sizeof limit, ": none %s %.*f", goal_row[goal].none_under,
                    goal_row[goal].decimals, goal_row[goal].decimals ? p->bound : ceil(p->bound));
    wf_table_cell(t,
                  percent < 10 ? "within %.2g %% of the best possible%s"
                               : "within %.0f %% of the best possible%s",
                  percent, limit);
}

static void add_goal(struct wf_table *t, const struct wf_proof *p, bool first)
{
    int g = goal_of(p->goal);
    wf_table_cell(t, "%s", g < 0 ? p->goal : wf_goal_text((enum wf_goal)g));
    if (!(p->gap <= PROVED_GAP))
        add_distance(t, p, g);
    else if (g < 0)
        wf_table_cell(t, "proved: none is better");
    else if (first)
        wf_table_cell(t, "proved: no recipe that meets these wishes %s", goal_row[g].no_other);
    else
        wf_table_cell(t, "proved: of those as good above, none %s", goal_row[g].no_other);
}

void wf_part_proof(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {{.title = "Goal"}, {.title = "how good"}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    if (r->proof_count == 0)
        return;
    wf_text_add(out, "\n");
    wf_table_titles(&t);
    for (size_t i = 0; i < r->proof_count; i++)
        add_goal(&t, &r->proofs[i], i == 0);
    wf_table_write(&t, s, 0, out);
}
