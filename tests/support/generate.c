/* generate.c: a problem from its options. */
#include "support/generate_parts.h"

#include "base/alloc.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>

static void *or_end(void *p)
{
    if (p == NULL) {
        fputs("generate: out of memory\n", stderr);
        abort();
    }
    return p;
}

void *gen_room(struct gen *g, size_t count, size_t size)
{
    return or_end(wf_arena_alloc(g->arena, count > 0 ? count : 1, size));
}

const char *gen_text(struct gen *g, const char *format, ...)
{
    char text[160];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    return or_end(wf_arena_string(g->arena, text));
}

struct gen_recipe gen_recipe_new(struct gen *g)
{
    return (struct gen_recipe){
        .kg = gen_room(g, g->store.malt_count, sizeof(double)),
        .grams = gen_room(g, g->target.slot_count * g->store.hop_count, sizeof(double)),
        .yeast = GEN_NO_YEAST};
}

struct wf_kettle gen_kettle(const struct wf_target *t, const struct wf_brewhouse *b)
{
    struct wf_kettle k = {.batch_l = b->batch_l,
                          .efficiency = b->efficiency,
                          .boil_minutes = b->boil_minutes,
                          .evaporation_l_h = b->evaporation_l_h,
                          .law = b->law};
    for (size_t i = 0; i < t->slot_count; i++) {
        const struct wf_slot *s = &t->slots[i];
        double worth;
        if (s->use == WF_HOP_STAND &&
            wf_stand_boil_minutes(s->minutes, s->celsius, &worth) == WF_OK)
            k.stand_minutes = fmax(k.stand_minutes, worth);
    }
    return k;
}

static void set_brewhouse(struct gen *g, struct dice *d)
{
    static const struct {
        double malt, specialty, hop, least_malt, least_hop; /* kg, kg, g, kg, g */
    } scale[] = {
        [GEN_TINY] = {0.5, 0.1, 5, 0.1, 5},
        [GEN_COARSE] = {0.05, 0.01, 1, 0.03, 3},
        [GEN_FINE] = {0.01, 0.001, 0.5, 0.03, 3},
    };
    wf_brewhouse_default(WF_UNITS_METRIC, &g->brewhouse);
    struct wf_brewhouse *b = &g->brewhouse;
    b->name = "a made-up brewhouse";
    b->efficiency = dice_decimal(d, 65, 85, 100);
    b->evaporation_l_h = dice_decimal(d, 4, 10, 2);
    b->law = dice_chance(d, 80) ? WF_TINSETH : WF_RAGER;
    b->step_malt_kg = scale[g->options.scale].malt;
    b->step_specialty_kg = scale[g->options.scale].specialty;
    b->step_hop_g = scale[g->options.scale].hop;
    b->least_malt_kg = scale[g->options.scale].least_malt;
    b->least_hop_g = scale[g->options.scale].least_hop;
    b->batch_given = b->boil_given = true;
}

struct gen *gen_make(const struct gen_options *o)
{
    struct wf_arena *arena = or_end(wf_arena_new());
    struct gen *g = or_end(wf_arena_alloc(arena, 1, sizeof *g));
    struct dice d = {.state = o->seed};
    g->options = *o;
    g->arena = arena;
    set_brewhouse(g, &d);
    gen_draw_store(g, &d);
    gen_draw_slots(g, &d);
    gen_draw_recipe(g, &d);
    gen_draw_target(g, &d);
    return g;
}

void gen_free(struct gen *g)
{
    if (g != NULL)
        wf_arena_free(g->arena);
}
