/* brewhouse.c: the equipment: volumes, efficiency, scales. */
#include "pantry/fields.h"
#include "pantry/limits.h"
#include "pantry/source_file.h"
#include "pantry/tables.h"
#include "pantry/words.h"
#include "wortfit/pantry.h"
#include "wortfit/process.h" /* WF_SHRINKAGE */

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

#define MASH_LEAST_L_KG      0.5
#define MASH_MOST_L_KG       20.0
#define ABSORPTION_MOST_L_KG 5.0
#define GRAIN_LEAST_C        (-20.0)
#define GRAIN_MOST_C         50.0
#define SHRINKAGE_MOST       0.2
#define HEIGHT_LEAST_M       (-500.0)
#define HEIGHT_MOST_M        6000.0 /* of the laws (process.h) */

void wf_brewhouse_default(enum wf_units units, struct wf_brewhouse *b)
{
    *b = (struct wf_brewhouse){
        .name = "",
        .batch_l = 20,
        .efficiency = 0.75,
        .boil_minutes = 60,
        .evaporation_l_h = 3,
        .step_malt_kg = 0.05,
        .step_specialty_kg = 0.01,
        .step_hop_g = 1,
        .least_malt_kg = 0.03,
        .least_hop_g = 3,
        .absorption_l_kg = 1,
        .mash_l_kg = 3,
        .grain_celsius = 20,
        .shrinkage = WF_SHRINKAGE,
        .kettle_l = (double)NAN,
        .tun_l = (double)NAN,
        .fermenter_l = (double)NAN,
        .law = WF_TINSETH,
        .efficiency_gravity = 1.050,
        .bitterness_factor = 1,
        .colour_factor = 1,
        .spread = {.efficiency = 0.03,
                   .extract = 0.01,
                   .colour = 0.08,
                   .alpha = 0.10,
                   .utilisation = 0.10,
                   .attenuation = 0.03},
    };
    if (units != WF_UNITS_US)
        return;
    b->batch_l = 5 * WF_L_PER_US_GAL;
    b->step_malt_kg = 0.1 * WF_KG_PER_LB;
    b->step_specialty_kg = 0.5 * WF_KG_PER_OZ;
    b->step_hop_g = 0.05 * WF_KG_PER_OZ * 1000;
    b->least_malt_kg = 1 * WF_KG_PER_OZ;
    b->least_hop_g = 0.1 * WF_KG_PER_OZ * 1000;
}

/* ---- Tables ---------------------------------------------------------------------------------- */

struct brewhouse_file {
    struct wf_brewhouse b;
    struct wf_json_list yeasts;
    int law;
};
#define ROW struct brewhouse_file

static const struct wf_json_field scale_fields[] = {
    {WF_FIGURE("malt", ROW, b.step_malt_kg, MASS, WF_LEAST_STEP_KG, WF_MOST_KG)},
    {WF_FIGURE("specialty", ROW, b.step_specialty_kg, MASS, WF_LEAST_STEP_KG, WF_MOST_KG)},
    {WF_FIGURE("hop", ROW, b.step_hop_g, MASS, WF_LEAST_STEP_KG, WF_MOST_KG), .scale = 1000},
};
static const struct wf_json_field least_fields[] = {
    {WF_FIGURE("malt", ROW, b.least_malt_kg, MASS, 0, WF_MOST_KG)},
    {WF_FIGURE("hop", ROW, b.least_hop_g, MASS, 0, WF_MOST_KG), .scale = 1000},
};
static const struct wf_json_field mash_fields[] = {
    {WF_FIGURE("liquor", ROW, b.mash_l_kg, SPECIFIC_VOLUME, MASH_LEAST_L_KG, MASH_MOST_L_KG)},
    {WF_FIGURE("dead_space", ROW, b.dead_space_l, VOLUME, 0, WF_MOST_BATCH_L)},
    {WF_FIGURE("grain", ROW, b.grain_celsius, TEMPERATURE, GRAIN_LEAST_C, GRAIN_MOST_C)},
    {WF_FIGURE("tun", ROW, b.tun_l, VOLUME, WF_LEAST_BATCH_L, WF_MOST_BATCH_L)},
    {WF_FIGURE("tun_heat", ROW, b.tun_heat_l, VOLUME, 0, WF_MOST_BATCH_L)},
};
static const struct wf_json_field spread_fields[] = {
    {WF_FIGURE("efficiency", ROW, b.spread.efficiency, SHARE, 0, WF_MOST_SPREAD)},
    {WF_FIGURE("extract", ROW, b.spread.extract, SHARE, 0, WF_MOST_SPREAD)},
    {WF_FIGURE("colour", ROW, b.spread.colour, SHARE, 0, WF_MOST_SPREAD)},
    {WF_FIGURE("alpha", ROW, b.spread.alpha, SHARE, 0, WF_MOST_SPREAD)},
    {WF_FIGURE("utilisation", ROW, b.spread.utilisation, SHARE, 0, WF_MOST_SPREAD)},
    {WF_FIGURE("attenuation", ROW, b.spread.attenuation, SHARE, 0, WF_MOST_SPREAD)},
};

