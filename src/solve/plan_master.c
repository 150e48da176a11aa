#include "solve/plan_master.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/solver.h"

#include <math.h>
#include <string.h>

/* Of one choice among known recipes: nodes, or, where the user set a time, seconds. */
#define CHOICE_NODES   2000
#define CHOICE_SECONDS 1.0

static enum wf_status no_memory(struct wf_error *e)
{
    return wf_error_add(e, WF_MEMORY, "out of memory");
}

/* ---- The columns that are known -------------------------------------------------------------- */

enum wf_status wf_master_open(struct wf_master *m, const struct wf_market *market,
                              const struct wf_plan_sub *subs, size_t beers, struct wf_error *e)
{
    *m = (struct wf_master){.market = market, .beer_count = beers};
    double *one = wf_alloc(market->count, sizeof *one);
    m->most = wf_alloc(market->count, sizeof *m->most);
    if (one == NULL || m->most == NULL) {
        wf_free(one);
        wf_master_close(m);
        return no_memory(e);
    }
    for (size_t b = 0; b < beers; b++) {
        wf_plan_sub_most(&subs[b], one);
        for (size_t l = 0; l < market->count; l++)
            m->most[l] += one[l];
    }
    wf_free(one);
    return WF_OK;
}

void wf_master_close(struct wf_master *m)
{
    for (size_t i = 0; i < m->count; i++)
        wf_plan_column_free(m->columns[i]);
    wf_free(m->columns);
    wf_free(m->most);
    *m = (struct wf_master){0};
}

enum wf_status wf_master_add(struct wf_master *m, struct wf_plan_column *c, struct wf_error *e)
{
    if (m->count == m->room) {
        size_t room = m->room > 0 ? 2 * m->room : 64;
        struct wf_plan_column **more = wf_realloc(m->columns, room, sizeof *more);
        if (more == NULL) {
            wf_plan_column_free(c);
            return no_memory(e);
        }
        m->columns = more;
        m->room = room;
    }
    m->columns[m->count++] = c;
    return WF_OK;
}

/* ---- Packs ----------------------------------------------------------------------------------- */

enum wf_status wf_plan_limits_open(struct wf_plan_limits *p, const struct wf_master *m,
                                   const struct wf_plan_limits *of, struct wf_error *e)
{
    size_t lots = m->market->count, fates = m->beer_count * lots;
    p->low = wf_alloc(lots, sizeof *p->low);
    p->high = wf_alloc(lots, sizeof *p->high);
    p->fate = wf_alloc(fates, sizeof *p->fate);
    if (p->low == NULL || p->high == NULL || p->fate == NULL) {
        wf_plan_limits_close(p);
        return no_memory(e);
    }
    for (size_t l = 0; l < lots; l++) {
        bool whole = isfinite(m->market->lots[l].pack);
        p->low[l] = of != NULL ? of->low[l] : 0;
        p->high[l] = of != NULL ? of->high[l] : whole ? wf_master_packs_most(m, l) : 0;
    }
    if (of != NULL)
        memcpy(p->fate, of->fate, fates * sizeof *p->fate);
    return WF_OK;
}

void wf_plan_limits_close(struct wf_plan_limits *p)
{
    wf_free(p->low);
    wf_free(p->high);
    wf_free(p->fate);
    *p = (struct wf_plan_limits){0};
}

bool wf_plan_limits_allow(const struct wf_plan_limits *p, const struct wf_master *m,
                          const struct wf_plan_column *c)
{
    const unsigned char *fate = &p->fate[c->beer * m->market->count];
    for (size_t l = 0; l < m->market->count; l++)
        if ((fate[l] == WF_FATE_IN && !(c->use[l] > 0)) ||
            (fate[l] == WF_FATE_OUT && c->use[l] > 0))
            return false;
    return true;
}

/* ---- Choices --------------------------------------------------------------------------------- */

enum wf_status wf_plan_choice_open(struct wf_plan_choice *c, const struct wf_master *m,
                                   struct wf_error *e)
{
    c->column = wf_alloc(m->beer_count, sizeof *c->column);
    c->lack = wf_alloc(m->market->count, sizeof *c->lack);
    c->value = NAN;
    if (c->column == NULL || c->lack == NULL) {
        wf_plan_choice_close(c);
        return no_memory(e);
    }
    for (size_t b = 0; b < m->beer_count; b++)
        c->column[b] = -1;
    return WF_OK;
}

void wf_plan_choice_close(struct wf_plan_choice *c)
{
    wf_free(c->column);
    wf_free(c->lack);
    *c = (struct wf_plan_choice){0};
}

double wf_plan_choice_use(const struct wf_master *m, const struct wf_plan_choice *c, size_t lot,
                          size_t but)
{
    double use = 0;
    for (size_t b = 0; b < m->beer_count; b++)
        if (b != but && c->column[b] >= 0)
            use += m->columns[c->column[b]]->use[lot];
    return use;
}

static void read_choice(const struct wf_master_program *g, const struct wf_solution *s,
                        struct wf_plan_choice *c)
{
    for (size_t b = 0; b < g->m->beer_count; b++)
        c->column[b] = -1;
    for (size_t i = 0; i < g->m->count; i++)
        if (s->x[i] > 0.5)
            c->column[g->m->columns[i]->beer] = (int)i;
    for (size_t l = 0; l < g->m->market->count; l++)
        c->lack[l] = g->lack[l] >= 0 ? s->x[g->lack[l]] : 0;
    c->value = s->value;
}

enum wf_status wf_master_choose(const struct wf_master *m, const struct wf_plan_aim *aim,
                                const struct wf_clock *clock, struct wf_plan_choice *c,
                                struct wf_error *e)
{
    const bool timed = clock->options->seconds > 0;
    const struct wf_solver_options o = {.seconds = timed ? CHOICE_SECONDS : 0,
                                        .nodes = timed ? 0 : CHOICE_NODES,
                                        .cutoff = c->value,
                                        .gap = 1e-6};
    struct wf_solution s = {0};
    struct wf_master_program g;
    enum wf_status status;
    WF_TRY_GOTO(wf_master_program_open(&g, m, aim, NULL, e));
    WF_TRY_GOTO(wf_solver_run(g.model, &o, &s, e));
    if (s.x != NULL && (isnan(c->value) || s.value < c->value))
        read_choice(&g, &s, c);
done:
    wf_solution_clear(&s);
    wf_master_program_close(&g);
    return status;
}
