/* recipe_table.c: the tables of a recipe file, and the checks that need more than one field. */
#include "pantry/fields.h"
#include "pantry/ingredient.h" /* wf_ingredient_keep */
#include "pantry/limits.h"
#include "pantry/recipe_file.h"
#include "pantry/words.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>

#define ROW             struct wf_recipe_file
#define TEXT_AT(member) WF_JSON_AT(ROW, member, const char *)
#define LIST_AT(member) WF_JSON_AT(ROW, member, struct wf_json_list)

/* A figure that is reckoned anew: any number. */
#define COMPUTED(k)                                                                                \
    {                                                                                              \
        WF_FIGURE(k, ROW, computed, NUMBER, -HUGE_VAL, HUGE_VAL)                                   \
    }

/* ---- Tables ---------------------------------------------------------------------------------- */

static const struct wf_json_field kettle_fields[] = {
    {WF_FIGURE("batch_l", ROW, kettle_batch_l, VOLUME, WF_LEAST_BATCH_L, WF_MOST_BATCH_L),
     .plain = true},
    {WF_FIGURE("efficiency", ROW, r.kettle.efficiency, SHARE, WF_LEAST_EFFICIENCY, 1),
     .plain = true},
    {WF_FIGURE("boil_min", ROW, r.kettle.boil_minutes, TIME, 0, WF_MOST_MINUTES), .plain = true},
    {WF_FIGURE("evaporation_l_h", ROW, r.kettle.evaporation_l_h, RATE, 0, WF_MOST_BATCH_L),
     .plain = true},
    {.key = "utilisation",
     .read = wf_json_word,
     .offset = WF_JSON_AT(ROW, law, int),
     .words = wf_law_words},
    {WF_FIGURE("bitterness_factor", ROW, r.kettle.bitterness_factor, NUMBER, WF_LEAST_FACTOR,
               WF_MOST_FACTOR)},
    {WF_FIGURE("colour_factor", ROW, r.kettle.colour_factor, NUMBER, WF_LEAST_FACTOR,
               WF_MOST_FACTOR)},
};

static const struct wf_json_field stand_fields[] = {
    {WF_FIGURE("minutes", ROW, r.stand_length, TIME, 0, WF_MOST_MINUTES), .plain = true,
     .required = true},
    {WF_FIGURE("temperature_c", ROW, r.stand_celsius, TEMPERATURE, 0, WF_MOST_STAND_C),
     .plain = true, .required = true},
};

static const struct wf_json_field yeast_fields[] = {
    {.key = "id", .read = wf_json_text, .offset = TEXT_AT(r.yeast.id), .high = 200},
    {.key = "is", .read = wf_json_id, .offset = TEXT_AT(r.yeast.of)},
    {.key = "name", .read = wf_json_text, .offset = TEXT_AT(r.yeast.name), .high = 200},
    {.key = "family",
     .read = wf_json_word,
     .offset = WF_JSON_AT(ROW, family, int),
     .words = wf_family_words},
    {WF_FIGURE("attenuation", ROW, r.yeast.attenuation, SHARE, 0, 1), .plain = true},
    {WF_FIGURE("cost", ROW, r.yeast.cost, MONEY, 0, HUGE_VAL)},
};

static const struct wf_json_field predicted_fields[] = {
    COMPUTED("og"),           COMPUTED("fg"),      COMPUTED("plato"),       COMPUTED("abv"),
    COMPUTED("srm"),          COMPUTED("ebc"),     COMPUTED("ibu"),         COMPUTED("ratio"),
    COMPUTED("boil_gravity"), COMPUTED("lintner"), COMPUTED("attenuation"),
};

#define WF_X(id, word, text) COMPUTED(word),
static const struct wf_json_field index_fields[] = {WF_MALT_WORDS(WF_X) WF_HOP_WORDS(WF_X)};
#undef WF_X

