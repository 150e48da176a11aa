/*
 * Refitted hops against enumeration: drawn recipes with bags of other alpha acids, where every
 * weight of every free addition is tried, at every time and of every hop that it may have. The
 * fewest changes, and of those the least change, must be what the search finds.
 */
#include "support/test.h"

#include "support/dice.h"
#include "support/memory.h"

#include "base/text.h"
#include "wortfit/refit.h"
#include "wortfit/scale.h"
#include "wortfit/solve.h"

#define CASES      120
#define STEP_G     4.0
#define LEAST_G    8.0
#define MOST_G     40.0 /* stock of each hop */
#define NOTCH_G    2.0  /* 0.1 g/L of 20 L, as refit.h has it */
#define PLACES     3
#define HOPS       3
#define WHAT_MOST  128
#define TIMES_MOST 3

static struct {
    size_t found, none, unchanged, one, more, moved;
} seen;

static const char *const ids[HOPS] = {"magnum", "cascade", "saaz"};

/* ---- A drawn case ---------------------------------------------------------------------------- */

struct place {
    double grams, minutes; /* before; 0 g: nothing */
    int hop;
    bool fixed, any_hop;
    double times[TIMES_MOST];
    int time_count;
};

struct drawn {
    struct place places[PLACES];
    double alpha[HOPS]; /* of now */
    bool all, scheduled;
    double low, high, aim; /* IBU; aim NaN: the recipe's own */
    struct wf_recipe *recipe;
    struct wf_store *store;
    struct wf_catalogue *catalogue;
    struct wf_refit_slots *slots;
    struct wf_brewhouse brewhouse;
    struct wf_refit_alpha bags[HOPS];
};

static void draw_place(struct dice *d, struct place *p, int i, bool scheduled)
{
    static const double times[PLACES][TIMES_MOST] = {{60, 45, 30}, {25, 20, 15}, {10, 5, 1}};
    *p = (struct place){.grams = 5 + (double)dice_whole(d, 0, 30 - 1),
                        .hop = (int)dice_whole(d, 0, HOPS - 1)};
    p->time_count = scheduled ? 1 + (int)dice_whole(d, 0, TIMES_MOST - 1) : 1;
    for (int k = 0; k < p->time_count; k++)
        p->times[k] = times[i][k];
    p->minutes = p->times[0];
    p->any_hop = scheduled && dice_whole(d, 0, 2 - 1) == 0;
    p->fixed = scheduled && dice_whole(d, 0, 3 - 1) == 0;
}

static void parse_recipe(struct drawn *c)
{
    struct wf_text t = {0};
    wf_text_add(&t, "{\"recipe\": \"drawn\", \"malts\": [{\"id\": \"two-row-malt\", \"weight\": "
                    "\"4.4 kg\"}], \"hops\": [");
    for (int i = 0; i < PLACES; i++)
        wf_text_add(&t, "%s{\"id\": \"%s\", \"weight\": \"%g g\", \"at\": \"%g min\"}",
                    i > 0 ? ", " : "", ids[c->places[i].hop], c->places[i].grams,
                    c->places[i].minutes);
    wf_text_add(&t, "]}");
    assert_int_equal(
        wf_recipe_parse("drawn", t.data, t.length, NULL, c->catalogue, &c->recipe, NULL), WF_OK);
    wf_text_free(&t);
}

static void parse_store(struct drawn *c)
{
    struct wf_text t = {0};
    wf_text_add(&t, "{\"store\": \"drawn\", \"malts\": [{\"id\": \"two-row-malt\"}], \"hops\": [");
    for (int i = 0; i < HOPS; i++)
        wf_text_add(&t, "%s{\"id\": \"%s\", \"have\": \"%g g\"}", i > 0 ? ", " : "", ids[i],
                    MOST_G);
    wf_text_add(&t, "]}");
    assert_int_equal(wf_store_parse("drawn", t.data, t.length, c->catalogue, &c->store, NULL),
                     WF_OK);
    wf_text_free(&t);
}

