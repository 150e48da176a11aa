/* generate_target.c: windows round what the drawn recipe gives, and other wishes that it meets. */
#include "support/generate_parts.h"

#include <math.h>
#include <stdlib.h>

#define RULES_MOST  8
#define WISHES_MOST 4
#define IDS_MOST    4

/* Half of a window's width. */
struct widths {
    double og, colour, colour_part, ratio, share, index, fg, abv; /* colour: the greater of both */
};
static const struct widths tight = {0.001, 1, 0.05, 0.02, 0.02, 0.2, 0.0015, 0.002};
static const struct widths loose = {0.004, 1, 0.2, 0.08, 0.05, 0.5, 0.003, 0.005};
static const struct widths tiny_tight = {0.004, 1, 0.1, 0.05, 0.04, 0.3, 0.002, 0.004};

static const struct widths *widths_of(const struct gen *g)
{
    if (!g->options.tight)
        return &loose;
    return g->options.scale == GEN_TINY ? &tiny_tight : &tight;
}

/* ---- Windows --------------------------------------------------------------------------------- */

/* A window of width 2 half round the value, not quite in its middle, all of it in multiples of
 * 1/scale; half is at least 2/scale, so that the value is in it. A target that is not planted has
 * some moved away. */
static struct wf_range window(const struct gen *g, struct dice *d, double value, double half,
                              double scale)
{
    double units = fmax(2, round(half * scale));
    double centre = round(value * scale + units * dice_decimal(d, -60, 60, 100));
    if (!g->options.planted && dice_chance(d, 25))
        centre = fmax(0, centre + units * (double)dice_whole(d, -2, 2));
    double aim = g->options.aims ? centre / scale : (double)NAN;
    return (struct wf_range){fmax(0, centre - units) / scale, (centre + units) / scale, aim};
}

static struct wf_range within(struct wf_range r, double low, double high)
{
    return (struct wf_range){fmin(fmax(r.low, low), high), fmax(fmin(r.high, high), low),
                             (double)NAN};
}

static struct wf_beer predict(const struct gen *g)
{
    size_t hops = g->store.hop_count, places = g->target.slot_count * hops;
    struct wf_grain *grains = calloc(g->store.malt_count, sizeof *grains);
    struct wf_addition *additions = calloc(places, sizeof *additions);
    const struct wf_kettle k = gen_kettle(&g->target, &g->brewhouse);
    const struct wf_yeast *y =
        g->drawn.yeast == GEN_NO_YEAST ? NULL : &g->store.yeasts[g->drawn.yeast];
    struct wf_beer beer;
    if (grains == NULL || additions == NULL)
        abort();
    for (size_t i = 0; i < g->store.malt_count; i++)
        grains[i] = g->store.malts[i].grain;
    for (size_t i = 0; i < places; i++)
        additions[i] = gen_addition(g, i / hops, i % hops);
    double attenuation = y != NULL ? (y->attenuation_low + y->attenuation_high) / 2 : (double)NAN;
    if (wf_beer_predict(&k, grains, g->drawn.kg, g->store.malt_count, additions, g->drawn.grams,
                        places, attenuation, &beer, NULL) != WF_OK) {
        gen_print(g, stderr);
        abort(); /* a drawn recipe is within the laws' range */
    }
    free(grains);
    free(additions);
    return beer;
}

static void set_figures(struct gen *g, struct dice *d, const struct wf_beer *b)
{
    const struct widths *w = widths_of(g);
    struct wf_target *t = &g->target;
    t->og = window(g, d, b->og, w->og, 1e4);
    t->colour = window(g, d, b->srm, fmax(w->colour, w->colour_part * b->srm), 10);
    t->ratio = t->bitterness = t->fg = t->abv = t->attenuation = wf_range_any();
    if (b->ibu > 5 && dice_chance(d, 75))
        t->ratio = window(g, d, b->ratio, w->ratio, 100);
    else if (b->ibu > 5)
        t->bitterness = window(g, d, b->ibu, fmax(2, w->ratio * 50), 10);
    if (g->options.fermented && dice_chance(d, 80))
        t->fg = window(g, d, b->fg, w->fg, 1e4);
    if (g->options.fermented && dice_chance(d, 50))
        t->abv = window(g, d, b->abv, w->abv, 1e3);
    t->fg.aim = t->abv.aim = (double)NAN;
    t->diastatic = b->lintner >= 35 ? 35 : floor(b->lintner / 5) * 5;
}

/* ---- Rules of the grist ---------------------------------------------------------------------- */