static const struct wf_json_field wish_fields[] = {
    {.key = "wish",
     .read = wf_json_text,
     .offset = WF_JSON_AT(struct wf_recipe_wish_row, wish.wish, const char *),
     .required = true},
    {.key = "kind",
     .read = wf_json_word,
     .offset = WF_JSON_AT(struct wf_recipe_wish_row, kind, int),
     .words = wf_dimension_words,
     .required = true},
    {WF_FIGURE("low", struct wf_recipe_wish_row, wish.wanted.low, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("high", struct wf_recipe_wish_row, wish.wanted.high, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("aim", struct wf_recipe_wish_row, wish.wanted.aim, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("got", struct wf_recipe_wish_row, wish.got, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("missed_by", struct wf_recipe_wish_row, wish.missed_by, NUMBER, -HUGE_VAL,
               HUGE_VAL)},
    {.key = "met",
     .read = wf_json_bool,
     .offset = WF_JSON_AT(struct wf_recipe_wish_row, wish.met, bool)},
};

static const struct wf_json_field proof_fields[] = {
    {.key = "goal",
     .read = wf_json_text,
     .offset = WF_JSON_AT(struct wf_proof, goal, const char *),
     .required = true},
    {WF_FIGURE("value", struct wf_proof, value, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("bound", struct wf_proof, bound, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("gap", struct wf_proof, gap, NUMBER, -HUGE_VAL, HUGE_VAL)},
};

static void wish_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct wf_recipe_wish_row *row = at;
    (void)j;
    (void)node;
    row->wish.wanted = wf_range_any();
    row->wish.got = (double)NAN;
}

static void wish_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct wf_recipe_wish_row *row = at;
    (void)j;
    (void)node;
    row->wish.dimension = (enum wf_dimension)row->kind;
}

static void proof_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct wf_proof *proof = at;
    (void)j;
    (void)node;
    proof->value = proof->bound = proof->gap = (double)NAN;
}

static void yeast_before(struct wf_json *j, const struct cJSON *node, void *at);
static void yeast_after(struct wf_json *j, const struct cJSON *node, void *at);
static void recipe_before(struct wf_json *j, const struct cJSON *node, void *at);
static void recipe_after(struct wf_json *j, const struct cJSON *node, void *at);
static wf_json_reader read_closest;

static const struct wf_json_table kettle_table = WF_TABLE(kettle_fields);
static const struct wf_json_table stand_table = WF_TABLE(stand_fields);
static const struct wf_json_table predicted_table = WF_TABLE(predicted_fields);
static const struct wf_json_table index_table = WF_TABLE(index_fields);
static const struct wf_json_table yeast_table = {.fields = yeast_fields,
                                                 .field_count = WF_COUNT_OF(yeast_fields),
                                                 .before = yeast_before,
                                                 .after = yeast_after};
const struct wf_json_table wf_recipe_wish_table = {.fields = wish_fields,
                                                   .field_count = WF_COUNT_OF(wish_fields),
                                                   .size = sizeof(struct wf_recipe_wish_row),
                                                   .before = wish_before,
                                                   .after = wish_after};
const struct wf_json_table wf_recipe_proof_table = {.fields = proof_fields,
                                                    .field_count = WF_COUNT_OF(proof_fields),
                                                    .size = sizeof(struct wf_proof),
                                                    .before = proof_before};

static const struct wf_json_field recipe_fields[] = {
    {.key = "recipe", .read = wf_json_text, .offset = TEXT_AT(r.name), .required = true},
    {.key = "status",
     .read = wf_json_word,
     .offset = WF_JSON_AT(ROW, status, int),
     .words = wf_recipe_status_words},
    {WF_FIGURE("batch_l", ROW, batch_l, VOLUME, WF_LEAST_BATCH_L, WF_MOST_BATCH_L), .plain = true},
    {.key = "kettle", .read = wf_json_object, .table = &kettle_table},
    {.key = "stand", .read = wf_json_object, .table = &stand_table},
    {.key = "malts",
     .read = wf_json_list,
     .offset = LIST_AT(malts),
     .table = &wf_recipe_malt_table,
     .low = 1,
     .high = WF_MOST_LINES},
    {.key = "hops",
     .read = wf_json_list,
     .offset = LIST_AT(hops),
     .table = &wf_recipe_hop_table,
     .high = WF_MOST_LINES},
    {.key = "yeast", .read = wf_json_object, .table = &yeast_table},
    {.key = "predicted", .read = wf_json_object, .table = &predicted_table},
    {.key = "ranges", .read = wf_json_object, .table = &wf_recipe_ranges_table},
    {.key = "character", .read = wf_json_object, .table = &index_table},
    COMPUTED("cost"),
    {.key = "currency", .read = wf_json_text, .offset = TEXT_AT(r.currency), .high = 8},
    {.key = "price_note", .read = wf_json_text, .offset = TEXT_AT(r.price_note)},
    COMPUTED("unpriced"),
    COMPUTED("ingredients"),
    {.key = "wishes",
     .read = wf_json_list,
     .offset = LIST_AT(wishes),
     .table = &wf_recipe_wish_table,
     .high = WF_MOST_LINES},
    {.key = "proof",
     .read = wf_json_object,
     .offset = offsetof(ROW, proof),
     .table = &wf_recipe_proof_table},
    {.key = "proofs",
     .read = wf_json_list,
     .offset = LIST_AT(proof_list),
     .table = &wf_recipe_proof_table,
     .high = WF_MOST_LINES},
    {.key = "leans",
     .read = wf_json_list,
     .offset = LIST_AT(leans),
     .table = &wf_recipe_lean_table,
     .high = WF_MOST_LINES},
    COMPUTED("leans_untried"),
    {WF_FIGURE("seconds", ROW, r.seconds, NUMBER, 0, HUGE_VAL)},
    {.key = "reasons",
     .read = wf_json_texts,
     .offset = WF_JSON_AT(ROW, reasons, const char *const *),
     .high = WF_MOST_LINES},
    {.key = "conflicts",
     .read = wf_json_list,
     .offset = LIST_AT(conflicts),
     .table = &wf_recipe_conflict_table,
     .high = WF_MOST_LINES},
    {.key = "remedies",
     .read = wf_json_list,
     .offset = LIST_AT(remedies),
     .table = &wf_recipe_remedy_table,
     .high = WF_MOST_LINES},
    {.key = "complete", .read = wf_json_bool, .offset = WF_JSON_AT(ROW, complete, bool)},
    {.key = "closest", .read = read_closest},
    COMPUTED("distance"),
    COMPUTED("loosened"),
    {.key = "changes",
     .read = wf_json_list,
     .offset = LIST_AT(changes),
     .table = &wf_recipe_change_table,
     .high = 4 * WF_MOST_LINES},
    {.key = "lost",
     .read = wf_json_texts,
     .offset = WF_JSON_AT(ROW, reasons, const char *const *),
     .high = WF_MOST_LINES},
    {.key = "apart", .read = wf_json_text, .offset = TEXT_AT(said)},
};

const struct wf_json_table wf_recipe_table = {
    .fields = recipe_fields,
    .field_count = WF_COUNT_OF(recipe_fields),
    .before = recipe_before,
    .after = recipe_after,
};

/* ---- Yeast ----------------------------------------------------------------------------------- */

static void yeast_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct wf_recipe_file *file = at;
    const struct wf_yeast *y = wf_recipe_find(j, node, WF_KIND_YEAST);
    if (!y)
        return;
    file->r.yeast.of = wf_ingredient_keep(j, y->of);
    file->r.yeast.name = wf_ingredient_keep(j, y->name);
    file->r.yeast.family = y->family;
    file->r.yeast.ester = y->ester;
    file->r.yeast.phenol = y->phenol;
    file->r.yeast.attenuation = (y->attenuation_low + y->attenuation_high) / 2;
    file->r.yeast.cost = y->price;
}

static void yeast_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    static const char *const needs[] = {"attenuation"};
    const struct wf_recipe_reading *reading = wf_json_user(j);
    struct wf_recipe_file *file = at;
    const struct wf_yeast *found = wf_recipe_find(j, node, WF_KIND_YEAST);
    wf_recipe_check_known(j, node, WF_KIND_YEAST, needs, WF_COUNT_OF(needs));
    file->r.yeast.id = wf_recipe_line_id(j, node, WF_KIND_YEAST);
    if (found && !wf_json_has(node, "id"))
        file->r.yeast.name = wf_ingredient_keep(j, found->name);
    if (file->family >= 0)
        file->r.yeast.family = wf_family_words[file->family];
    if (!file->r.yeast.name)
        file->r.yeast.name = file->r.yeast.id;
    if (reading->brewhouse)
        file->r.yeast.attenuation = wf_brewhouse_attenuation(
            reading->brewhouse, file->r.yeast.id, file->r.yeast.of, file->r.yeast.attenuation);
}

/* ---- The whole ------------------------------------------------------------------------------- */

static void recipe_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    const struct wf_recipe_reading *reading = wf_json_user(j);
    struct wf_recipe_file *file = at;
    struct wf_brewhouse usual;
    (void)node;
    wf_brewhouse_default(WF_UNITS_METRIC, &usual);
    const struct wf_brewhouse *b = reading->brewhouse ? reading->brewhouse : &usual;
    file->r.kettle = (struct wf_kettle){.batch_l = b->batch_l,
                                        .efficiency = b->efficiency,
                                        .boil_minutes = b->boil_minutes,
                                        .evaporation_l_h = b->evaporation_l_h,
                                        .bitterness_factor = b->bitterness_factor,
                                        .colour_factor = b->colour_factor};
    file->law = (int)b->law;
    file->status = WF_RECIPE_UNPROVED;
    file->family = -1;
    file->batch_l = file->kettle_batch_l = (double)NAN;
    file->r.stand_length = file->r.stand_celsius = (double)NAN;
    file->r.yeast.attenuation = file->r.yeast.cost = (double)NAN;
    file->r.yeast.ester = file->r.yeast.phenol = (double)NAN;
}