static void parse_slots(struct drawn *c)
{
    struct wf_text t = {0};
    for (int i = 0; i < PLACES; i++) {
        const struct place *p = &c->places[i];
        wf_text_add(&t, "%s", i > 0 ? ", " : "");
        for (int k = 0; k < p->time_count; k++)
            wf_text_add(&t, "%s%g", k > 0 ? "|" : "", p->times[k]);
        wf_text_add(&t, " min%s%s%s", p->any_hop ? "" : " ", p->any_hop ? "" : ids[p->hop],
                    p->fixed ? " keep" : "");
    }
    assert_int_equal(wf_refit_slots_parse(t.data, &c->slots, NULL), WF_OK);
    assert_int_equal(c->slots->count, PLACES);
    wf_text_free(&t);
}

static void draw(struct drawn *c, uint64_t seed)
{
    struct dice d = {seed};
    *c = (struct drawn){.scheduled = dice_whole(&d, 0, 2 - 1) == 0,
                        .all = dice_whole(&d, 0, 2 - 1) == 0};
    assert_int_equal(wf_catalogue_read(&c->catalogue, NULL), WF_OK);
    for (int i = 0; i < PLACES; i++)
        draw_place(&d, &c->places[i], i, c->scheduled);
    for (int i = 0; i < HOPS; i++) {
        c->alpha[i] = wf_catalogue_hop(c->catalogue, ids[i])->alpha *
                      (0.75 + 0.05 * (double)dice_whole(&d, 0, 9 - 1));
        c->bags[i] = (struct wf_refit_alpha){ids[i], c->alpha[i]};
    }
    parse_recipe(c);
    parse_store(c);
    if (c->scheduled)
        parse_slots(c);
    c->aim = dice_whole(&d, 0, 3 - 1) == 0 ? 15 + (double)dice_whole(&d, 0, 50 - 1) : (double)NAN;
    wf_brewhouse_default(WF_UNITS_METRIC, &c->brewhouse);
    c->brewhouse.step_hop_g = STEP_G;
    c->brewhouse.least_hop_g = LEAST_G;
}

static void drawn_free(struct drawn *c)
{
    wf_refit_slots_free(c->slots);
    wf_store_free(c->store);
    wf_recipe_free(c->recipe);
    wf_catalogue_free(c->catalogue);
}

static struct wf_refit_options options_of(const struct drawn *c)
{
    struct wf_refit_options o = {.ratio = wf_range_any(),
                                 .bitterness = wf_range_any(),
                                 .alphas = c->bags,
                                 .alpha_count = HOPS,
                                 .slots = c->slots,
                                 .all = c->all,
                                 .store = c->store,
                                 .catalogue = c->catalogue,
                                 .brewhouse = &c->brewhouse};
    if (isfinite(c->aim))
        o.bitterness = (struct wf_range){c->aim - 1, c->aim + 1, c->aim};
    return o;
}

/* ---- Every schedule -------------------------------------------------------------------------- */

struct option {
    int hop;
    double grams, ibu; /* of all of it */
    bool changed;
    double moved_g;
};

struct options {
    struct option list[512];
    int count;
};

struct best {
    double fewest, change;
    size_t tried;
};

static double ibu_per_gram(const struct drawn *c, int hop, double minutes)
{
    const struct wf_addition a = {
        .use = WF_HOP_BOIL, .alpha = c->alpha[hop], .minutes = minutes, .form = 1};
    double ibu;
    assert_int_equal(
        wf_ibu_per_gram(&a, &c->recipe->kettle, c->recipe->predicted.boil_gravity, &ibu), WF_OK);
    return ibu;
}

/* An early addition, or any if all may change; a dose that is kept may still change its time. */
static bool is_free(const struct drawn *c, const struct place *p)
{
    return c->scheduled ? !p->fixed : c->all || p->minutes > WF_LATE_HOP_MINUTES;
}

