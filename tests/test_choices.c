/*
 * Alternatives and the trade of cost against ingredients, against enumeration: tiny problems, each
 * enumerated whole through the forward path.
 *
 * Enumerated recipes are sorted into states: of each kind of malt and hop, whether it is absent,
 * there, or there in an amount that is noticed. Two states tell whether their recipes differ.
 */
#include "support/test.h"

#include "support/brute.h"
#include "support/solved.h"
#include "wortfit/choices.h"

#define CASES       PART_OF(160)
#define WANTED      6
#define KINDS_MOST  8
#define STATES_MOST 6561 /* 3 to the power of KINDS_MOST */
#define RANKS_MOST  4
#define COUNT_MOST  12 /* ingredients of a recipe */

static struct {
    size_t lists, shown, ended, trades, points;
    size_t cut_short;        /* not complete */
    size_t to_prove, proved; /* recipes of both; not the closest, whose bounds are loose here */
} seen;

/* ---- States ---------------------------------------------------------------------------------- */

struct best {
    double value[WF_GOAL_COUNT][BRUTE_SURE_COUNT];
    double fewest_cost[BRUTE_SURE_COUNT]; /* of those with the fewest ingredients */
};

struct states {
    struct gen *g;
    size_t kinds, malt_kinds;
    size_t of_malt[KINDS_MOST], of_hop[KINDS_MOST];
    struct best best[RANKS_MOST][STATES_MOST];
    double cost[RANKS_MOST][COUNT_MOST][BRUTE_SURE_COUNT]; /* least, by number of ingredients */
};

static const char *entry(const char *id, const char *of)
{
    return of != NULL ? of : id;
}

static void set_kinds(struct states *s, struct gen *g)
{
    s->g = g;
    s->kinds = 0;
    for (size_t i = 0; i < g->store.malt_count; i++) {
        const struct wf_malt *m = g->store.malts;
        size_t same = 0;
        while (strcmp(entry(m[same].id, m[same].of), entry(m[i].id, m[i].of)) != 0)
            same++;
        s->of_malt[i] = same < i ? s->of_malt[same] : s->kinds++;
    }
    s->malt_kinds = s->kinds;
    for (size_t i = 0; i < g->store.hop_count; i++) {
        const struct wf_hop *h = g->store.hops;
        size_t same = 0;
        while (strcmp(entry(h[same].id, h[same].of), entry(h[i].id, h[i].of)) != 0)
            same++;
        s->of_hop[i] = same < i ? s->of_hop[same] : s->kinds++;
    }
}

/* 0 absent, 1 there, 2 noticed, of each kind: by what choices.h says. */
static void state_of(const struct states *s, const struct gen_recipe *r, int *state)
{
    const struct wf_store *store = &s->g->store;
    double amount[KINDS_MOST] = {0}, kg = 0;
    for (size_t i = 0; i < store->malt_count; i++)
        kg += r->kg[i];
    for (size_t i = 0; i < store->malt_count; i++)
        amount[s->of_malt[i]] += r->kg[i] / kg / wf_noticed_share(store->malts[i].class);
    for (size_t slot = 0; slot < s->g->target.slot_count; slot++)
        for (size_t h = 0; h < store->hop_count; h++) {
            double heard = gen_slot_is_late(&s->g->target.slots[slot]) ? 1 : WF_NOTICED_OF_EARLY;
            amount[s->of_hop[h]] += heard * r->grams[slot * store->hop_count + h] /
                                    s->g->brewhouse.batch_l / WF_NOTICED_HOP_DOSE;
        }
    for (size_t k = 0; k < s->kinds; k++)
        state[k] = amount[k] <= 0 ? 0 : amount[k] < 1 - 1e-9 ? 1 : 2;
}

static size_t code_of(const struct states *s, const int *state)
{
    size_t code = 0;
    for (size_t k = 0; k < s->kinds; k++)
        code = 3 * code + (size_t)state[k];
    return code;
}