static void read_closest(struct wf_json *j, const struct wf_json_field *f, const struct cJSON *node,
                         void *at)
{
    const struct wf_json_field whole = {.table = &wf_recipe_table};
    struct wf_recipe_file *file = at;
    struct wf_recipe_file *closest = wf_arena_alloc(wf_json_arena(j), 1, sizeof *closest);
    (void)f;
    file->closest = closest;
    if (closest)
        wf_json_object(j, &whole, node, closest);
    else
        wf_json_no_memory(j);
}

static void set_kettle(struct wf_json *j, const struct cJSON *node, struct wf_recipe_file *file)
{
    const struct wf_recipe_reading *reading = wf_json_user(j);
    const struct wf_brewhouse *b = reading->brewhouse;
    struct wf_kettle *k = &file->r.kettle;
    k->law = b ? b->law : (enum wf_utilisation_law)file->law;
    const struct cJSON *own = wf_json_member(node, "kettle");
    file->efficiency_given = own && wf_json_has(own, "efficiency");
    if (b && !(b->efficiency_fall > 0))
        k->efficiency = b->efficiency;
    k->evaporation_l_h = b ? b->evaporation_l_h : k->evaporation_l_h;
    k->bitterness_factor = b ? b->bitterness_factor : k->bitterness_factor;
    k->colour_factor = b ? b->colour_factor : k->colour_factor;
    if (!isnan(file->batch_l) && !isnan(file->kettle_batch_l) &&
        fabs(file->batch_l - file->kettle_batch_l) > 1e-6 * file->batch_l)
        wf_json_refuse_read(j, wf_json_member(node, "batch_l"), "is not the kettle's %.6g L",
                            file->kettle_batch_l);
    if (!isnan(file->kettle_batch_l))
        k->batch_l = file->kettle_batch_l;
    else if (!isnan(file->batch_l))
        k->batch_l = file->batch_l;
}