static const struct {
    enum wf_malt_class class;
    const char *words;
} ruled[] = {
    {WF_CLASS_BASE, "base malts"},      {WF_CLASS_CARAMEL, "caramel malts"},
    {WF_CLASS_ROAST, "roast malts"},    {WF_CLASS_HIGH_KILNED, "high-kilned malts"},
    {WF_CLASS_FLAKED, "flaked grains"},
};

struct part {
    double share;
    int count;
};

static struct part part_of(const struct gen *g, const struct wf_malt_set *who)
{
    double total = 0;
    struct part p = {0};
    for (size_t i = 0; i < g->store.malt_count; i++) {
        total += g->drawn.kg[i];
        if (g->drawn.kg[i] <= 0 || !wf_malt_set_has(who, &g->store.malts[i]))
            continue;
        p.share += g->drawn.kg[i];
        p.count++;
    }
    p.share /= total;
    return p;
}

static struct wf_rule class_rule(const struct gen *g, struct dice *d, size_t i)
{
    struct wf_rule r = {
        .who = {.classes = 1u << ruled[i].class}, .words = ruled[i].words, .least = -1, .most = -1};
    struct part p = part_of(g, &r.who);
    r.share = within(window(g, d, p.share, widths_of(g)->share, 100), 0, 1);
    if (p.count == 0)
        r.share = (struct wf_range){0, 0, (double)NAN};
    else if (ruled[i].class == WF_CLASS_BASE)
        r.share.high = (double)INFINITY;
    else if (dice_chance(d, 50))
        r.share.low = -(double)INFINITY;
    if (p.count > 0 && dice_chance(d, 40))
        r.most = p.count + (int)dice_whole(d, 0, 1);
    if (p.count > 0 && dice_chance(d, 30))
        r.least = p.count;
    return r;
}

/* A rule that names one lot of the recipe; its greatest share is then the lot's. */
static bool named_rule(struct gen *g, struct dice *d, struct wf_rule *r)
{
    size_t lot = (size_t)dice_whole(d, 0, (long)g->store.malt_count - 1);
    if (g->drawn.kg[lot] <= 0)
        return false;
    const char **ids = gen_room(g, 2, sizeof *ids);
    ids[0] = g->store.malts[lot].id;
    *r = (struct wf_rule){.who = {.ids = ids}, .words = ids[0], .least = -1, .most = -1};
    double share = part_of(g, &r->who).share;
    r->share = within(window(g, d, share, widths_of(g)->share, 100), 0, 1);
    return true;
}

static void set_rules(struct gen *g, struct dice *d)
{
    struct wf_rule *rules = gen_room(g, RULES_MOST, sizeof *rules);
    size_t count = 0;
    for (size_t i = 0; i < sizeof ruled / sizeof *ruled; i++)
        if (dice_chance(d, 70))
            rules[count++] = class_rule(g, d, i);
    if (dice_chance(d, 60)) {
        struct wf_rule *r = &rules[count++];
        *r = (struct wf_rule){.who = {.all = true}, .share = wf_range_any(), .words = "malts"};
        int malts = part_of(g, &r->who).count;
        r->least = malts > 1 && dice_chance(d, 50) ? malts - 1 : -1;
        r->most = malts + (int)dice_whole(d, 0, 2);
    }
    if (dice_chance(d, 25) && named_rule(g, d, &rules[count]))
        count++;
    g->target.rules = rules;
    g->target.rule_count = count;
}

/* ---- Character ------------------------------------------------------------------------------- */

static double index_of(const struct gen *g, enum wf_word w)
{
    double total = 0, sum = 0;
    if (w < WF_MALT_WORD_COUNT) {
        for (size_t i = 0; i < g->store.malt_count; i++) {
            const struct wf_malt *m = &g->store.malts[i];
            total += g->drawn.kg[i];
            sum += g->drawn.kg[i] * m->character[w] / m->usual_most;
        }
        return sum / total;
    }
    for (size_t s = 0; s < g->target.slot_count; s++)
        for (size_t h = 0; h < g->store.hop_count; h++)
            if (gen_slot_is_late(&g->target.slots[s]))
                sum += g->drawn.grams[s * g->store.hop_count + h] *
                       g->store.hops[h].character[w - WF_MALT_WORD_COUNT];
    return sum / (WF_LATE_HOP_DOSE * g->brewhouse.batch_l);
}

