/*
 * shrink.c: a case that fails made small: whatever can be left out, and every figure that can be a
 * plain one, as long as it still fails.
 */
#include "support/test.h"

#include "drawn/property.h"
#include "support/generate_parts.h"

#include <sys/stat.h>

#define TRIES_MOST 2000

/* ---- Lists ----------------------------------------------------------------------------------- */

static bool named(const char *const *ids, const char *id)
{
    for (; ids != NULL && *ids != NULL; ids++)
        if (strcmp(*ids, id) == 0)
            return true;
    return false;
}

/* A lot that a wish names stays: the wish may go first. */
static bool spoken_of(const struct gen *g, const char *id)
{
    bool is = named(g->target.use, id) || named(g->target.avoid, id);
    for (size_t i = 0; i < g->target.rule_count; i++)
        is = is || named(g->target.rules[i].who.ids, id);
    for (size_t i = 0; i < g->target.slot_count; i++)
        is = is || named(g->target.slots[i].hops, id);
    return is;
}

/* The list without item i. */
static void *without(struct gen *g, const void *list, size_t *count, size_t size, size_t i)
{
    char *copy = change_copy(g, list, *count, size, 0);
    memmove(copy + i * size, copy + (i + 1) * size, (*count - i - 1) * size);
    --*count;
    return copy;
}

/* ---- Steps: each makes a copy simpler; false: there is nothing to do ------------------------- */

static bool drop(struct gen *g, size_t i)
{
    struct wf_store *s = &g->store;
    struct wf_target *t = &g->target;
    if (i < s->malt_count) {
        if (s->malt_count == 1 || spoken_of(g, s->malts[i].id))
            return false;
        s->malts = without(g, s->malts, &s->malt_count, sizeof *s->malts, i);
        return true;
    }
    i -= s->malt_count;
    if (i < s->hop_count) {
        if (s->hop_count == 1 || spoken_of(g, s->hops[i].id))
            return false;
        s->hops = without(g, s->hops, &s->hop_count, sizeof *s->hops, i);
        return true;
    }
    i -= s->hop_count;
    if (i < s->yeast_count) {
        s->yeasts = without(g, s->yeasts, &s->yeast_count, sizeof *s->yeasts, i);
        return true;
    }
    i -= s->yeast_count;
    if (i < t->rule_count) {
        t->rules = without(g, t->rules, &t->rule_count, sizeof *t->rules, i);
        return true;
    }
    i -= t->rule_count;
    if (i < t->wish_count) {
        t->wishes = without(g, t->wishes, &t->wish_count, sizeof *t->wishes, i);
        return true;
    }
    i -= t->wish_count;
    if (i >= t->slot_count || t->slot_count == 1)
        return false;
    t->slots = without(g, t->slots, &t->slot_count, sizeof *t->slots, i);
    return true;
}

static bool forget(struct gen *g, size_t i)
{
    struct wf_target *t = &g->target;
    struct wf_range *const figures[] = {&t->colour, &t->ratio, &t->bitterness, &t->fg, &t->abv};
    const char *const **const lists[] = {&t->use, &t->avoid, &t->yeasts};
    if (i < COUNT_OF(figures)) {
        bool any = wf_range_is_any(*figures[i]);
        *figures[i] = wf_range_any();
        return !any;
    }
    i -= COUNT_OF(figures);
    if (i < COUNT_OF(lists)) {
        bool none = *lists[i] == NULL;
        *lists[i] = NULL;
        return !none;
    }
    bool more = t->diastatic > 0;
    t->diastatic = 0;
    return more && i == COUNT_OF(lists);
}

static bool plain_lots(struct gen *g, size_t i)
{
    struct wf_store *s = &g->store;
    s->malts = change_copy(g, s->malts, s->malt_count, sizeof *s->malts, 0);
    s->hops = change_copy(g, s->hops, s->hop_count, sizeof *s->hops, 0);
    if (i / 8 < s->malt_count) {
        struct wf_malt *m = &s->malts[i / 8], before = *m;
        double *const nan[] = {&m->pack_kg, &m->step_kg, &m->most};
        double *const round_off[] = {&m->price_per_kg, &m->grain.lovibond, &m->grain.lintner};
        if (i % 8 < 3)
            *nan[i % 8] = (double)NAN;
        else if (i % 8 < 6 && isfinite(*round_off[i % 8 - 3]))
            *round_off[i % 8 - 3] = round(*round_off[i % 8 - 3]);
        else if (i % 8 == 6)
            m->have_kg = (double)INFINITY;
        else if (i % 8 == 7)
            memset(m->character, 0, sizeof m->character);
        return memcmp(&before, m, sizeof *m) != 0;
    }
    i -= 8 * s->malt_count;
    if (i / 4 >= s->hop_count)
        return false;
    struct wf_hop *h = &s->hops[i / 4], before = *h;
    if (i % 4 == 0)
        h->pack_kg = h->step_kg = (double)NAN;
    else if (i % 4 == 1)
        h->have_g = (double)INFINITY;
    else if (i % 4 == 2)
        h->packed = WF_NO_DATE;
    else
        h->price_per_kg = round(h->price_per_kg);
    return memcmp(&before, h, sizeof *h) != 0;
}

