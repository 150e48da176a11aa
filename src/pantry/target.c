/* target.c: what a beer should be. */
#include "pantry/fields.h"
#include "pantry/ingredient.h"
#include "pantry/source_file.h"
#include "pantry/tables.h"
#include "pantry/target_parts.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

#define DIASTATIC_LEAST                                                                            \
    35.0 /* Lintner: the least mean that converts in the usual time; common practice */

struct target_file {
    struct wf_target t;
    struct wf_range diastatic;
    struct wf_word_ranges wishes;
    struct wf_json_list rules, slots;
    const char *const *only; /* or NULL */
};

#define ROW             struct target_file
#define TEXT_AT(member) WF_JSON_AT(ROW, member, const char *)
#define LIST_AT(member) WF_JSON_AT(ROW, member, const char *const *)

static const struct wf_json_field guideline_fields[] = {
    {.key = "source", .read = wf_json_text, .offset = TEXT_AT(t.guideline.source), .high = 300},
    {WF_WANTED("og", ROW, t.guideline.og, GRAVITY, WF_GRAVITY_LEAST, WF_MOST_OG, -1)},
    {WF_WANTED("fg", ROW, t.guideline.fg, GRAVITY, WF_LEAST_FG, WF_MOST_FG, -1)},
    {WF_WANTED("abv", ROW, t.guideline.abv, SHARE, 0, WF_MOST_ABV, -1)},
    {WF_WANTED("bitterness", ROW, t.guideline.bitterness, BITTERNESS, 0, WF_MOST_IBU, -1)},
    {WF_WANTED("colour", ROW, t.guideline.colour, BEER_COLOUR, 0, WF_MOST_SRM, -1)},
};
static const struct wf_json_table guideline_table = WF_TABLE(guideline_fields);

static const struct wf_json_field target_fields[] = {
    {.key = "target", .read = wf_json_id, .offset = TEXT_AT(t.id), .required = true},
    {.key = "name", .read = wf_json_text, .offset = TEXT_AT(t.name), .high = 200},
    {.key = "group", .read = wf_json_text, .offset = TEXT_AT(t.group), .high = 200},
    {.key = "about", .read = wf_json_text, .offset = TEXT_AT(t.about)},
    {.key = "note", .read = wf_json_text, .offset = TEXT_AT(t.note), .high = 2000},
    {.key = "aliases", .read = wf_json_ids, .offset = LIST_AT(t.aliases), .high = WF_MOST_LIST},
    {.key = "guideline", .read = wf_json_object, .table = &guideline_table},
    {WF_FIGURE("batch", ROW, t.batch_l, VOLUME, WF_LEAST_BATCH_L, WF_MOST_BATCH_L)},
    {WF_FIGURE("boil", ROW, t.boil_minutes, TIME, 0, WF_MOST_MINUTES)},
    {WF_WANTED("og", ROW, t.og, GRAVITY, WF_LEAST_OG, WF_MOST_OG, WF_TOLERANCE_GRAVITY),
     .required = true},
    {WF_WANTED("colour", ROW, t.colour, BEER_COLOUR, 0, WF_MOST_SRM, WF_TOLERANCE_COLOUR)},
    {WF_WANTED("ratio", ROW, t.ratio, NUMBER, 0, WF_MOST_RATIO, WF_TOLERANCE_RATIO)},
    {WF_WANTED("bitterness", ROW, t.bitterness, BITTERNESS, 0, WF_MOST_IBU,
               WF_TOLERANCE_BITTERNESS)},
    {WF_WANTED("fg", ROW, t.fg, GRAVITY, WF_LEAST_FG, WF_MOST_FG, WF_TOLERANCE_GRAVITY)},
    {WF_WANTED("abv", ROW, t.abv, SHARE, 0, WF_MOST_ABV, WF_TOLERANCE_ABV)},
    {WF_WANTED("attenuation", ROW, t.attenuation, SHARE, 0, 1, WF_TOLERANCE_SHARE)},
    {WF_WANTED("diastatic", ROW, diastatic, DIASTATIC, 0, WF_MOST_LINTNER, -1)},
    {.key = "grist",
     .read = wf_json_list,
     .offset = WF_JSON_AT(ROW, rules, struct wf_json_list),
     .table = &wf_rule_table,
     .high = WF_MOST_LINES},
    {.key = "character",
     .read = wf_json_object,
     .offset = offsetof(ROW, wishes),
     .table = &wf_wishes_table},
    {.key = "hops",
     .read = wf_json_list,
     .offset = WF_JSON_AT(ROW, slots, struct wf_json_list),
     .table = &wf_slot_table,
     .high = WF_MOST_LINES},
    {.key = "yeast",
     .read = wf_json_ids,
     .offset = LIST_AT(t.yeasts),
     .low = 1,
     .high = WF_MOST_LIST},
    {.key = "use", .read = wf_json_ids, .offset = LIST_AT(t.use), .high = WF_MOST_LIST},
    {.key = "avoid", .read = wf_json_ids, .offset = LIST_AT(t.avoid), .high = WF_MOST_LIST},
    {.key = "only", .read = wf_json_ids, .offset = LIST_AT(only), .low = 1, .high = WF_MOST_LIST},
};