static void state_from(const struct states *s, size_t code, int *state)
{
    for (size_t k = s->kinds; k-- > 0; code /= 3)
        state[k] = (int)(code % 3);
}

static bool differ(const struct states *s, const int *a, const int *b)
{
    for (size_t k = 0; k < s->kinds; k++)
        if (abs(a[k] - b[k]) == 2)
            return true;
    return false;
}

static void note(struct best *b, const struct verdict *v, enum brute_sure sure)
{
    double count = v->value[WF_GOAL_FEWEST], cost = v->value[WF_GOAL_COST];
    if (count < b->value[WF_GOAL_FEWEST][sure])
        b->fewest_cost[sure] = cost;
    else if (count <= b->value[WF_GOAL_FEWEST][sure])
        b->fewest_cost[sure] = fmin(b->fewest_cost[sure], cost);
    for (int goal = 0; goal < WF_GOAL_COUNT; goal++)
        b->value[goal][sure] = fmin(b->value[goal][sure], v->value[goal]);
}

static void visit(void *data, const struct gen_recipe *r, const struct verdict *v, bool sure,
                  size_t rank)
{
    struct states *s = data;
    int state[KINDS_MOST];
    size_t count = (size_t)v->value[WF_GOAL_FEWEST];
    state_of(s, r, state);
    for (int k = sure ? BRUTE_SURE : BRUTE_PERHAPS; k <= BRUTE_PERHAPS; k++) {
        double *cost = &s->cost[rank][count][k];
        note(&s->best[rank][code_of(s, state)], v, (enum brute_sure)k);
        *cost = fmin(*cost, v->value[WF_GOAL_COST]);
    }
}

static void enumerate(struct states *s, struct gen *g)
{
    set_kinds(s, g);
    double *all = (double *)s->best, *cost = (double *)s->cost;
    for (size_t i = 0; i < sizeof s->best / sizeof *all; i++)
        all[i] = HUGE_VAL;
    for (size_t i = 0; i < sizeof s->cost / sizeof *cost; i++)
        cost[i] = HUGE_VAL;
    brute_each(g, visit, s);
}

/* ---- Cases ----------------------------------------------------------------------------------- */

/* Every third store has two lots of one malt, and two of one hop; every other target asks little.
 */
static struct gen *make(uint64_t s)
{
    const struct gen_options o = {.seed = s,
                                  .malts = 4 + s % 2,
                                  .hops = 3 - s % 2,
                                  .yeasts = s % 3,
                                  .slots = 1 + s % 2,
                                  .scale = GEN_TINY,
                                  .planted = s % 7 != 0,
                                  .tight = s % 4 == 0,
                                  .aims = true,
                                  .fermented = s % 3 > 0};
    struct gen *g = gen_make(&o);
    if (s % 2 == 0) /* many recipes */
        g->target.rule_count = g->target.wish_count = 0;
    if (s % 3 == 1) {
        g->store.malts[0].of = g->store.malts[g->store.malt_count - 1].of = "one-malt";
        g->store.hops[0].of = g->store.hops[1].of = "one-hop";
    }
    return g;
}

static void fail_case(const struct gen *g, const char *what, size_t at)
{
    gen_print(g, stderr);
    fail_msg("seed %llu, recipe %zu: not so: %s", (unsigned long long)g->options.seed, at, what);
}
#define expect(g, at, condition) ((condition) ? (void)0 : fail_case((g), #condition, (at)))

/* What judge.h says of a recipe of the library's; its rank among the target's yeasts is in *rank.
 */
static void judge_recipe(struct gen *g, const struct wf_recipe *r, struct gen_recipe *weights,
                         struct verdict *v, size_t at)
{
    *weights = gen_recipe_new(g);
    expect(g, at, judge_read(g, r, weights));
    judge(g, weights, v);
    expect(g, at, v->allowed && v->margin >= -JUDGE_UNSURE);
    expect(g, at, fabs(v->value[WF_GOAL_COST] - r->cost) <= 1e-6);
    expect(g, at, (size_t)v->value[WF_GOAL_FEWEST] == r->ingredients);
}

