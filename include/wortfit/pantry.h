/*
 * pantry.h: what a brewer has and wants, read from JSON files: the catalogue, stores, brewhouses,
 * targets and recipes.
 *
 * Past this header nothing sees JSON or a unit other than the internal ones of quantity.h. Each
 * kind is an open struct that owns an arena: strings and arrays in it live until it is freed.
 * Readers check everything and tell all errors of a file at once, each with file, line, column and
 * place
 * (`malts[3].have`), what was read and what would be right. A struct that a reader hands over is
 * valid: every number finite and in range, every reference resolved.
 *
 * NaN: a figure that was not given. +inf: no limit.
 */
#ifndef WORTFIT_PANTRY_H
#define WORTFIT_PANTRY_H

#include "wortfit/brewing.h"
#include "wortfit/quantity.h"
#include "wortfit/status.h"

#include <stdbool.h>
#include <stddef.h>

struct wf_arena;
struct wf_names;
struct wf_ranges; /* sure.h */
struct wf_worth;  /* worth.h */

/* ---- Vocabulary (words.c) -------------------------------------------------------------------- */

/* One vocabulary of character: scores 0..5. Those of malts, then those of hops. */
#define WF_MALT_WORDS(X)                                                                           \
    X(BREADY, "bready", "fresh bread, crust")                                                      \
    X(GRAINY, "grainy", "raw grain, husk, straw")                                                  \
    X(TOAST, "toast", "biscuit, toast, crackers")                                                  \
    X(NUTTY, "nutty", "hazelnut, almond")                                                          \
    X(CARAMEL, "caramel", "caramel, toffee")                                                       \
    X(DARK_FRUIT, "dark-fruit", "raisin, plum, fig")                                               \
    X(HONEY, "honey", "honey, light syrup")                                                        \
    X(CHOCOLATE, "chocolate", "cocoa, dark chocolate")                                             \
    X(COFFEE, "coffee", "coffee, espresso")                                                        \
    X(ROAST, "roast", "burnt, dry roast")                                                          \
    X(SMOKY, "smoky", "wood smoke")                                                                \
    X(BODY, "body", "fullness on the palate")                                                      \
    X(HAZE, "haze", "haze and a lasting head")
#define WF_HOP_WORDS(X)                                                                            \
    X(CITRUS, "citrus", "lemon, orange, grapefruit")                                               \
    X(TROPICAL, "tropical", "mango, passion fruit, pineapple")                                     \
    X(STONE_FRUIT, "stone-fruit", "peach, apricot, berries")                                       \
    X(FLORAL, "floral", "flowers, geranium, rose")                                                 \
    X(SPICY, "spicy", "pepper, clove, liquorice")                                                  \
    X(HERBAL, "herbal", "mint, tea, fresh herbs")                                                  \
    X(EARTHY, "earthy", "soil, mushroom, autumn leaves")                                           \
    X(RESIN, "resin", "pine, resin")                                                               \
    X(WOODY, "woody", "cedar, dry wood")                                                           \
    X(NOBLE, "noble", "mild, fine, traditional")

enum wf_word {
#define WF_X(id, word, text) WF_WORD_##id,
    WF_MALT_WORDS(WF_X) WF_HOP_WORDS(WF_X)
#undef WF_X
        WF_WORD_COUNT
};
#define WF_MALT_WORD_COUNT WF_WORD_CITRUS /* the malts' words come first */

const char *wf_word_name(enum wf_word w); /* "dark-fruit" */
const char *wf_word_text(enum wf_word w); /* "raisin, plum, fig" */

/* The reference dose of a late hop: the character index of a word is the sum over late additions of
 * dose / this x score. The project's own index. */
#define WF_LATE_HOP_DOSE    4.0  /* g/L */
#define WF_LATE_HOP_MINUTES 20.0 /* boil additions this late or later count as late */

/* ---- Ingredients (ingredient.c) -------------------------------------------------------------- */

/* Kinds of lots, each a list of the store. */
enum wf_kind { WF_KIND_MALT, WF_KIND_HOP, WF_KIND_YEAST, WF_KIND_COUNT };

