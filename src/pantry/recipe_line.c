/* recipe_line.c: the tables of the malts and hops of a recipe file. */
#include "pantry/recipe_lines.h"

#include "pantry/fields.h"
#include "pantry/hop_time.h"
#include "pantry/ingredient.h" /* tables of scores */
#include "pantry/limits.h"
#include "pantry/words.h"

#include "base/try.h"

#include <math.h>
#include <string.h>

#define NAME_MOST 200 /* bytes */

/* A weight is given once, as a plain figure or with its unit. */
static void check_weight(struct wf_json *j, const struct cJSON *node, const char *plain)
{
    bool both = wf_json_has(node, plain) && wf_json_has(node, "weight");
    if (both || (!wf_json_has(node, plain) && !wf_json_has(node, "weight")))
        wf_json_refuse(j, node, "needs its weight%s, as \"%s\" or as \"weight\"",
                       both ? " once" : "", plain);
}

double wf_recipe_cost(double price_per_kg, double pack_kg, double weight_kg, double total_kg)
{
    const double slack = 1e-9; /* of a pack: rounding must not buy one more */
    double bought = isnan(pack_kg) ? total_kg : pack_kg * ceil(total_kg / pack_kg - slack);
    return total_kg > 0 ? price_per_kg * bought * (weight_kg / total_kg) : 0 * price_per_kg;
}

/* ---- Malts ----------------------------------------------------------------------------------- */

#define ROW struct wf_recipe_malt_row

static const struct wf_json_field malt_fields[] = {
    {.key = "id",
     .read = wf_json_text,
     .offset = WF_JSON_AT(ROW, malt.id, const char *),
     .high = NAME_MOST},
    {.key = "is", .read = wf_json_id, .offset = WF_JSON_AT(ROW, malt.of, const char *)},
    {.key = "name",
     .read = wf_json_text,
     .offset = WF_JSON_AT(ROW, malt.name, const char *),
     .high = NAME_MOST},
    {.key = "class",
     .read = wf_json_word,
     .offset = WF_JSON_AT(ROW, class, int),
     .words = wf_class_words},
    {WF_FIGURE("kg", ROW, malt.kg, MASS, 0, WF_MOST_KG), .plain = true},
    {WF_FIGURE("weight", ROW, malt.kg, MASS, 0, WF_MOST_KG)},
    {WF_FIGURE("share", ROW, share, SHARE, 0, 1.001), .plain = true},
    {WF_FIGURE("yield", ROW, malt.grain.yield, SHARE, 0, 1), .plain = true},
    {WF_FIGURE("lovibond", ROW, malt.grain.lovibond, MALT_COLOUR, 0, WF_MOST_LOVIBOND),
     .plain = true},
    {WF_FIGURE("lintner", ROW, malt.grain.lintner, DIASTATIC, 0, WF_MOST_LINTNER), .plain = true},
    {WF_FIGURE("fermentability", ROW, malt.grain.fermentability, SHARE, 0, WF_MOST_FERMENTED),
     .plain = true},
    {.key = "sugar", .read = wf_json_bool, .offset = WF_JSON_AT(ROW, malt.grain.sugar, bool)},
    {.key = "mashed", .read = wf_json_bool, .offset = WF_JSON_AT(ROW, malt.grain.mashed, bool)},
    {WF_FIGURE("usual_most", ROW, malt.usual_most, SHARE, 0.001, 1), .plain = true},
    {.key = "character",
     .read = wf_json_object,
     .offset = offsetof(ROW, malt.character),
     .table = &wf_malt_scores_table},
    {WF_FIGURE("cost", ROW, malt.cost, MONEY, 0, HUGE_VAL)},
};

static void malt_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    static const struct wf_malt unknown = {
        .class = WF_CLASS_OTHER,
        .grain = {.yield = (double)NAN,
                  .lovibond = (double)NAN,
                  .fermentability = 1,
                  .mashed = true},
        .usual_most = 1,
        .price_per_kg = (double)NAN,
        .pack_kg = (double)NAN,
    };
    ROW *row = at;
    const struct wf_malt *found = wf_recipe_find(j, node, WF_KIND_MALT);
    const struct wf_malt *m = found ? found : &unknown;
    row->class = (int)m->class;
    row->price_per_kg = m->price_per_kg;
    row->pack_kg = m->pack_kg;
    row->malt = (struct wf_recipe_malt){
        .of = wf_ingredient_keep(j, m->of),
        .name = wf_ingredient_keep(j, m->name),
        .grain = m->grain,
        .usual_most = m->usual_most,
        .cost = (double)NAN,
    };
    memcpy(row->malt.character, m->character, sizeof m->character);
}

static void malt_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    static const char *const needs[] = {"yield", "lovibond"};
    ROW *row = at;
    const struct wf_malt *found = wf_recipe_find(j, node, WF_KIND_MALT);
    check_weight(j, node, "kg");
    wf_recipe_check_known(j, node, WF_KIND_MALT, needs, WF_COUNT_OF(needs));
    row->malt.id = wf_recipe_line_id(j, node, WF_KIND_MALT);
    if (found && !wf_json_has(node, "id"))
        row->malt.name = wf_ingredient_keep(j, found->name);
    row->malt.class = (enum wf_malt_class)row->class;
    if (wf_json_has(node, "class") && !wf_json_has(node, "sugar"))
        row->malt.grain.sugar = row->malt.class == WF_CLASS_SUGAR;
    if (!row->malt.name)
        row->malt.name = row->malt.id;
}

const struct wf_json_table wf_recipe_malt_table = {
    .fields = malt_fields,
    .field_count = WF_COUNT_OF(malt_fields),
    .size = sizeof(ROW),
    .before = malt_before,
    .after = malt_after,
};
#undef ROW

