/*
 * generate_store.c: lots of malt, hops and yeast.
 *
 * The ranges are those of malt analyses and hop lists in general (common practice, from memory);
 * prices are invented, and rise with class and colour as they do in shops.
 */
#include "support/generate_parts.h"

#include <math.h>
#include <string.h>

#define WORDS_MOST 3
#define COLOURS    8
#define ANY_AMOUNT ((double)INFINITY)
#define NOT_GIVEN  ((double)NAN)

struct span {
    int low, high;
};

struct score {
    enum wf_word word;
    int low, high; /* 0..5; both 0: no more */
};

static const struct kind {
    enum wf_malt_class class;
    struct span extract, moisture; /* per mille: fine grind dry basis; water */
    int colours[COLOURS];          /* tenths of a Lovibond, from light to dark */
    struct span lintner;
    struct span usual_most;     /* percent of a grist, in fives */
    struct span price;          /* cents per kg */
    struct span fermentability; /* percent, see wf_residual_share */
    struct score words[WORDS_MOST];
} kinds[] = {
    {WF_CLASS_BASE,
     {785, 830},
     {35, 50},
     {15, 16, 18, 20, 23, 28, 32, 38},
     {50, 150},
     {100, 100},
     {140, 210},
     {100, 100},
     {{WF_WORD_BREADY, 1, 3}, {WF_WORD_GRAINY, 2, 4}, {0}}},
    {WF_CLASS_HIGH_KILNED,
     {770, 815},
     {30, 50},
     {40, 60, 80, 100, 150, 200, 250, 280},
     {20, 60},
     {15, 100},
     {170, 240},
     {94, 100},
     {{WF_WORD_BREADY, 3, 4}, {WF_WORD_TOAST, 2, 4}, {WF_WORD_NUTTY, 1, 3}}},
    {WF_CLASS_CARAMEL,
     {730, 780},
     {40, 70},
     {100, 200, 300, 400, 600, 800, 900, 1200},
     {0, 0},
     {10, 20},
     {220, 310},
     {60, 80},
     {{WF_WORD_CARAMEL, 3, 5}, {WF_WORD_DARK_FRUIT, 0, 3}, {WF_WORD_BODY, 1, 3}}},
    {WF_CLASS_ROAST,
     {640, 720},
     {15, 40},
     {2000, 2500, 3000, 3500, 4000, 4500, 5000, 5500},
     {0, 0},
     {5, 10},
     {240, 320},
     {60, 75},
     {{WF_WORD_CHOCOLATE, 1, 4}, {WF_WORD_COFFEE, 1, 4}, {WF_WORD_ROAST, 2, 5}}},
    {WF_CLASS_FLAKED,
     {680, 800},
     {70, 110},
     {10, 12, 14, 15, 16, 18, 20, 25},
     {0, 0},
     {10, 30},
     {180, 260},
     {90, 100},
     {{WF_WORD_GRAINY, 1, 2}, {WF_WORD_BODY, 2, 4}, {WF_WORD_HAZE, 2, 4}}},
    {WF_CLASS_SUGAR,
     {950, 1000},
     {0, 50},
     {0, 0, 0, 10, 50, 300, 900, 1800},
     {0, 0},
     {10, 15},
     {110, 420},
     {95, 100},
     {{WF_WORD_CARAMEL, 0, 2}, {WF_WORD_DARK_FRUIT, 0, 2}, {0}}},
};

/* Lot i of a store is of kind order[i]: base malts lead, and every class is in a dozen lots. */
static const int order[] = {0, 2, 1, 0, 3, 4, 0, 2, 5, 0, 1, 2, 0, 3, 0, 4, 0, 2, 1, 0};

static long in(struct dice *d, struct span s)
{
    return dice_whole(d, s.low, s.high);
}

/* ---- Malts ----------------------------------------------------------------------------------- */