#define WF_MALT_CLASS_LIST(X)                                                                      \
    X(BASE, "base")                                                                                \
    X(HIGH_KILNED, "high-kilned")                                                                  \
    X(CARAMEL, "caramel")                                                                          \
    X(ROAST, "roast")                                                                              \
    X(FLAKED, "flaked")                                                                            \
    X(UNMALTED, "unmalted")                                                                        \
    X(SUGAR, "sugar")                                                                              \
    X(OTHER, "other")

enum wf_malt_class {
#define WF_X(id, name) WF_CLASS_##id,
    WF_MALT_CLASS_LIST(WF_X)
#undef WF_X
        WF_CLASS_COUNT
};
const char *wf_malt_class_name(enum wf_malt_class c);

/* A lot of malt, flakes or sugar: a catalogue entry, or a store's lot with the entry's figures
 * overridden by its own. */
struct wf_malt {
    const char *id;   /* the brewer's name for it */
    const char *of;   /* catalogue entry it is, or NULL: all its figures are its own */
    const char *name; /* for people */
    enum wf_malt_class class;
    double fine_dry, moisture;            /* the analysis; NaN where a potential was given */
    struct wf_grain grain;                /* the figures that the laws need */
    double usual_most;                    /* greatest usual share of a grist, 0..1 */
    double character[WF_MALT_WORD_COUNT]; /* 0..5 */
    const char *allergens;                /* "gluten", "gluten, oats", "milk", "" */
    const char *source;                   /* where the catalogue's figures are from; NULL for own */
    /* the lot */
    double have_kg;      /* +inf: as much as is wanted */
    double price_per_kg; /* NaN: not priced, counts as 0 */
    double pack_kg;      /* bought in whole packs of this; NaN: by weight */
    double step_kg;      /* overrides the scale's step; NaN: the scale's */
    double most;         /* greatest share of the grist set for this lot; NaN: usual_most */
    long packed, opened; /* days since 1970-01-01; WF_NO_DATE */
};

#define WF_NO_DATE (-1L)

struct wf_hop {
    const char *id, *of, *name;
    const char *origin; /* country, or NULL */
    double alpha, alpha_low,
        alpha_high;        /* fraction; the lot's own, and the variety's usual range */
    double six_month_loss; /* share of alpha lost in six months at 20 C */
    double character[WF_WORD_COUNT - WF_MALT_WORD_COUNT]; /* [w - WF_MALT_WORD_COUNT], 0..5 */
    bool bittering, aroma;                                /* what the variety is used for */
    const char *note, *source;
    const char *const *substitutes; /* ids, NULL-terminated */
    /* the lot */
    bool whole;          /* whole hops; else pellets */
    double have_g;       /* +inf: as much as is wanted */
    double price_per_kg; /* NaN: not priced */
    double pack_kg, step_kg;
    long packed, opened; /* WF_NO_DATE: not aged */
    enum wf_packing packing;
    double kept_celsius; /* 20 unless told */
};

struct wf_yeast {
    const char *id, *of, *name;
    const char *family;                       /* "ale", "lager", "ale-phenolic", ... */
    double attenuation_low, attenuation_high; /* apparent, fraction; the middle is reckoned with */
    double celsius_low, celsius_high;
    double alcohol_most;  /* fraction by volume */
    double ester, phenol; /* 0..5 */
    bool eats_dextrins;
    const char *flocculation, *descriptors, *source;
    double have;  /* packs; +inf: as many as wanted */
    double price; /* a pack; NaN: not priced */
    long packed, opened;
};

/* ---- Catalogue (catalogue.c) ----------------------------------------------------------------- */

/* The reference malts, hops and yeasts, as embedded in the library: read once, by the same readers
 * as a user's file, sorted as in the files. */