static size_t rank_of(const struct gen *g, size_t yeast)
{
    const char *const *wanted = g->target.yeasts;
    size_t rank = 0;
    if (yeast == GEN_NO_YEAST || wanted == NULL)
        return 0;
    while (strcmp(wanted[rank], g->store.yeasts[yeast].id) != 0 &&
           strcmp(wanted[rank], g->store.yeasts[yeast].family) != 0)
        rank++;
    return rank;
}

/* ---- Alternatives ---------------------------------------------------------------------------- */

struct listed {
    struct states *s;
    int state[WANTED + 1][KINDS_MOST];
    size_t count, rank;
};

/* The best of the enumerated recipes that differ from all listed so far. */
static struct best best_left(const struct listed *l)
{
    struct best best;
    double *value = (double *)&best;
    for (size_t i = 0; i < sizeof best / sizeof *value; i++)
        value[i] = HUGE_VAL;
    for (size_t code = 0; code < STATES_MOST; code++) {
        const struct best *b = &l->s->best[l->rank][code];
        int state[KINDS_MOST];
        bool apart = b->value[WF_GOAL_COST][BRUTE_PERHAPS] < HUGE_VAL;
        state_from(l->s, code, state);
        for (size_t i = 0; apart && i < l->count; i++)
            apart = differ(l->s, state, l->state[i]);
        for (int k = 0; apart && k < BRUTE_SURE_COUNT; k++) {
            double count = b->value[WF_GOAL_FEWEST][k], least = best.value[WF_GOAL_FEWEST][k];
            if (count < least || (count <= least && b->fewest_cost[k] < best.fewest_cost[k]))
                best.fewest_cost[k] = b->fewest_cost[k];
            for (int goal = 0; goal < WF_GOAL_COUNT; goal++)
                best.value[goal][k] = fmin(best.value[goal][k], b->value[goal][k]);
        }
    }
    return best;
}

static void check_value(struct gen *g, size_t at, enum wf_goal goal, const struct wf_proof *p,
                        const double best[BRUTE_SURE_COUNT])
{
    double room = solved_room(goal, p->value);
    expect(g, at, p->value >= best[BRUTE_PERHAPS] - fmax(1e-6, goal == WF_GOAL_CLOSEST ? room : 0));
    expect(g, at, p->bound <= best[BRUTE_SURE] + 1e-6);
    expect(g, at, p->gap > SOLVED_GAP * 1.0001 || p->value <= best[BRUTE_SURE] + room);
}

/* Each change is so: what comes is there and was not before, what goes is not. */
static void check_changes(struct gen *g, const struct wf_alternatives *a, size_t at)
{
    const struct wf_choice *c = &a->list[at];
    bool goes = false;
    expect(g, at, (at == 0) == (c->change_count == 0));
    for (size_t i = 0; i < c->change_count; i++) {
        const struct wf_change *x = &c->changes[i];
        double amount = 0;
        for (size_t m = 0; !x->hop && m < c->recipe->malt_count; m++)
            amount += strcmp(c->recipe->malts[m].name, x->name) == 0 ? 1 : 0;
        for (size_t h = 0; x->hop && h < c->recipe->hop_count; h++)
            amount += strcmp(c->recipe->hops[h].name, x->name) == 0 ? 1 : 0;
        expect(g, at, x->comes == (amount > 0));
        expect(g, at, !x->comes || !goes);
        expect(g, at, !x->comes || (x->hop ? x->grams > 0 : x->share > 0 && x->share <= 1));
        goes = goes || !x->comes;
    }
}

static bool same_changes(const struct wf_choice *a, const struct wf_choice *b)
{
    if (a->change_count != b->change_count)
        return false;
    for (size_t i = 0; i < a->change_count; i++)
        if (strcmp(a->changes[i].name, b->changes[i].name) != 0 ||
            a->changes[i].comes != b->changes[i].comes)
            return false;
    return true;
}

