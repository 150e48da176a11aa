/*
 * generate.h: made-up brewing problems from a seed: a store, a brewhouse and a target, as structs
 * in memory and, for whole processes and for people, as the JSON files that would give them.
 *
 * First a recipe is drawn on the scale from the store and predicted by the forward path; then the
 * target's windows are laid around what it gives. A planted problem keeps them: it surely has a
 * recipe. One that is not planted has some of them moved away, by up to a few widths: it may have
 * one. Figures are such as labels and trade lists show for each class; the lots are nobody's.
 */
#ifndef WF_GENERATE_H
#define WF_GENERATE_H

#include "wortfit/pantry.h"

#include <stdint.h>
#include <stdio.h>

#define GEN_TODAY      20782L /* 2026-11-25, the brewing day of all generated problems */
#define GEN_TODAY_TEXT "2026-11-25"

enum gen_scale {
    GEN_TINY,   /* 500 g / 100 g / 5 g and small stocks: every recipe can be enumerated */
    GEN_COARSE, /* 50 g / 10 g / 1 g */
    GEN_FINE,   /* 10 g / 1 g / 0.5 g */
};

struct gen_options {
    uint64_t seed;
    size_t malts, hops, yeasts; /* lots in the store; malts and hops at least 1 */
    size_t slots;               /* of the hop schedule, 1..6 */
    enum gen_scale scale;
    bool planted;
    bool tight; /* windows about as narrow as a target's default tolerances; else several times */
    bool aims;  /* gravity, colour and bitterness have aims */
    bool fermented; /* wishes for final gravity and alcohol; needs yeasts */
};

/* Weights of a recipe from a generated store. */
struct gen_recipe {
    double *kg;    /* one a malt */
    double *grams; /* [slot * hop_count + hop] */
    size_t yeast;  /* index; GEN_NO_YEAST: none */
};
#define GEN_NO_YEAST SIZE_MAX

struct gen {
    struct gen_options options;
    struct wf_arena *arena; /* holds all of it */
    struct wf_store store;
    struct wf_brewhouse brewhouse;
    struct wf_target target;
    struct gen_recipe drawn; /* the recipe the windows were laid around */
};

/* Aborts the program if memory runs out: test data, not what is tested. */
struct gen *gen_make(const struct gen_options *o);
void gen_free(struct gen *g); /* NULL allowed */

/* Room for a recipe of this problem, in its arena, zeroed; no yeast. */
struct gen_recipe gen_recipe_new(struct gen *g);

/* What the laws see of a hop in a slot: its alpha acid is that of the brewing day. */
struct wf_addition gen_addition(const struct gen *g, size_t slot, size_t hop);
/* The step that a malt lot is weighed in, kg. */
double gen_step_kg(const struct gen *g, const struct wf_malt *m);
/* True for a slot whose hops speak in the character of the beer. */
bool gen_slot_is_late(const struct wf_slot *s);

/* The wort of a target in a brewhouse: batch, boil and what the target's stand is worth. */
struct wf_kettle gen_kettle(const struct wf_target *t, const struct wf_brewhouse *b);

void gen_write_store(const struct gen *g, FILE *out);
void gen_write_brewhouse(const struct gen *g, FILE *out);
void gen_write_target(const struct gen *g, FILE *out);
/* All of it, with its options: what is needed to look into a case that failed. */
void gen_print(const struct gen *g, FILE *out);

#endif