struct wf_catalogue {
    struct wf_arena *arena;
    const struct wf_malt *malts;
    const struct wf_hop *hops;
    const struct wf_yeast *yeasts;
    size_t malt_count, hop_count, yeast_count;
    struct wf_names *index; /* ids; NULL: entries are searched in order */
};
enum wf_status wf_catalogue_read(struct wf_catalogue **out, struct wf_error *e) WF_MUST_USE;
void wf_catalogue_free(struct wf_catalogue *c); /* NULL allowed */
const struct wf_malt *wf_catalogue_malt(const struct wf_catalogue *c, const char *id); /* or NULL */
const struct wf_hop *wf_catalogue_hop(const struct wf_catalogue *c, const char *id);
const struct wf_yeast *wf_catalogue_yeast(const struct wf_catalogue *c, const char *id);

/* ---- Store (store.c) ------------------------------------------------------------------------- */

struct wf_store {
    struct wf_arena *arena;
    const char *name, *currency; /* currency: "EUR", or "" */
    const char *note; /* said beside its prices, such as that they are invented; or NULL */
    struct wf_malt *malts;
    struct wf_hop *hops;
    struct wf_yeast *yeasts;
    size_t malt_count, hop_count, yeast_count;
};
/* At most this many lots of a kind in a store. */
#define WF_LOTS_MOST 5000

enum wf_status wf_store_read(const char *path, const struct wf_catalogue *c, struct wf_store **out,
                             struct wf_error *e) WF_MUST_USE;
/* From text already in memory; `name` stands for the file in messages. */
enum wf_status wf_store_parse(const char *name, const char *text, size_t length,
                              const struct wf_catalogue *c, struct wf_store **out,
                              struct wf_error *e) WF_MUST_USE;
/* The embedded sample shop: the whole catalogue by weight, at invented prices. */
enum wf_status wf_store_sample(const struct wf_catalogue *c, struct wf_store **out,
                               struct wf_error *e) WF_MUST_USE;
void wf_store_free(struct wf_store *s);
/* The lot of that id, or NULL; a store that is NULL has none. */
const struct wf_malt *wf_store_malt(const struct wf_store *s, const char *id);
const struct wf_hop *wf_store_hop(const struct wf_store *s, const char *id);
const struct wf_yeast *wf_store_yeast(const struct wf_store *s, const char *id);
/* The alpha acid of a lot on a day: the storage law from its packing day to that one; as it is
 * where either is WF_NO_DATE. */
enum wf_status wf_hop_alpha_on(const struct wf_hop *h, long day, double *alpha) WF_MUST_USE;
/* Ages all hops to the day: their alpha acid is that of the day, and they are no longer packed on
 * any, so that nothing ages them twice. */
enum wf_status wf_store_age(struct wf_store *s, long day, struct wf_error *e) WF_MUST_USE;

/* ---- Brewhouse (brewhouse.c) ----------------------------------------------------------------- */

/* How far what a prediction rests on is off, from brew to brew or lot to lot: relative, one
 * standard deviation; sure.h says how each is meant, and where the defaults are from. */
struct wf_spread {
    double efficiency, extract, colour, alpha, utilisation, attenuation;
};

struct wf_brewhouse {
    struct wf_arena *arena;
    const char *name;
    double batch_l;         /* 20 */
    double efficiency;      /* 0.75 */
    double boil_minutes;    /* 60; NaN once a target may set it: see below */
    double evaporation_l_h; /* 3 */
    double kettle_loss_l;   /* 0 */
    double step_malt_kg, step_specialty_kg, step_hop_g; /* 0.05, 0.01, 1 */
    double least_malt_kg, least_hop_g;                  /* 0.03, 3 */
    double absorption_l_kg;                             /* wort kept by the grains, 1.0 L/kg */
    double mash_l_kg;                                   /* mash liquor to grist, 3 L/kg */
    double dead_space_l;                                /* under the mash, filled besides, 0 */
    double grain_celsius;                               /* 20 */
    double shrinkage;                                   /* of hot wort as it cools, 0.04 */
    double fermenter_loss_l;                            /* left with the yeast, 0 */
    double kettle_l, tun_l, fermenter_l; /* what each holds to the brim; NaN: not told */
    double tun_heat_l; /* the tun warms like so much water; 0: it is warmed beforehand */
    double altitude_m; /* 0 */
    enum wf_utilisation_law law;
    bool batch_given, boil_given; /* set in the file: a target's figure yields to it */
    struct wf_spread spread;
    /* What was learnt from brews (learn.h). Efficiency is that at `efficiency_gravity`, and falls
     * by so much, a share, for every 0.010 above; 0: it is always the same. */
    double efficiency_fall, efficiency_gravity; /* 0, 1.050 */
    double bitterness_factor, colour_factor;    /* measured to predicted, 1 */
    const struct wf_brewhouse_yeast *yeasts;    /* attenuation in this brewhouse */
    size_t yeast_count;
};
struct wf_brewhouse_yeast {
    const char *id; /* a lot's own, or the catalogue's */
    double attenuation;
};
/* The defaults that design and headers name; us: ounces and pounds as steps (0.1 lb base, 0.5 oz
 * specialty, 0.05 oz hops). */