#define YEAST struct wf_brewhouse_yeast
static const struct wf_json_field yeast_fields[] = {
    {.key = "id",
     .read = wf_json_id,
     .offset = WF_JSON_AT(YEAST, id, const char *),
     .required = true},
    {WF_FIGURE("attenuation", YEAST, attenuation, SHARE, WF_LEAST_ATTENUATION, 1),
     .required = true},
};
static const struct wf_json_table yeast_table = {
    .fields = yeast_fields, .field_count = WF_COUNT_OF(yeast_fields), .size = sizeof(YEAST)};

static const struct wf_json_table scale_table = WF_TABLE(scale_fields);
static const struct wf_json_table least_table = WF_TABLE(least_fields);
static const struct wf_json_table mash_table = WF_TABLE(mash_fields);
static const struct wf_json_table spread_table = WF_TABLE(spread_fields);

static const struct wf_json_field brewhouse_fields[] = {
    {.key = "brewhouse",
     .read = wf_json_text,
     .offset = WF_JSON_AT(ROW, b.name, const char *),
     .high = 200,
     .required = true},
    {WF_FIGURE("batch", ROW, b.batch_l, VOLUME, WF_LEAST_BATCH_L, WF_MOST_BATCH_L)},
    {WF_FIGURE("efficiency", ROW, b.efficiency, SHARE, WF_LEAST_EFFICIENCY, 1)},
    {WF_FIGURE("boil", ROW, b.boil_minutes, TIME, 0, WF_MOST_MINUTES)},
    {WF_FIGURE("evaporation", ROW, b.evaporation_l_h, RATE, 0, WF_MOST_BATCH_L)},
    {WF_FIGURE("kettle_loss", ROW, b.kettle_loss_l, VOLUME, 0, WF_MOST_BATCH_L)},
    {WF_FIGURE("cooling_shrinkage", ROW, b.shrinkage, SHARE, 0, SHRINKAGE_MOST)},
    {WF_FIGURE("fermenter_loss", ROW, b.fermenter_loss_l, VOLUME, 0, WF_MOST_BATCH_L)},
    {WF_FIGURE("kettle", ROW, b.kettle_l, VOLUME, WF_LEAST_BATCH_L, WF_MOST_BATCH_L)},
    {WF_FIGURE("fermenter", ROW, b.fermenter_l, VOLUME, WF_LEAST_BATCH_L, WF_MOST_BATCH_L)},
    {WF_FIGURE("altitude", ROW, b.altitude_m, HEIGHT, HEIGHT_LEAST_M, HEIGHT_MOST_M)},
    {WF_FIGURE("absorption", ROW, b.absorption_l_kg, SPECIFIC_VOLUME, 0, ABSORPTION_MOST_L_KG)},
    {.key = "scale", .read = wf_json_object, .table = &scale_table},
    {.key = "least", .read = wf_json_object, .table = &least_table},
    {.key = "mash", .read = wf_json_object, .table = &mash_table},
    {.key = "utilisation",
     .read = wf_json_word,
     .offset = WF_JSON_AT(ROW, law, int),
     .words = wf_law_words},
    {.key = "spread", .read = wf_json_object, .table = &spread_table},
    {WF_FIGURE("efficiency_fall", ROW, b.efficiency_fall, SHARE, 0, WF_MOST_FALL)},
    {WF_FIGURE("efficiency_gravity", ROW, b.efficiency_gravity, GRAVITY, WF_LEAST_OG, WF_MOST_OG)},
    {WF_FIGURE("bitterness_factor", ROW, b.bitterness_factor, NUMBER, WF_LEAST_FACTOR,
               WF_MOST_FACTOR)},
    {WF_FIGURE("colour_factor", ROW, b.colour_factor, NUMBER, WF_LEAST_FACTOR, WF_MOST_FACTOR)},
    {.key = "yeasts",
     .read = wf_json_list,
     .offset = WF_JSON_AT(ROW, yeasts, struct wf_json_list),
     .table = &yeast_table,
     .high = WF_MOST_LIST},
};