static void check_one(struct gen *g, struct listed *l, const struct wf_alternatives *a, size_t at,
                      enum wf_goal goal)
{
    const struct wf_recipe *r = a->list[at].recipe;
    struct gen_recipe weights;
    struct verdict v;
    judge_recipe(g, r, &weights, &v, at);
    if (at == 0)
        l->rank = rank_of(g, weights.yeast);
    struct best best = best_left(l);
    state_of(l->s, &weights, l->state[at]);
    for (size_t i = 0; i < at; i++) {
        expect(g, at, differ(l->s, l->state[at], l->state[i]));
        expect(g, at, !same_changes(&a->list[at], &a->list[i]));
    }
    expect(g, at, rank_of(g, weights.yeast) == l->rank);
    expect(g, at,
           fabs(r->proofs[0].value - v.value[goal]) <= 1e-6 + (goal == WF_GOAL_CLOSEST ? 0.04 : 0));
    check_value(g, at, goal, &r->proofs[0], best.value[goal]);
    if (goal == WF_GOAL_FEWEST && r->proof_count > 1 &&
        best.value[goal][BRUTE_SURE] <= best.value[goal][BRUTE_PERHAPS])
        check_value(g, at, WF_GOAL_COST, &r->proofs[1], best.fewest_cost);
    check_changes(g, a, at);
    l->count++;
}

static void check_list(struct states *s, const enum wf_goal *goals, size_t count)
{
    struct wf_solve_options o = {.goal_count = count, .today = GEN_TODAY, .seconds = 60};
    struct wf_alternatives *a = NULL;
    struct wf_error e = {0};
    struct listed l = {.s = s};
    struct gen *g = s->g;
    memcpy(o.goals, goals, count * sizeof *goals);
    enum wf_status status =
        wf_solve_alternatives(&g->target, &g->store, &g->brewhouse, &o, WANTED, &a, &e);
    if (status == WF_NO_RECIPE) {
        expect(g, 0, a != NULL && a->count == 1 && a->list[0].recipe->status == WF_RECIPE_NONE);
        wf_alternatives_free(a);
        return;
    }
    if (status != WF_OK)
        fail_case(g, e.text, 0);
    expect(g, 0, a->count >= 1 && a->count <= WANTED + 1 && a->wanted == WANTED + 1);
    for (size_t i = 0; i < a->count; i++)
        check_one(g, &l, a, i, goals[0]);
    if (a->complete && a->count < WANTED + 1)
        expect(g, a->count, isinf(best_left(&l).value[WF_GOAL_COST][BRUTE_SURE]));
    for (size_t i = 0; goals[0] != WF_GOAL_CLOSEST && i < a->count; i++) {
        seen.proved += a->list[i].recipe->status == WF_RECIPE_OPTIMAL;
        seen.to_prove++;
    }
    seen.lists++;
    seen.shown += a->count;
    seen.cut_short += !a->complete;
    seen.ended += a->count < WANTED + 1;
    wf_alternatives_free(a);
}

/* ---- Trade ----------------------------------------------------------------------------------- */

/* The least cost of at most so many ingredients. */
static double least_cost(const struct states *s, size_t rank, size_t count, enum brute_sure sure)
{
    double least = HUGE_VAL;
    for (size_t n = 0; n <= count && n < COUNT_MOST; n++)
        least = fmin(least, s->cost[rank][n][sure]);
    return least;
}