void wf_brewhouse_default(enum wf_units units, struct wf_brewhouse *b);
/* The efficiency for wort of a gravity, 0.1 .. 1; NaN: that of the file. */
double wf_brewhouse_efficiency(const struct wf_brewhouse *b, double og);
/* The attenuation of a yeast there; `usual` where nobody has learnt it. */
double wf_brewhouse_attenuation(const struct wf_brewhouse *b, const char *id, const char *of,
                                double usual);
enum wf_status wf_brewhouse_read(const char *path, enum wf_units units, struct wf_brewhouse **out,
                                 struct wf_error *e) WF_MUST_USE;
enum wf_status wf_brewhouse_parse(const char *name, const char *text, size_t length,
                                  enum wf_units units, struct wf_brewhouse **out,
                                  struct wf_error *e) WF_MUST_USE;
void wf_brewhouse_free(struct wf_brewhouse *b);

/* ---- Target (target.c) ----------------------------------------------------------------------- */

/* Which malts a rule speaks of. `"adjunct"` stands for flaked, unmalted and sugar. */
struct wf_malt_set {
    unsigned classes;       /* bit 1u << class */
    const char *const *ids; /* catalogue ids or lots' own, NULL-terminated; may be NULL */
    bool all;               /* every malt */
};
bool wf_malt_set_has(const struct wf_malt_set *s, const struct wf_malt *m);

struct wf_rule {
    struct wf_malt_set who;
    struct wf_range share; /* of the grist by weight; wf_range_any() if only counts are wished */
    int least, most;       /* number of different malts of the set; -1: no wish */
    const char *words;     /* what it speaks of, for people: "caramel malts", "roasted barley" */
};

struct wf_word_wish {
    enum wf_word word;
    struct wf_range index;
};

/* One place in the hop schedule. */
struct wf_slot {
    enum wf_hop_use use;
    double minutes;             /* boil: before its end; stand: its length; dry: 0 */
    double celsius;             /* stand */
    double days;                /* dry */
    struct wf_range dose;       /* g/L; wf_range_any(): the solver's to fill, may stay empty */
    bool dosed;                 /* a dose was given */
    const char *const *hops;    /* ids that may go here, NULL-terminated; NULL: any */
    const char *const *origins; /* countries that may; NULL: any */
    const struct wf_word_wish *wishes; /* mean score of what goes here, by weight */
    size_t wish_count;
    int most;       /* varieties; 1 unless told */
    const char *at; /* as written: "60 min" */
};