static void set_figures(struct wf_malt *m, const struct kind *k, struct dice *d)
{
    int shade = (int)dice_whole(d, 0, COLOURS - 1);
    m->class = k->class;
    m->fine_dry = (double)in(d, k->extract) / 1000;
    m->moisture = (double)in(d, k->moisture) / 1000;
    m->grain = (struct wf_grain){
        .yield = m->fine_dry * (1 - m->moisture),
        .lovibond = (double)(k->colours[shade] * dice_whole(d, 90, 110) / 100) / 10,
        .lintner = (double)in(d, k->lintner),
        .fermentability = (double)in(d, k->fermentability) / 100,
        .sugar = k->class == WF_CLASS_SUGAR,
        .mashed = k->class != WF_CLASS_SUGAR,
    };
    m->usual_most =
        (double)(dice_whole(d, k->usual_most.low / 5, k->usual_most.high / 5) * 5) / 100;
    long steps = k->price.high - k->price.low, dear = steps * shade / COLOURS;
    m->price_per_kg = (double)(k->price.low + dear + dice_whole(d, 0, steps / COLOURS + 20)) / 100;
    for (int w = 0; w < WORDS_MOST && k->words[w].high > 0; w++)
        m->character[k->words[w].word] = (double)dice_whole(d, k->words[w].low, k->words[w].high);
}

static double small_stock(struct dice *d, enum wf_malt_class class, enum gen_scale scale)
{
    bool much = class == WF_CLASS_BASE || class == WF_CLASS_HIGH_KILNED;
    if (scale == GEN_TINY)
        return much ? dice_decimal(d, 2, 8, 2) : dice_decimal(d, 2, 6, 10);
    return much ? dice_decimal(d, 80, 450, 100) : dice_decimal(d, 8, 95, 100);
}

/* Lot 0 is the sack that there is plenty of, so that a recipe can always be drawn. */
static void draw_malt(struct gen *g, struct dice *d, size_t i)
{
    struct wf_malt *m = &g->store.malts[i];
    const struct kind *k = &kinds[order[i % (sizeof order / sizeof *order)]];
    set_figures(m, k, d);
    m->id = gen_text(g, "malt-%03zu-%s", i, wf_malt_class_name(m->class));
    m->name = m->id;
    m->allergens = "";
    m->have_kg = ANY_AMOUNT;
    m->pack_kg = m->step_kg = m->most = NOT_GIVEN;
    m->packed = m->opened = WF_NO_DATE;
    bool tiny = g->options.scale == GEN_TINY;
    if (i > 0 && (dice_chance(d, 20) || (tiny && order[i % 20] != 0)))
        m->have_kg = small_stock(d, m->class, g->options.scale);
    if (i > 0 && m->class == WF_CLASS_BASE && dice_chance(d, 25))
        m->usual_most = dice_decimal(d, 10, 14, 20);
    if (m->class != WF_CLASS_BASE && dice_chance(d, 4))
        m->price_per_kg = NOT_GIVEN;
    if (dice_chance(d, 8))
        m->pack_kg =
            m->class == WF_CLASS_BASE ? dice_decimal(d, 1, 5, 1) : dice_decimal(d, 1, 2, 2);
    if (!tiny && i > 0 && dice_chance(d, 5))
        m->step_kg = 0.025;
    if (i > 0 && dice_chance(d, 5))
        m->most = m->usual_most / 2;
    if (dice_chance(d, 30))
        m->packed = GEN_TODAY - dice_whole(d, 20, 700);
}

/* ---- Hops ------------------------------------------------------------------------------------ */

static const struct {
    struct span alpha; /* per mille */
    struct span price; /* cents per kg */
    struct span loss;  /* percent of alpha in six months */
    int words;         /* that it speaks with */
} hop_kinds[] = {
    {{30, 65}, {2800, 5500}, {35, 60}, 3},   /* aroma */
    {{70, 110}, {3000, 6000}, {30, 50}, 3},  /* both */
    {{110, 170}, {2400, 4000}, {20, 40}, 1}, /* bittering */
};

