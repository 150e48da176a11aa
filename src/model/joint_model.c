#include "model/joint_model.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>

double wf_yeast_value(const struct wf_pick_yeast *y, enum wf_goal goal)
{
    if (y == NULL)
        return 0;
    return goal == WF_GOAL_COST     ? y->price
           : goal == WF_GOAL_FEWEST ? 1
           : goal == WF_GOAL_CHANGE ? y->change
                                    : 0;
}

int wf_model_append(struct wf_model *dst, const struct wf_model *src, int but)
{
    int start = wf_model_columns(dst), width = wf_model_columns(src);
    int *columns = wf_alloc((size_t)width, sizeof *columns);
    double *values = wf_alloc((size_t)width, sizeof *values);
    for (int j = 0; j < width; j++)
        wf_model_column(dst, wf_model_low(src, j), wf_model_high(src, j), wf_model_cost(src, j),
                        wf_model_integer(src, j), wf_model_column_label(src, j));
    for (int i = 0; columns != NULL && values != NULL && i < wf_model_rows(src); i++) {
        if (i == but)
            continue;
        int row = wf_model_row(dst, wf_model_row_low(src, i), wf_model_row_high(src, i),
                               wf_model_row_label(src, i));
        int count = wf_model_row_terms(src, i, columns, values);
        for (int k = 0; k < count; k++)
            wf_model_term(dst, row, start + columns[k], values[k]);
    }
    bool failed = columns == NULL || values == NULL;
    wf_free(columns);
    wf_free(values);
    return failed ? -1 : start;
}

/* The wanted bitterness at gravity og, moved to the reference: what the hop model of that gravity
 * alone would have as its row's bounds. */
static enum wf_status wanted_at(const struct wf_problem *p, double og, double *low, double *high)
{
    struct wf_range r;
    double aim[2];
    WF_TRY(wf_hop_wanted(p, p->og.low, og, og, &r, aim));
    *low = r.low;
    *high = r.high;
    return WF_OK;
}

struct line {
    double constant, slope; /* per kg of extract in the batch */
};

/* Bitterness at the reference gravity >= the chord, <= the tangent. */
static enum wf_status lines(const struct wf_problem *p, struct line *least, struct line *most)
{
    double low = p->og.low, high = p->og.high, middle = (low + high) / 2;
    double at[4][3]; /* extract, least and greatest bitterness at low, middle -, middle +, high */
    const double og[4] = {low, middle - (high - low) / 1000, middle + (high - low) / 1000, high};
    for (int i = 0; i < 4; i++) {
        WF_TRY(wf_extract_from_gravity(og[i], &at[i][0]));
        at[i][0] *= p->kettle.batch_l;
        WF_TRY(wanted_at(p, og[i], &at[i][1], &at[i][2]));
    }
    double chord = high > low ? (at[3][1] - at[0][1]) / (at[3][0] - at[0][0]) : 0;
    double tangent = high > low ? (at[2][2] - at[1][2]) / (at[2][0] - at[1][0]) : 0;
    *least = (struct line){at[0][1] - chord * at[0][0], chord};
    *most = (struct line){at[1][2] - tangent * at[1][0], tangent};
    return WF_OK;
}

/* Bitterness of the hops against the gravity of the grist. */
static enum wf_status link_rows(struct wf_model *m, int start, const struct wf_problem *p,
                                const struct wf_grist_model *g, const struct wf_hop_model *h)
{
    int width = wf_model_columns(h->model);
    int *columns = wf_alloc((size_t)width, sizeof *columns);
    double *values = wf_alloc((size_t)width, sizeof *values);
    struct line side[2];
    enum wf_status status =
        columns == NULL || values == NULL ? WF_MEMORY : lines(p, &side[0], &side[1]);
    if (status == WF_OK) {
        int count = wf_model_row_terms(h->model, h->bitterness_row, columns, values);
        for (int s = 0; s < 2; s++) {
            if (!isfinite(side[s].constant))
                continue;
            int row = wf_model_row(m, s == 0 ? side[s].constant : -(double)INFINITY,
                                   s == 0 ? (double)INFINITY : side[s].constant, "bitterness");
            for (int k = 0; k < count; k++)
                wf_model_term(m, row, start + columns[k], values[k]);
            for (size_t i = 0; i < p->malt_count; i++)
                wf_model_term(m, row, g->items[i].weight,
                              -side[s].slope * p->malts[i].extract * g->items[i].step);
        }
    }
    wf_free(columns);
    wf_free(values);
    return status;
}

static enum wf_status join(const struct wf_problem *p, enum wf_goal goal, struct wf_grist_model *g,
                           struct wf_hop_model *h, int *start, struct wf_error *e)
{
    wf_grist_model_goal(g, p, goal);
    wf_hop_model_goal(h, p, goal);
    *start = wf_model_append(g->model, h->model, h->bitterness_row);
    wf_model_set_offset(g->model, wf_model_offset(g->model) + wf_model_offset(h->model));
    if (*start < 0)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    if (h->bitterness_row < 0)
        return WF_OK;
    enum wf_status status = link_rows(g->model, *start, p, g, h);
    if (status == WF_MEMORY)
        return wf_error_add(e, status, "out of memory");
    return status == WF_OK ? WF_OK : wf_error_add(e, status, "bitterness outside the laws' range");
}

enum wf_status wf_joint_model_block(const struct wf_problem *p, const struct wf_pick_yeast *yeast,
                                    enum wf_goal goal, struct wf_model **out, int *malts,
                                    int *places, struct wf_error *e)
{
    double low = p->og.low, high = p->og.high;
    struct wf_grist_options go = {.og_low = low,
                                  .og_high = high,
                                  .yeast = yeast,
                                  .aims = goal == WF_GOAL_CLOSEST,
                                  .change = goal == WF_GOAL_CHANGE};
    struct wf_hop_options ho = {.og_low = low,
                                .og_high = high,
                                .aims = goal == WF_GOAL_CLOSEST,
                                .change = goal == WF_GOAL_CHANGE,
                                .counted = goal == WF_GOAL_FEWEST};
    struct wf_grist_model g = {0};
    struct wf_hop_model h = {0};
    enum wf_status status;
    int start;
    WF_TRY_GOTO(wf_grist_model_make(p, &go, &g, e));
    WF_TRY_GOTO(wf_hop_model_make(p, &ho, &h, e));
    WF_TRY_GOTO(join(p, goal, &g, &h, &start, e));
    wf_model_set_offset(g.model, wf_model_offset(g.model) + wf_yeast_value(yeast, goal));
    WF_TRY_GOTO(wf_model_check(g.model, e));
    for (size_t i = 0; malts != NULL && i < g.item_count; i++)
        malts[i] = g.items[i].weight;
    for (size_t i = 0; places != NULL && i < h.item_count; i++)
        places[i] = start + h.items[i].weight;
    *out = g.model;
    g.model = NULL;
done:
    wf_grist_model_free(&g);
    wf_hop_model_free(&h);
    return status;
}

enum wf_status wf_joint_model_make(const struct wf_problem *p, const struct wf_pick_yeast *yeast,
                                   enum wf_goal goal, struct wf_model **out, struct wf_error *e)
{
    return wf_joint_model_block(p, yeast, goal, out, NULL, NULL, e);
}