static void add_option(struct options *o, const struct drawn *c, const struct place *p, int hop,
                       double grams, double minutes)
{
    bool same_hop = hop == p->hop;
    assert_true(o->count < (int)COUNT_OF(o->list));
    o->list[o->count++] = (struct option){
        .hop = hop,
        .grams = grams,
        .ibu = grams * ibu_per_gram(c, hop, minutes),
        .changed = !same_hop || fabs(grams - p->grams) > 1e-9 || fabs(minutes - p->minutes) > 1e-9,
        .moved_g = same_hop ? fabs(grams - p->grams) : grams + p->grams};
}

static struct options options_at(const struct drawn *c, const struct place *p)
{
    struct options o = {.count = 0};
    bool free_ = is_free(c, p);
    if (free_)
        o.list[o.count++] = (struct option){.changed = true, .moved_g = p->grams};
    for (int hop = 0; hop < HOPS; hop++) {
        bool in_recipe = false;
        for (int i = 0; i < PLACES; i++)
            in_recipe = in_recipe || c->places[i].hop == hop;
        if (hop != p->hop && (!p->any_hop || !free_ || !in_recipe))
            continue;
        for (int k = 0; k < p->time_count; k++) {
            if (hop == p->hop && (!free_ || k == 0))
                add_option(&o, c, p, hop, p->grams, p->times[k]);
            for (double g = LEAST_G; free_ && g <= MOST_G; g += STEP_G)
                add_option(&o, c, p, hop, g, p->times[k]);
        }
    }
    return o;
}

static double finest_half_step(const struct drawn *c)
{
    double least = INFINITY;
    for (int i = 0; i < PLACES; i++) {
        const struct place *p = &c->places[i];
        for (int hop = 0; is_free(c, p) && hop < HOPS; hop++) {
            bool in_recipe = false;
            for (int k = 0; k < PLACES; k++)
                in_recipe = in_recipe || c->places[k].hop == hop;
            for (int k = 0; (hop == p->hop || (p->any_hop && in_recipe)) && k < p->time_count; k++)
                least = fmin(least, ibu_per_gram(c, hop, p->times[k]) * STEP_G / 2);
        }
    }
    return isfinite(least) ? least : 0;
}

static void judge(const struct drawn *c, const struct option *const chosen[PLACES], double aim,
                  double room, struct best *best)
{
    double ibu = 0, changed = 0, moved = 0, used[HOPS] = {0};
    for (int i = 0; i < PLACES; i++) {
        ibu += chosen[i]->ibu;
        changed += chosen[i]->changed;
        moved += chosen[i]->moved_g / NOTCH_G;
        used[chosen[i]->hop] += chosen[i]->grams;
    }
    for (int k = 0; k < HOPS; k++)
        if (used[k] > MOST_G + 1e-9)
            return;
    if (fabs(ibu - aim) > room + 1e-7)
        return;
    (void)c;
    best->tried++;
    double change = fabs(ibu - aim) + moved;
    if (changed < best->fewest || (changed <= best->fewest && change < best->change)) {
        best->fewest = changed;
        best->change = change;
    }
}

static struct best enumerate(const struct drawn *c)
{
    static struct options o[PLACES];
    double aim = isfinite(c->aim) ? c->aim : c->recipe->predicted.ibu;
    double room = fmax(1, finest_half_step(c));
    struct best best = {INFINITY, INFINITY, 0};
    for (int i = 0; i < PLACES; i++)
        o[i] = options_at(c, &c->places[i]);
    for (int i = 0; i < o[0].count; i++)
        for (int k = 0; k < o[1].count; k++)
            for (int m = 0; m < o[2].count; m++) {
                const struct option *const chosen[] = {&o[0].list[i], &o[1].list[k], &o[2].list[m]};
                judge(c, chosen, aim, room, &best);
            }
    return best;
}

/* ---- Checks ---------------------------------------------------------------------------------- */

struct row {
    uint64_t seed;
    char name[32];
};