struct wf_target {
    struct wf_arena *arena;
    const char *id, *name, *group, *about, *note;
    const char *const *aliases;   /* NULL-terminated; may be NULL */
    double batch_l, boil_minutes; /* NaN: the brewhouse's */
    struct wf_range og, colour;   /* SG, SRM */
    struct wf_range ratio;        /* one of ratio and bitterness is any */
    struct wf_range bitterness;   /* IBU */
    struct wf_range fg, abv;      /* any: no wish */
    struct wf_range attenuation;  /* of the yeast, on base malt; any: no wish */
    double diastatic;             /* least mean over the mashed grist, Lintner; 35 unless told */
    const struct wf_rule *rules;
    const struct wf_word_wish *wishes; /* of the grist and the late hops */
    const struct wf_slot *slots;
    size_t rule_count, wish_count, slot_count;
    const char *const *yeasts; /* ids or families that may ferment it; NULL: any */
    const char *const *use;    /* ids that must be in it; NULL: none */
    const char *const *avoid;  /* ids that must not */
    struct wf_malt_set only;   /* malts that belong in it: no other is used */
    /* What the published guideline gives, for lists and tests; any where it gives nothing. */
    struct {
        const char *source;
        struct wf_range og, fg, abv, bitterness, colour;
    } guideline;
};

/* Default tolerances of a bare aim. */
#define WF_TOLERANCE_GRAVITY    0.001
#define WF_TOLERANCE_COLOUR     1.0
#define WF_TOLERANCE_RATIO      0.02
#define WF_TOLERANCE_BITTERNESS 2.0
#define WF_TOLERANCE_SHARE      0.01
#define WF_TOLERANCE_ABV        0.002
#define WF_TOLERANCE_INDEX      0.1

enum wf_status wf_target_read(const char *path, const struct wf_catalogue *c,
                              struct wf_target **out, struct wf_error *e) WF_MUST_USE;
enum wf_status wf_target_parse(const char *name, const char *text, size_t length,
                               const struct wf_catalogue *c, struct wf_target **out,
                               struct wf_error *e) WF_MUST_USE;
/* A built-in beer by id or alias; a name with a '/' or ending in ".json" is read as a file instead.
 * An unknown name names the nearest. */
enum wf_status wf_target_find(const char *name, const struct wf_catalogue *c,
                              struct wf_target **out, struct wf_error *e) WF_MUST_USE;
/* Built-in beers, in order of their names. */
size_t wf_target_builtin_count(void);
enum wf_status wf_target_builtin(size_t index, const struct wf_catalogue *c, struct wf_target **out,
                                 struct wf_error *e) WF_MUST_USE;
void wf_target_free(struct wf_target *t);

/* ---- Recipe (recipe.c): what every command exchanges ----------------------------------------- */

struct wf_recipe_malt {
    const char *id, *of, *name;
    enum wf_malt_class class;
    struct wf_grain grain;
    double kg, share;
    double usual_most;
    double character[WF_MALT_WORD_COUNT];
    double cost; /* NaN: not priced */
    bool gone;   /* no lot of it is left: see revise.h */
};

struct wf_recipe_hop {
    const char *id, *of, *name;
    struct wf_addition addition;
    bool whole;
    double grams, days; /* days: dry hops */
    double ibu;
    double character[WF_WORD_COUNT - WF_MALT_WORD_COUNT];
    double cost;
    bool gone;
};

/* Which of a target's wishes one is, by the member that holds it. */
enum wf_wish_kind {
    WF_WISH_OTHER, /* read from a file, where only words tell; a malt that does not belong */
    WF_WISH_OG,
    WF_WISH_COLOUR,
    WF_WISH_RATIO,
    WF_WISH_BITTERNESS,
    WF_WISH_FG,
    WF_WISH_ABV,
    WF_WISH_DIASTATIC,
    WF_WISH_SHARE,    /* rules[index] */
    WF_WISH_COUNT,    /* rules[index] */
    WF_WISH_WORD,     /* wishes[index] */
    WF_WISH_DOSE,     /* slots[index] */
    WF_WISH_HOP_WORD, /* slots[index].wishes[part] */
    WF_WISH_USE,      /* use[index] */
    WF_WISH_YEAST,
    WF_WISH_KIND_COUNT
};

/* A wish and what the recipe gives. */
struct wf_wish_result {
    const char *wish; /* "original gravity", "share of caramel malts", "toast" */
    enum wf_dimension dimension;
    struct wf_range wanted;
    double got;
    bool met;
    double missed_by; /* in the wish's unit; 0 where met */
    enum wf_wish_kind kind;
    size_t index, part;
};

