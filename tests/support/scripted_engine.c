#include "support/scripted_engine.h"

#include "support/test.h"

#include "base/alloc.h"

struct script script;

struct wf_engine {
    int columns;
};

enum wf_status wf_engine_open(const struct wf_model *m, const struct wf_program *p, const int *rows,
                              int count, struct wf_engine **out, struct wf_error *e)
{
    (void)m;
    assert_true(rows && count == p->rows); /* its model has no row that waits */
    *out = wf_alloc(1, sizeof **out);
    if (!*out)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    (*out)->columns = p->columns;
    script.opened++;
    script.lost = false;
    return WF_OK;
}

void wf_engine_close(struct wf_engine *g)
{
    if (g)
        script.closed++;
    wf_free(g);
}

bool wf_engine_alive(const struct wf_engine *g)
{
    return g && !script.lost;
}

void wf_engine_bounds(struct wf_engine *g, int column, double low, double high)
{
    assert_true(column >= 0 && column < g->columns && low <= high);
}

void wf_engine_row(struct wf_engine *g, int row, double low, double high)
{
    assert_true(g && row >= 0 && low <= high);
}

void wf_engine_cost(struct wf_engine *g, int column, double cost)
{
    assert_true(column >= 0 && column < g->columns && isfinite(cost));
}

enum wf_status wf_engine_terms(struct wf_engine *g, int at, const struct wf_program *p, int row,
                               struct wf_error *e)
{
    (void)e;
    assert_int_equal(at, row);
    assert_true(row >= 0 && row < p->rows && p->columns == g->columns);
    return WF_OK;
}

enum wf_status wf_engine_simplex(struct wf_engine *g, struct wf_engine_simplex *s,
                                 struct wf_error *e)
{
    const struct lp_claim *c = &script.lp[script.lp_calls];
    assert_true(g && script.lp_calls < SCRIPT_MOST);
    script.way[script.lp_calls++] = s->way;
    if (c->outcome == BREAKS) {
        script.lost = true;
        return wf_error_add(e, WF_INTERNAL, "the solver gave up: scripted");
    }
    s->known = !c->unknown;
    s->outcome = c->outcome;
    s->at_cutoff = c->at_cutoff;
    s->value = c->value;
    memcpy(s->x, c->x, sizeof c->x);
    s->dual[0] = c->dual;
    return WF_OK;
}

enum wf_status wf_engine_search(struct wf_engine *g, struct wf_engine_search *s, struct wf_error *e)
{
    const struct search_claim *c = &script.search[script.searches];
    assert_true(g && script.searches < SCRIPT_MOST);
    script.careful[script.searches++] = s->careful;
    if (c->outcome == BREAKS) {
        script.lost = true;
        return wf_error_add(e, WF_INTERNAL, "the solver gave up: scripted");
    }
    s->outcome = c->outcome;
    s->bound = c->bound;
    memcpy(s->x, c->x, sizeof c->x);
    return WF_OK;
}

struct wf_model *scripted_model(void)
{
    struct wf_model *m = wf_model_new();
    wf_model_column(m, 0, 10, 2, false, "x");
    wf_model_column(m, 0, 3, 1, true, "y");
    wf_model_row(m, 1.5, HUGE_VAL, "sum");
    wf_model_term(m, 0, 0, 1);
    wf_model_term(m, 0, 1, 1);
    return m;
}