static void check_found(const struct drawn *c, const struct wf_refit *f, const struct best *best)
{
    const struct wf_recipe *r = f->recipe;
    assert_int_equal(r->status, WF_RECIPE_OPTIMAL);
    assert_close(r->proofs[0].value, best->fewest, 0);
    assert_close(r->proofs[0].bound, best->fewest, 0);
    assert_close(r->proofs[1].value, best->change, 1e-5);
    assert_close(r->proofs[1].bound, best->change, 1e-5);
    assert_close((double)f->changed, best->fewest, 0);
    assert_close(r->predicted.og, c->recipe->predicted.og, 0);
    assert_true(r->wishes[0].met);
    for (size_t i = 0; i < f->line_count; i++)
        seen.moved += f->lines[i].before != WF_NO_LINE && f->lines[i].after != WF_NO_LINE &&
                      fabs(c->recipe->hops[f->lines[i].before].addition.minutes -
                           r->hops[f->lines[i].after].addition.minutes) > 1e-9;
    seen.found++;
    seen.unchanged += f->changed == 0;
    seen.one += f->changed == 1;
    seen.more += f->changed > 1;
}

static void one_case(void **state)
{
    const struct row *row = *state;
    struct drawn c;
    struct wf_refit *f = NULL;
    struct wf_error e = {0};
    draw(&c, row->seed);
    struct wf_refit_options o = options_of(&c);
    struct best best = enumerate(&c);
    enum wf_status status = wf_recipe_refit(c.recipe, &o, &f, &e);
    assert_int_equal(status, best.tried > 0 ? WF_OK : WF_NO_RECIPE);
    if (status == WF_OK)
        check_found(&c, f, &best);
    else
        assert_non_null(strstr(e.text, "cannot be had") ? e.text : strstr(e.text, "the store has"));
    seen.none += status != WF_OK;
    wf_refit_free(f);
    drawn_free(&c);
}

static void cases_were_telling(void **state)
{
    (void)state;
    print_message("%zu found (%zu unchanged, %zu with one change, %zu with more, %zu additions "
                  "moved), %zu impossible\n",
                  seen.found, seen.unchanged, seen.one, seen.more, seen.moved, seen.none);
    assert_true(seen.unchanged >= 5 && seen.one >= 20 && seen.more >= 5 && seen.moved >= 5 &&
                seen.none >= 5);
}

/* With the alpha acid that it was made with, a recipe is as it was, to the gram. */
static void the_same_alpha_changes_nothing(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 10; seed++) {
        struct drawn c;
        struct wf_refit *f = NULL;
        draw(&c, seed);
        struct wf_refit_options o = options_of(&c);
        o.alpha_count = 0;
        o.slots = NULL;
        o.store = NULL;
        o.bitterness = wf_range_any();
        assert_int_equal(wf_recipe_refit(c.recipe, &o, &f, NULL), WF_OK);
        assert_int_equal(f->changed, 0);
        assert_int_equal(f->recipe->hop_count, c.recipe->hop_count);
        for (size_t i = 0; i < f->recipe->hop_count; i++)
            assert_close(f->recipe->hops[i].grams, c.recipe->hops[i].grams, 0);
        assert_close(f->recipe->predicted.ibu, c.recipe->predicted.ibu, 1e-12);
        assert_close(f->untouched_ibu, c.recipe->predicted.ibu, 1e-9);
        wf_refit_free(f);
        drawn_free(&c);
    }
}

/* ---- Schedules as they are written ----------------------------------------------------------- */