static void target_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct target_file *file = at;
    struct wf_target *t = &file->t;
    const struct wf_range any = wf_range_any();
    (void)j;
    (void)node;
    t->group = t->about = t->note = "";
    t->batch_l = t->boil_minutes = (double)NAN;
    t->og = t->colour = t->ratio = t->bitterness = t->fg = t->abv = t->attenuation = any;
    t->guideline.og = t->guideline.fg = t->guideline.abv = any;
    t->guideline.bitterness = t->guideline.colour = any;
    file->diastatic = (struct wf_range){DIASTATIC_LEAST, (double)INFINITY, (double)NAN};
    file->wishes = wf_word_ranges_any();
}

/* ---- Checks that need more than one field ---------------------------------------------------- */

/* A bare figure is a least: nobody wishes for a weak mash. */
static void set_diastatic(struct wf_json *j, const struct cJSON *node, struct target_file *file)
{
    const struct wf_range *r = &file->diastatic;
    file->t.diastatic = r->low;
    if (isinf(r->low) || (isnan(r->aim) && isfinite(r->high)))
        wf_json_refuse_read(j, wf_json_member(node, "diastatic"),
                            "is a least, such as \">= 40 Lintner\"");
}

static bool is_in(const char *const *list, const char *word)
{
    for (; list && *list; list++)
        if (strcmp(*list, word) == 0)
            return true;
    return false;
}

static void check_use(struct wf_json *j, const struct cJSON *node, const struct wf_target *t)
{
    for (size_t i = 0; t->use && t->use[i]; i++)
        if (is_in(t->avoid, t->use[i]))
            wf_json_refuse(j, wf_json_member(node, "use"), "\"%s\" is in \"avoid\" as well",
                           t->use[i]);
}

/* A wort stands at one temperature: what all slots of a stand share. */
static void check_slots(struct wf_json *j, const struct cJSON *node, const struct wf_target *t)
{
    const struct wf_slot *stand = NULL;
    for (size_t i = 0; i < t->slot_count; i++) {
        const struct wf_slot *slot = &t->slots[i];
        const struct cJSON *item = wf_json_item(wf_json_member(node, "hops"), i);
        const struct cJSON *at = wf_json_member(item, "at");
        if (!at)
            continue;
        if (slot->use == WF_HOP_BOIL && slot->minutes > t->boil_minutes)
            wf_json_refuse_read(j, at, "is longer than the boil, %.0f min", t->boil_minutes);
        if (slot->use != WF_HOP_STAND)
            continue;
        if (stand && slot->celsius != stand->celsius)
            wf_json_refuse_read(j, at, "all stands of a beer are at one temperature, here %.1f C",
                                stand->celsius);
        stand = stand ? stand : slot;
    }
}

static void target_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct target_file *file = at;
    struct wf_target *t = &file->t;
    struct wf_arena *a = wf_json_arena(j);
    t->rule_count = file->rules.count;
    t->slot_count = file->slots.count;
    t->rules = wf_ingredient_pack(a, &file->rules, &wf_rule_table, sizeof *t->rules);
    t->slots = wf_ingredient_pack(a, &file->slots, &wf_slot_table, sizeof *t->slots);
    t->wishes = wf_word_wishes(j, &file->wishes, &t->wish_count);
    if (!t->rules || !t->slots) {
        wf_json_no_memory(j);
        return;
    }
    if (!t->name)
        t->name = t->id;
    t->only.all = true;
    if (file->only)
        wf_malt_set_from(j, file->only, &t->only);
    if (wf_json_has(node, "ratio") && wf_json_has(node, "bitterness"))
        wf_json_refuse(j, wf_json_member(node, "bitterness"),
                       "stands beside \"ratio\"; give one of them");
    set_diastatic(j, node, file);
    check_use(j, node, t);
    check_slots(j, node, t);
}

const struct wf_json_table wf_target_table = {
    .fields = target_fields,
    .field_count = WF_COUNT_OF(target_fields),
    .before = target_before,
    .after = target_after,
};

/* ---- Reading --------------------------------------------------------------------------------- */

enum wf_status wf_target_parse(const char *name, const char *text, size_t length,
                               const struct wf_catalogue *c, struct wf_target **out,
                               struct wf_error *e)
{
    const struct wf_json_source source = {name, text, length};
    struct wf_target_reading reading = {.catalogue = c};
    enum wf_status status = WF_OK;
    *out = NULL;
    struct wf_arena *arena = wf_arena_new();
    struct target_file *file = arena ? wf_arena_alloc(arena, 1, sizeof *file) : NULL;
    if (!file) {
        status = wf_json_out_of_memory(&source, e);
        goto done;
    }
    WF_TRY_GOTO(wf_json_read(&source, &wf_target_table, &reading, arena, file, e));
    file->t.arena = arena;
    *out = &file->t;
    arena = NULL; /* handed over */
done:
    wf_arena_free(arena);
    return status;
}

enum wf_status wf_target_read(const char *path, const struct wf_catalogue *c,
                              struct wf_target **out, struct wf_error *e)
{
    struct wf_source_file file;
    *out = NULL;
    WF_TRY(wf_source_file_open(path, &file, e));
    enum wf_status status = wf_target_parse(file.name, file.text, file.length, c, out, e);
    wf_source_file_close(&file);
    return status;
}

void wf_target_free(struct wf_target *t)
{
    if (t)
        wf_arena_free(t->arena);
}