static bool is(const char *a, const char *b)
{
    return a && b && strcmp(a, b) == 0;
}

/* One yeast has one attenuation. */
static void check_yeasts(struct wf_json *j, const struct cJSON *list, const struct wf_brewhouse *b)
{
    for (size_t i = 0; i < b->yeast_count; i++)
        for (size_t k = 0; k < i; k++)
            if (is(b->yeasts[i].id, b->yeasts[k].id)) {
                wf_json_refuse_read(j, wf_json_member(wf_json_item(list, i), "id"),
                                    "the list has this yeast already");
                break;
            }
}

static void brewhouse_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct brewhouse_file *file = at;
    struct wf_brewhouse *b = &file->b;
    b->law = (enum wf_utilisation_law)file->law;
    b->yeasts = file->yeasts.items;
    b->yeast_count = file->yeasts.count;
    b->batch_given = wf_json_has(node, "batch");
    b->boil_given = wf_json_has(node, "boil");
    check_yeasts(j, wf_json_member(node, "yeasts"), b);
    if (b->kettle_loss_l >= b->batch_l)
        wf_json_refuse_read(j, wf_json_member(node, "kettle_loss"),
                            "leaves nothing of a batch of %.1f L", b->batch_l);
}

const struct wf_json_table wf_brewhouse_table = {
    .fields = brewhouse_fields,
    .field_count = WF_COUNT_OF(brewhouse_fields),
    .after = brewhouse_after,
};

/* ---- Reading --------------------------------------------------------------------------------- */

enum wf_status wf_brewhouse_parse(const char *name, const char *text, size_t length,
                                  enum wf_units units, struct wf_brewhouse **out,
                                  struct wf_error *e)
{
    const struct wf_json_source source = {name, text, length};
    struct brewhouse_file file = {0};
    enum wf_status status = WF_OK;
    *out = NULL;
    struct wf_arena *arena = wf_arena_new();
    struct wf_brewhouse *b = arena ? wf_arena_alloc(arena, 1, sizeof *b) : NULL;
    if (!b) {
        status = wf_json_out_of_memory(&source, e);
        goto done;
    }
    wf_brewhouse_default(units, &file.b);
    WF_TRY_GOTO(wf_json_read(&source, &wf_brewhouse_table, NULL, arena, &file, e));
    *b = file.b;
    b->arena = arena;
    *out = b;
    arena = NULL; /* handed over */
done:
    wf_arena_free(arena);
    return status;
}

enum wf_status wf_brewhouse_read(const char *path, enum wf_units units, struct wf_brewhouse **out,
                                 struct wf_error *e)
{
    struct wf_source_file file;
    *out = NULL;
    WF_TRY(wf_source_file_open(path, &file, e));
    enum wf_status status = wf_brewhouse_parse(file.name, file.text, file.length, units, out, e);
    wf_source_file_close(&file);
    return status;
}

double wf_brewhouse_efficiency(const struct wf_brewhouse *b, double og)
{
    if (isnan(og) || !(b->efficiency_fall > 0))
        return b->efficiency;
    double fallen = b->efficiency - b->efficiency_fall * (og - b->efficiency_gravity) / 0.010;
    return fmin(1, fmax(WF_LEAST_EFFICIENCY, fallen));
}

double wf_brewhouse_attenuation(const struct wf_brewhouse *b, const char *id, const char *of,
                                double usual)
{
    const struct wf_brewhouse_yeast *found = NULL;
    for (size_t i = 0; i < b->yeast_count; i++)
        if (is(b->yeasts[i].id, id) || (!found && is(b->yeasts[i].id, of)))
            found = &b->yeasts[i];
    return found ? found->attenuation : usual;
}

void wf_brewhouse_free(struct wf_brewhouse *b)
{
    if (b)
        wf_arena_free(b->arena);
}