static void check_points(struct states *s, const struct wf_trade *t)
{
    double cost = HUGE_VAL; /* of the point before */
    size_t count = 0, rank = 0;
    for (size_t i = 0; i < t->count; i++) {
        const struct wf_trade_point *p = &t->points[i];
        struct gen_recipe weights;
        struct verdict v;
        judge_recipe(s->g, p->recipe, &weights, &v, i);
        rank = i == 0 ? rank_of(s->g, weights.yeast) : rank;
        expect(s->g, i, rank_of(s->g, weights.yeast) == rank);
        expect(s->g, i, p->ingredients == p->recipe->ingredients && p->ingredients > count);
        expect(s->g, i, fabs(p->cost - p->recipe->cost) <= 1e-6 && p->cost < cost);
        const double best[] = {least_cost(s, rank, p->ingredients, BRUTE_SURE),
                               least_cost(s, rank, p->ingredients, BRUTE_PERHAPS)};
        expect(s->g, i, p->recipe->proof_count == 1);
        seen.proved += p->recipe->status == WF_RECIPE_OPTIMAL;
        seen.to_prove++;
        expect(s->g, i, p->bound == p->recipe->proofs[0].bound);
        check_value(s->g, i, WF_GOAL_COST, &p->recipe->proofs[0], best);
        for (size_t n = count + 1; t->complete && n < p->ingredients;
             n++) /* no point is left out */
            expect(s->g, i,
                   least_cost(s, rank, n, BRUTE_SURE) >=
                       cost - 2 * solved_room(WF_GOAL_COST, p->cost));
        count = p->ingredients;
        cost = p->cost;
    }
    expect(s->g, t->count,
           least_cost(s, rank, COUNT_MOST, BRUTE_SURE) >= cost - solved_room(WF_GOAL_COST, cost));
}

static void check_trade(struct states *s)
{
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 60};
    struct gen *g = s->g;
    struct wf_trade *t = NULL;
    struct wf_error e = {0};
    enum wf_status status = wf_solve_trade(&g->target, &g->store, &g->brewhouse, &o, &t, &e);
    if (status == WF_NO_RECIPE) {
        expect(g, 0, t != NULL && t->count == 0 && t->nearest->status == WF_RECIPE_NONE);
        wf_trade_free(t);
        return;
    }
    if (status != WF_OK)
        fail_case(g, e.text, 0);
    expect(g, 0, t->count > 0 && t->nearest == NULL);
    seen.cut_short += !t->complete;
    check_points(s, t);
    seen.trades++;
    seen.points += t->count;
    wf_trade_free(t);
}

/* ---- The whole ------------------------------------------------------------------------------- */

static void one_case(void **state)
{
    static const enum wf_goal goals[][2] = {{WF_GOAL_COST, WF_GOAL_FEWEST},
                                            {WF_GOAL_FEWEST, WF_GOAL_COST},
                                            {WF_GOAL_CLOSEST, WF_GOAL_COST}};
    static struct states s;
    const uint64_t *seed = *state;
    struct gen *g = make(*seed);
    enumerate(&s, g);
    check_list(&s, goals[0], 1);
    check_list(&s, goals[1], 1 + *seed % 2);
    check_list(&s, goals[2], 1);
    check_trade(&s);
    gen_free(g);
}

static void cases_were_telling(void **state)
{
    (void)state;
    print_message(
        "%zu lists of %zu recipes, %zu ended; %zu trades of %zu points; %zu of %zu proved\n",
        seen.lists, seen.shown, seen.ended, seen.trades, seen.points, seen.proved, seen.to_prove);
    assert_true(seen.lists > 2 * CASES && seen.shown > 5 * seen.lists / 2);
    assert_true(seen.ended > CASES / 4 && seen.lists - seen.ended > CASES / 4);
    assert_true(seen.points > seen.trades * 5 / 4);
    assert_true(seen.cut_short * 50 <= seen.lists + seen.trades);
    assert_true(seen.proved * 100 >= seen.to_prove * 95);
}

int main(void)
{
    static uint64_t seeds[CASES];
    static char names[CASES][24];
    static struct CMUnitTest tests[CASES + 1];
    for (size_t i = 0; i < CASES; i++) {
        seeds[i] = i + 1;
        snprintf(names[i], sizeof names[i], "seed %zu", i + 1);
        tests[i] = (struct CMUnitTest){
            .name = names[i], .test_func = one_case, .initial_state = &seeds[i]};
    }
    tests[CASES] =
        (struct CMUnitTest){.name = "cases were telling", .test_func = cases_were_telling};
    return _cmocka_run_group_tests("choices", tests, COUNT_OF(tests), NULL, NULL) != 0;
}