/* The stand as scheduled is the longest of the stand additions, where the file does not tell. */
static void check_times(struct wf_json *j, const struct cJSON *node, struct wf_recipe_file *file)
{
    struct wf_recipe *r = &file->r;
    const struct wf_recipe_hop_row *rows = file->hops.items;
    bool told = wf_json_has(node, "stand");
    for (size_t i = 0; i < file->hops.count; i++) {
        const struct wf_addition *a = &rows[i].hop.addition;
        const struct cJSON *item = wf_json_item(wf_json_member(node, "hops"), i);
        if (a->use == WF_HOP_BOIL && a->minutes > r->kettle.boil_minutes)
            wf_json_refuse(j, item, "boils for %.0f min, longer than the whole boil, %.0f min",
                           a->minutes, r->kettle.boil_minutes);
        if (a->use != WF_HOP_STAND)
            continue;
        if (!isnan(r->stand_celsius) && a->celsius != r->stand_celsius)
            wf_json_refuse(j, item,
                           "stands at %.1f C; all stands are at one temperature, here "
                           "%.1f C",
                           a->celsius, r->stand_celsius);
        if (told)
            continue;
        r->stand_celsius = a->celsius;
        r->stand_length = fmax(a->minutes, isnan(r->stand_length) ? 0 : r->stand_length);
    }
    if (!isnan(r->stand_length) && !isnan(r->stand_celsius) &&
        wf_stand_boil_minutes(r->stand_length, r->stand_celsius, &r->kettle.stand_minutes) != WF_OK)
        wf_json_refuse(j, node, "has a stand that the laws of brewing do not cover");
}

static void recipe_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct wf_recipe_file *file = at;
    if (!wf_json_has(node, "malts") && !file->closest)
        wf_json_refuse(j, node, "%s",
                       file->status == WF_RECIPE_NONE
                           ? "no recipe was found, and no closest one is given"
                           : "needs \"malts\"");
    set_kettle(j, node, file);
    check_times(j, node, file);
}