static void schedules_are_read(void **state)
{
    (void)state;
    struct wf_refit_slots *s = NULL;
    assert_int_equal(
        wf_refit_slots_parse("60|45|30 min magnum, 10 min Cascade 20 g ,stand 20 min 80 C 1 g/L, "
                             "first wort, dry 4 days keep, 5min|2 min",
                             &s, NULL),
        WF_OK);
    assert_int_equal(s->count, 6);
    assert_int_equal(s->list[0].minute_count, 3);
    assert_close(s->list[0].minutes[2], 30, 0);
    assert_string_equal(s->list[0].hop, "magnum");
    assert_true(isnan(s->list[0].grams) && isnan(s->list[0].dose) && !s->list[0].keep);
    assert_string_equal(s->list[1].hop, "Cascade");
    assert_close(s->list[1].grams, 20, 1e-12);
    assert_int_equal(s->list[2].use, WF_HOP_STAND);
    assert_null(s->list[2].hop);
    assert_close(s->list[2].celsius, 80, 0);
    assert_close(s->list[2].dose, 1, 1e-12);
    assert_int_equal(s->list[3].use, WF_HOP_FIRST_WORT);
    assert_int_equal(s->list[4].use, WF_HOP_DRY);
    assert_true(s->list[4].keep && s->list[4].hop == NULL);
    assert_close(s->list[5].minutes[0], 5, 0);
    assert_close(s->list[5].minutes[1], 2, 0);
    wf_refit_slots_free(s);
    wf_refit_slots_free(NULL);
}

static void schedules_are_refused(void **state)
{
    (void)state;
    static const char *const texts[] = {"",
                                        "61",
                                        "magnum",
                                        "60 min,",
                                        "60| min",
                                        "|",
                                        "60|dry 4 days",
                                        "stand 20 min",
                                        "60|stand 20 min 80 C"};
    for (size_t i = 0; i < COUNT_OF(texts); i++) {
        struct wf_refit_slots *s = NULL;
        struct wf_error e = {0};
        if (wf_refit_slots_parse(texts[i], &s, &e) != WF_USAGE)
            fail_msg("'%s' is not refused", texts[i]);
        assert_null(s);
        assert_non_null(strstr(e.text, "does not begin with a time"));
    }
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static enum wf_status whole_refit(void *data, struct wf_error *e)
{
    struct drawn *c = data;
    struct wf_refit_options o = options_of(c);
    struct wf_refit *f = NULL;
    enum wf_status status = wf_recipe_refit(c->recipe, &o, &f, e);
    assert_true((status == WF_OK) == (f != NULL));
    wf_refit_free(f);
    return status;
}

static enum wf_status whole_parse(void *data, struct wf_error *e)
{
    struct wf_refit_slots *s = NULL;
    enum wf_status status = wf_refit_slots_parse(data, &s, e);
    wf_refit_slots_free(s);
    return status;
}

static void out_of_memory(void **state)
{
    (void)state;
    static char text[] = "60|45 min magnum, 10 min cascade 20 g";
    size_t tested = 0;
    for (uint64_t seed = 1; tested < 2; seed++) {
        struct drawn c;
        struct wf_error e = {0};
        draw(&c, seed);
        if (c.scheduled && whole_refit(&c, &e) == WF_OK) {
            check_memory_is_told(whole_refit, &c, 20, 1);
            tested++;
        }
        drawn_free(&c);
    }
    check_out_of_memory(whole_parse, text, 1, 1);
}

int main(void)
{
    static struct row rows[CASES];
    static struct CMUnitTest tests[CASES + 8];
    const struct CMUnitTest others[] = {
        cmocka_unit_test(cases_were_telling), cmocka_unit_test(the_same_alpha_changes_nothing),
        cmocka_unit_test(schedules_are_read), cmocka_unit_test(schedules_are_refused),
        cmocka_unit_test(out_of_memory),
    };
    for (size_t i = 0; i < CASES; i++) {
        rows[i].seed = i + 1;
        snprintf(rows[i].name, sizeof rows[i].name, "case %zu", i + 1);
        tests[i] = (struct CMUnitTest){rows[i].name, one_case, NULL, NULL, &rows[i]};
    }
    memcpy(tests + CASES, others, sizeof others);
    return _cmocka_run_group_tests("refit", tests, CASES + COUNT_OF(others), NULL, NULL);
}