/* ---- Hops ------------------------------------------------------------------------------------ */

#define ROW struct wf_recipe_hop_row

static void set_time(ROW *row, const struct wf_hop_time *time)
{
    row->use = (int)time->use;
    row->hop.addition.minutes = time->minutes;
    row->hop.addition.celsius = time->celsius;
    row->hop.days = time->days;
}

static void read_at(struct wf_json *j, const struct wf_json_field *f, const struct cJSON *node,
                    void *at)
{
    const char *text = wf_json_string(node);
    struct wf_hop_time time;
    char why[WF_REASON_MAX];
    (void)f;
    if (!text)
        wf_json_refuse_read(j, node, "needs a text such as \"60 min\"");
    else if (!wf_hop_time_parse(text, &time, why))
        wf_json_refuse_which(j, node, why);
    else
        set_time(at, &time);
}

static const struct wf_json_field hop_fields[] = {
    {.key = "id",
     .read = wf_json_text,
     .offset = WF_JSON_AT(ROW, hop.id, const char *),
     .high = NAME_MOST},
    {.key = "is", .read = wf_json_id, .offset = WF_JSON_AT(ROW, hop.of, const char *)},
    {.key = "name",
     .read = wf_json_text,
     .offset = WF_JSON_AT(ROW, hop.name, const char *),
     .high = NAME_MOST},
    {WF_FIGURE("g", ROW, hop.grams, MASS, 0, WF_MOST_KG), .scale = 1000, .plain = true},
    {WF_FIGURE("weight", ROW, hop.grams, MASS, 0, WF_MOST_KG), .scale = 1000},
    {WF_FIGURE("alpha", ROW, hop.addition.alpha, SHARE, 0, WF_MOST_ALPHA), .plain = true},
    {.key = "use",
     .read = wf_json_word,
     .offset = WF_JSON_AT(ROW, use, int),
     .words = wf_hop_use_words},
    {WF_FIGURE("minutes", ROW, hop.addition.minutes, TIME, 0, WF_MOST_MINUTES), .plain = true},
    {WF_FIGURE("temperature_c", ROW, hop.addition.celsius, TEMPERATURE, 0, WF_MOST_STAND_C),
     .plain = true},
    {WF_FIGURE("days", ROW, hop.days, DAYS, 0, WF_MOST_DRY_DAYS), .plain = true},
    {.key = "at", .read = read_at},
    {.key = "form",
     .read = wf_json_word,
     .offset = WF_JSON_AT(ROW, form, int),
     .words = wf_form_words},
    {WF_FIGURE("ibu", ROW, ibu, BITTERNESS, 0, HUGE_VAL), .plain = true},
    {.key = "character",
     .read = wf_json_object,
     .offset = offsetof(ROW, hop.character),
     .table = &wf_hop_scores_table},
    {WF_FIGURE("cost", ROW, hop.cost, MONEY, 0, HUGE_VAL)},
};

static void hop_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    static const struct wf_hop unknown = {
        .alpha = (double)NAN, .price_per_kg = (double)NAN, .pack_kg = (double)NAN};
    ROW *row = at;
    const struct wf_hop *found = wf_recipe_find(j, node, WF_KIND_HOP);
    const struct wf_hop *h = found ? found : &unknown;
    row->form = h->whole;
    row->price_per_kg = h->price_per_kg;
    row->pack_kg = h->pack_kg;
    row->hop = (struct wf_recipe_hop){
        .of = wf_ingredient_keep(j, h->of),
        .name = wf_ingredient_keep(j, h->name),
        .addition = {.alpha = h->alpha},
        .cost = (double)NAN,
    };
    memcpy(row->hop.character, h->character, sizeof h->character);
}

/* When it goes in: "at" tells all; "use" needs its own figures. */
static void check_time(struct wf_json *j, const struct cJSON *node, const ROW *row)
{
    static const char *const needs[WF_HOP_USE_COUNT][2] = {
        [WF_HOP_BOIL] = {"minutes", NULL}, [WF_HOP_STAND] = {"minutes", "temperature_c"}};
    bool at = wf_json_has(node, "at"), use = wf_json_has(node, "use");
    if (at == use) {
        wf_json_refuse(j, node, "needs \"at\", such as \"60 min\", or \"use\"%s",
                       at ? ", not both" : "");
        return;
    }
    for (int i = 0; use && i < 2; i++)
        if (needs[row->use][i] && !wf_json_has(node, needs[row->use][i]))
            wf_json_refuse(j, node, "needs \"%s\" for its use", needs[row->use][i]);
}

static void hop_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    static const char *const needs[] = {"alpha"};
    ROW *row = at;
    const struct wf_hop *found = wf_recipe_find(j, node, WF_KIND_HOP);
    check_weight(j, node, "g");
    check_time(j, node, row);
    wf_recipe_check_known(j, node, WF_KIND_HOP, needs, WF_COUNT_OF(needs));
    row->hop.id = wf_recipe_line_id(j, node, WF_KIND_HOP);
    if (found && !wf_json_has(node, "id"))
        row->hop.name = wf_ingredient_keep(j, found->name);
    row->hop.addition.use = (enum wf_hop_use)row->use;
    row->hop.whole = row->form == 1;
    row->hop.addition.form = row->hop.whole ? WF_WHOLE_HOPS : 1;
    if (!row->hop.name)
        row->hop.name = row->hop.id;
}

const struct wf_json_table wf_recipe_hop_table = {
    .fields = hop_fields,
    .field_count = WF_COUNT_OF(hop_fields),
    .size = sizeof(ROW),
    .before = hop_before,
    .after = hop_after,
};