static const char *const origins[] = {"USA", "Germany", "United Kingdom", "New Zealand"};

static double hop_stock(struct dice *d, enum gen_scale scale)
{
    return scale == GEN_TINY ? (double)(5 * dice_whole(d, 4, 9)) : (double)dice_whole(d, 15, 90);
}

static void draw_hop(struct gen *g, struct dice *d, size_t i)
{
    struct wf_hop *h = &g->store.hops[i];
    size_t kind = i % (sizeof hop_kinds / sizeof *hop_kinds);
    h->id = gen_text(g, "hop-%02zu", i);
    h->name = h->id;
    h->origin = origins[dice_whole(d, 0, 3)];
    h->alpha = (double)in(d, hop_kinds[kind].alpha) / 1000;
    h->alpha_low = h->alpha_high = h->alpha;
    h->six_month_loss = (double)in(d, hop_kinds[kind].loss) / 100;
    h->price_per_kg = (double)in(d, hop_kinds[kind].price) / 100;
    for (int w = 0; w < hop_kinds[kind].words; w++)
        h->character[dice_whole(d, 0, WF_WORD_COUNT - WF_MALT_WORD_COUNT - 1)] =
            (double)dice_whole(d, 1, 5);
    h->bittering = kind > 0;
    h->aroma = kind < 2;
    h->whole = dice_chance(d, 15);
    h->have_g = ANY_AMOUNT;
    h->pack_kg = h->step_kg = NOT_GIVEN;
    h->packed = h->opened = WF_NO_DATE;
    h->kept_celsius = 20;
    if (g->options.scale == GEN_TINY || dice_chance(d, 30))
        h->have_g = hop_stock(d, g->options.scale);
    if (dice_chance(d, 10))
        h->pack_kg = dice_chance(d, 50) ? 0.05 : 0.1;
    if (dice_chance(d, 30)) {
        h->packed = GEN_TODAY - dice_whole(d, 20, 600);
        h->kept_celsius = (double)dice_whole(d, -18, 12);
        h->packing = (enum wf_packing)dice_whole(d, WF_PACKED_OPEN, WF_PACKED_VACUUM);
    }
}

/* ---- Yeasts ---------------------------------------------------------------------------------- */

static void draw_yeast(struct gen *g, struct dice *d, size_t i)
{
    static const char *const families[] = {"ale", "lager", "ale-phenolic"};
    struct wf_yeast *y = &g->store.yeasts[i];
    y->id = gen_text(g, "yeast-%zu", i);
    y->name = y->id;
    y->family = families[i % 3];
    y->attenuation_low = dice_decimal(d, 62, 76, 100);
    y->attenuation_high = y->attenuation_low + dice_decimal(d, 4, 8, 100);
    y->attenuation_high = round(y->attenuation_high * 100) / 100;
    y->celsius_low = 12;
    y->celsius_high = 20;
    y->alcohol_most = 0.12;
    y->have = ANY_AMOUNT;
    y->price = dice_decimal(d, 35, 60, 10);
    y->packed = y->opened = WF_NO_DATE;
}

void gen_draw_store(struct gen *g, struct dice *d)
{
    struct wf_store *s = &g->store;
    s->name = "a made-up store";
    s->currency = "EUR";
    s->malt_count = g->options.malts;
    s->hop_count = g->options.hops;
    s->yeast_count = g->options.yeasts;
    s->malts = gen_room(g, s->malt_count, sizeof *s->malts);
    s->hops = gen_room(g, s->hop_count, sizeof *s->hops);
    s->yeasts = gen_room(g, s->yeast_count, sizeof *s->yeasts);
    for (size_t i = 0; i < s->malt_count; i++)
        draw_malt(g, d, i);
    for (size_t i = 0; i < s->hop_count; i++)
        draw_hop(g, d, i);
    for (size_t i = 0; i < s->yeast_count; i++)
        draw_yeast(g, d, i);
}