static bool plain_wishes(struct gen *g, size_t i)
{
    struct wf_target *t = &g->target;
    if (i < t->slot_count) {
        struct wf_slot *s = change_copy(g, t->slots, t->slot_count, sizeof *s, 0);
        bool more = s[i].dosed || s[i].hops || s[i].origins || s[i].wish_count > 0;
        s[i] = (struct wf_slot){.use = s[i].use,
                                .minutes = s[i].minutes,
                                .celsius = s[i].celsius,
                                .days = s[i].days,
                                .dose = wf_range_any(),
                                .most = 1,
                                .at = s[i].at};
        t->slots = s;
        return more;
    }
    i -= t->slot_count;
    if (i < t->rule_count) {
        struct wf_rule *r = change_copy(g, t->rules, t->rule_count, sizeof *r, 0);
        bool more = r[i].least >= 0 || r[i].most >= 0;
        r[i].least = r[i].most = -1;
        t->rules = r;
        return more;
    }
    i -= t->rule_count;
    double *const figures[] = {&g->brewhouse.efficiency, &g->brewhouse.evaporation_l_h,
                               &g->brewhouse.least_malt_kg, &g->brewhouse.least_hop_g};
    static const double plain[] = {0.75, 0, 0, 0};
    if (i >= COUNT_OF(figures))
        return false;
    bool other = *figures[i] < plain[i] || *figures[i] > plain[i];
    *figures[i] = plain[i];
    return other;
}

typedef bool step(struct gen *g, size_t i);
static step *const steps[] = {drop, forget, plain_wishes, plain_lots};
#define PLACES_MOST 160 /* of a step: 8 a malt, 4 a hop */

static bool still_fails(const struct property_case *p, struct gen *g, property *fails,
                        const void *data)
{
    struct property_case simpler;
    property_begin(&simpler, g, p->goal, p->seed);
    bool failed = fails(&simpler, data).end == PROPERTY_FAILED;
    property_end(&simpler);
    return failed;
}

struct gen property_shrink(const struct property_case *p, property *fails, const void *data)
{
    struct gen best = *p->g;
    int tries = 0;
    for (bool again = true; again && tries < TRIES_MOST;) {
        again = false;
        for (size_t k = 0; k < COUNT_OF(steps); k++)
            for (size_t i = 0; i < PLACES_MOST && tries < TRIES_MOST; i++) {
                struct gen simpler = best;
                if (!steps[k](&simpler, i))
                    continue;
                tries++;
                if (!still_fails(p, &simpler, fails, data))
                    continue;
                best = simpler;
                again = true;
            }
    }
    return best;
}

/* ---- For people ------------------------------------------------------------------------------ */

void property_keep(const struct gen *g, const char *name, enum wf_goal goal)
{
    static const struct {
        const char *name;
        void (*write)(const struct gen *, FILE *);
    } files[] = {{"store", gen_write_store},
                 {"brewhouse", gen_write_brewhouse},
                 {"target", gen_write_target}};
    char path[256];
    mkdir("drawn-failed", 0777);
    for (size_t i = 0; i < COUNT_OF(files); i++) {
        snprintf(path, sizeof path, "drawn-failed/%s-%s.json", name, files[i].name);
        FILE *out = fopen(path, "w");
        if (out == NULL) {
            files[i].write(g, stderr);
            continue;
        }
        files[i].write(g, out);
        fclose(out);
    }
    fprintf(stderr,
            "wortfit solve drawn-failed/%s-target.json --store drawn-failed/%s-store.json "
            "--brewhouse drawn-failed/%s-brewhouse.json --goal %s --on " GEN_TODAY_TEXT "\n",
            name, name, name, wf_goal_word(goal));
}