static void set_wishes(struct gen *g, struct dice *d)
{
    static const enum wf_word words[] = {WF_WORD_CARAMEL, WF_WORD_ROAST,  WF_WORD_TOAST,
                                         WF_WORD_BODY,    WF_WORD_CITRUS, WF_WORD_FLORAL};
    struct wf_word_wish *wishes = gen_room(g, WISHES_MOST, sizeof *wishes);
    size_t count = 0;
    for (size_t i = 0; i < sizeof words / sizeof *words && count < WISHES_MOST; i++) {
        if (!dice_chance(d, 30))
            continue;
        struct wf_range r = window(g, d, index_of(g, words[i]), widths_of(g)->index, 10);
        r.aim = (double)NAN;
        if (r.low <= 0)
            r.low = -(double)INFINITY;
        else if (dice_chance(d, 50))
            r.high = (double)INFINITY;
        if (r.high >= 0)
            wishes[count++] = (struct wf_word_wish){words[i], r};
    }
    g->target.wishes = wishes;
    g->target.wish_count = count;
}

/* ---- Hop slots ------------------------------------------------------------------------------- */

/* The only hop of a slot in the drawn recipe; hop_count: none. */
static size_t hop_in(const struct gen *g, size_t slot)
{
    size_t h = 0;
    while (h < g->store.hop_count && g->drawn.grams[slot * g->store.hop_count + h] <= 0)
        h++;
    return h;
}

static void narrow_slot(struct gen *g, struct dice *d, struct wf_slot *s, const struct wf_hop *h)
{
    if (dice_chance(d, 15)) {
        const char **ids = gen_room(g, 3, sizeof *ids);
        ids[0] = g->store.hops[dice_whole(d, 0, (long)g->store.hop_count - 1)].id;
        ids[1] = h->id;
        s->hops = ids;
    } else if (dice_chance(d, 20)) {
        const char **origins = gen_room(g, 2, sizeof *origins);
        origins[0] = h->origin;
        s->origins = origins;
    } else if (dice_chance(d, 25)) {
        struct wf_word_wish *w = gen_room(g, 1, sizeof *w);
        for (int i = 0; i < WF_WORD_COUNT - WF_MALT_WORD_COUNT; i++)
            if (h->character[i] >= 2)
                *w = (struct wf_word_wish){(enum wf_word)(WF_MALT_WORD_COUNT + i),
                                           {h->character[i] - 1, (double)INFINITY, (double)NAN}};
        s->wishes = w;
        s->wish_count = w->word >= WF_MALT_WORD_COUNT ? 1 : 0;
    }
}

static void set_slots(struct gen *g, struct dice *d)
{
    struct wf_slot *slots = gen_room(g, g->target.slot_count, sizeof *slots);
    for (size_t s = 0; s < g->target.slot_count; s++) {
        size_t hop = hop_in(g, s);
        slots[s] = g->target.slots[s];
        if (hop < g->store.hop_count)
            narrow_slot(g, d, &slots[s], &g->store.hops[hop]);
    }
    g->target.slots = slots;
}

/* ---- What must and must not be in it --------------------------------------------------------- */

static void set_use_and_avoid(struct gen *g, struct dice *d)
{
    const char **use = gen_room(g, 2, sizeof *use), **avoid = gen_room(g, IDS_MOST, sizeof *avoid);
    size_t avoided = 0;
    size_t lot = (size_t)dice_whole(d, 0, (long)g->store.malt_count - 1);
    size_t hop = hop_in(g, (size_t)dice_whole(d, 0, (long)g->target.slot_count - 1));
    if (dice_chance(d, 15) && g->drawn.kg[lot] > 0)
        use[0] = g->store.malts[lot].id;
    else if (dice_chance(d, 10) && hop < g->store.hop_count)
        use[0] = g->store.hops[hop].id;
    for (size_t i = 1; i < g->store.malt_count && avoided + 1 < IDS_MOST; i++)
        if (g->drawn.kg[i] <= 0 && dice_chance(d, 5))
            avoid[avoided++] = g->store.malts[i].id;
    g->target.use = use[0] != NULL ? use : NULL;
    g->target.avoid = avoided > 0 ? avoid : NULL;
}

/* The drawn yeast's family is the first choice, so the planted recipe is one of the first rank. */
static void set_yeasts(struct gen *g, struct dice *d)
{
    if (g->drawn.yeast == GEN_NO_YEAST || !dice_chance(d, 40))
        return;
    const char **families = gen_room(g, 3, sizeof *families);
    families[0] = g->store.yeasts[g->drawn.yeast].family;
    families[1] = g->store.yeasts[0].family;
    g->target.yeasts = families;
}

void gen_draw_target(struct gen *g, struct dice *d)
{
    struct wf_target *t = &g->target;
    struct wf_beer beer = predict(g);
    t->id = gen_text(g, "drawn-%llu", (unsigned long long)g->options.seed);
    t->name = t->id;
    t->batch_l = t->boil_minutes = (double)NAN;
    t->only.all = true;
    set_figures(g, d, &beer);
    set_rules(g, d);
    set_wishes(g, d);
    set_slots(g, d);
    set_use_and_avoid(g, d);
    set_yeasts(g, d);
}