enum wf_recipe_status { WF_RECIPE_OPTIMAL, WF_RECIPE_GOOD, WF_RECIPE_NONE, WF_RECIPE_UNPROVED };
const char *wf_recipe_status_name(enum wf_recipe_status s); /* "optimal", ... */

struct wf_proof {
    const char *goal; /* "cost", ... */
    /* The bound is proved. gap = (value - bound) / |value|; of "closest" and "change"
     * / max(1, value), and 0 where nobody could tell the difference (closest 0.03 of a window's
     * side, use-up 5 g, change 0.05). */
    double value, bound, gap;
};

struct wf_recipe {
    struct wf_arena *arena;
    const char *name;
    enum wf_recipe_status status;
    struct wf_kettle kettle;
    double stand_celsius, stand_length; /* as scheduled; NaN: no stand */
    struct wf_recipe_malt *malts;
    struct wf_recipe_hop *hops; /* in the order in which they are added */
    size_t malt_count, hop_count;
    struct {
        const char *id, *of, *name, *family;
        double attenuation;   /* NaN: no yeast */
        double ester, phenol; /* 0..5; NaN: not known */
        double cost;
    } yeast;
    struct wf_beer predicted;
    double character[WF_WORD_COUNT]; /* indices: see pantry.h's words and wf_recipe_predict */
    double cost;                     /* of what is priced */
    const char *currency, *price_note;
    size_t unpriced; /* lots without a price */
    size_t ingredients;
    struct wf_wish_result *wishes;
    size_t wish_count;
    struct wf_proof *proofs; /* one a goal, in order */
    size_t proof_count;
    const struct wf_ranges *ranges; /* NULL: not reckoned; wf_recipe_add_ranges */
    const struct wf_worth *worth;   /* NULL: not looked into; wf_recipe_add_worth */
    double seconds;                 /* that the search took */
};

/*
 * Recomputes predicted, shares, character, each addition's bitterness, cost and ingredients from
 * the weights and figures: the forward path. Character of a grist: sum over malts of share / usual
 * greatest share x score, so that a malt at its usual greatest share speaks with its full score; of
 * late hops: see WF_LATE_HOP_DOSE. The project's own index, not a standard.
 */
enum wf_status wf_recipe_predict(struct wf_recipe *r, struct wf_error *e) WF_MUST_USE;

/* Reads a recipe; figures that it does not hold come from the store's lots (NULL allowed), then the
 * catalogue. Only ids or full names, and weights, are required. The result is predicted anew. */
enum wf_status wf_recipe_read(const char *path, const struct wf_store *s,
                              const struct wf_catalogue *c, struct wf_recipe **out,
                              struct wf_error *e) WF_MUST_USE;
enum wf_status wf_recipe_parse(const char *name, const char *text, size_t length,
                               const struct wf_store *s, const struct wf_catalogue *c,
                               struct wf_recipe **out, struct wf_error *e) WF_MUST_USE;
/* The same for brewing it on a brewhouse: with its efficiency, evaporation and law of utilisation
 * in place of the recipe's, and its batch and boil where the recipe gives none. NULL: the recipe's
 * own, or the usual figures. */
enum wf_status wf_recipe_read_on(const char *path, const struct wf_store *s,
                                 const struct wf_catalogue *c, const struct wf_brewhouse *b,
                                 struct wf_recipe **out, struct wf_error *e) WF_MUST_USE;
enum wf_status wf_recipe_parse_on(const char *name, const char *text, size_t length,
                                  const struct wf_store *s, const struct wf_catalogue *c,
                                  const struct wf_brewhouse *b, struct wf_recipe **out,
                                  struct wf_error *e) WF_MUST_USE;
void wf_recipe_free(struct wf_recipe *r);

/* Prices a recipe anew: what is in the store (by id) costs what the store asks, by weight or in
 * whole packs. Other costs stay where they are in the store's currency, or in none. */
enum wf_status wf_recipe_price(struct wf_recipe *r, const struct wf_store *s,
                               struct wf_error *e) WF_MUST_USE;

#endif
