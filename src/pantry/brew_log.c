/* brew_log.c: a brew log, line by line. */
#include "pantry/brew_pair.h"
#include "pantry/brew_parts.h"
#include "pantry/fields.h"
#include "pantry/limits.h"
#include "pantry/names.h"
#include "pantry/recipe_file.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

/* ---- What is measured ------------------------------------------------------------------------ */

#define AT(member) offsetof(struct wf_measured, member)
const struct wf_measured_row wf_measured_rows[WF_MEASURED_MOST] = {
    {"og", AT(og), false},
    {"volume_l", AT(volume_l), false},
    {"pre_boil_gravity", AT(pre_boil_gravity), false},
    {"pre_boil_l", AT(pre_boil_l), false},
    {"boil_min", AT(boil_minutes), false},
    {"fg", AT(fg), true},
    {"ibu", AT(ibu), true},
    {"srm", AT(srm), true},
};
#undef AT

double *wf_measured_at(struct wf_measured *m, size_t row)
{
    return (void *)((char *)m + wf_measured_rows[row].offset);
}

struct wf_measured wf_measured_none(void)
{
    struct wf_measured m;
    for (size_t i = 0; i < WF_MEASURED_MOST; i++)
        *wf_measured_at(&m, i) = (double)NAN;
    return m;
}

void wf_measured_join(struct wf_measured *to, const struct wf_measured *from)
{
    struct wf_measured copy = *from;
    for (size_t i = 0; i < WF_MEASURED_MOST; i++)
        if (!isnan(*wf_measured_at(&copy, i)))
            *wf_measured_at(to, i) = *wf_measured_at(&copy, i);
}

/* ---- Tables ---------------------------------------------------------------------------------- */

struct log_line {
    int version;
    const char *brew, *later, *hash, *brewhouse;
    long on;
    struct wf_measured measured;
    struct wf_beer planned;
    struct wf_recipe_file *recipe;
};
#define ROW             struct log_line
#define TEXT_AT(member) WF_JSON_AT(ROW, member, const char *)

static const struct wf_json_field measured_fields[] = {
    {WF_FIGURE("og", ROW, measured.og, GRAVITY, WF_LEAST_OG, WF_MOST_OG), .plain = true},
    {WF_FIGURE("volume_l", ROW, measured.volume_l, VOLUME, WF_LEAST_BATCH_L, WF_MOST_BATCH_L),
     .plain = true},
    {WF_FIGURE("pre_boil_gravity", ROW, measured.pre_boil_gravity, GRAVITY, 1, WF_MOST_OG),
     .plain = true},
    {WF_FIGURE("pre_boil_l", ROW, measured.pre_boil_l, VOLUME, WF_LEAST_BATCH_L, WF_MOST_BATCH_L),
     .plain = true},
    {WF_FIGURE("boil_min", ROW, measured.boil_minutes, TIME, 0, WF_MOST_MINUTES), .plain = true},
    {WF_FIGURE("fg", ROW, measured.fg, GRAVITY, WF_LEAST_FG, WF_MOST_FG), .plain = true},
    {WF_FIGURE("ibu", ROW, measured.ibu, BITTERNESS, 0, WF_MOST_IBU), .plain = true},
    {WF_FIGURE("srm", ROW, measured.srm, BEER_COLOUR, 0, WF_MOST_SRM), .plain = true},
};
static const struct wf_json_field planned_fields[] = {
    {WF_FIGURE("og", ROW, planned.og, GRAVITY, 0, HUGE_VAL), .plain = true},
    {WF_FIGURE("fg", ROW, planned.fg, GRAVITY, 0, HUGE_VAL), .plain = true},
    {WF_FIGURE("ibu", ROW, planned.ibu, BITTERNESS, 0, HUGE_VAL), .plain = true},
    {WF_FIGURE("srm", ROW, planned.srm, BEER_COLOUR, 0, HUGE_VAL), .plain = true},
};

static wf_json_reader read_recipe;
static void line_before(struct wf_json *j, const struct cJSON *node, void *at);
static void line_after(struct wf_json *j, const struct cJSON *node, void *at);

static const struct wf_json_table measured_table = WF_TABLE(measured_fields);
static const struct wf_json_table planned_table = WF_TABLE(planned_fields);

static const struct wf_json_field line_fields[] = {
    {.key = "version",
     .read = wf_json_count,
     .offset = WF_JSON_AT(ROW, version, int),
     .low = WF_LOG_VERSION,
     .high = WF_LOG_VERSION,
     .required = true},
    {.key = "brew", .read = wf_json_id, .offset = TEXT_AT(brew)},
    {.key = "later", .read = wf_json_id, .offset = TEXT_AT(later)},
    {.key = "on", .read = wf_json_date, .offset = WF_JSON_AT(ROW, on, long), .required = true},
    {.key = "recipe_hash", .read = wf_json_text, .offset = TEXT_AT(hash), .high = 64},
    {.key = "brewhouse", .read = wf_json_text, .offset = TEXT_AT(brewhouse), .high = 200},
    {.key = "planned", .read = wf_json_object, .table = &planned_table},
    {.key = "measured", .read = wf_json_object, .table = &measured_table, .required = true},
    {.key = "recipe", .read = read_recipe},
};

const struct wf_json_table wf_log_line_table = {
    .fields = line_fields,
    .field_count = WF_COUNT_OF(line_fields),
    .size = sizeof(ROW),
    .before = line_before,
    .after = line_after,
};

static void read_recipe(struct wf_json *j, const struct wf_json_field *f, const struct cJSON *node,
                        void *at)
{
    const struct wf_json_field whole = {.table = &wf_recipe_table};
    struct log_line *line = at;
    (void)f;
    line->recipe = wf_arena_alloc(wf_json_arena(j), 1, sizeof *line->recipe);
    if (line->recipe)
        wf_json_object(j, &whole, node, line->recipe);
    else
        wf_json_no_memory(j);
}

static void line_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct log_line *line = at;
    (void)j;
    (void)node;
    line->measured = wf_measured_none();
    line->planned.og = line->planned.fg = (double)NAN;
    line->planned.ibu = line->planned.srm = (double)NAN;
}

/* A brew stands for itself; a later line says more of a brew. */
static void line_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    static const char *const needs[] = {"recipe_hash", "recipe"};
    (void)at;
    const struct cJSON *measured = wf_json_member(node, "measured");
    bool brew = wf_json_has(node, "brew");
    if (brew == wf_json_has(node, "later")) {
        wf_json_refuse(j, node, "needs \"brew\", the brew's id, or \"later\"%s",
                       brew ? ", not both" : "");
        return;
    }
    for (size_t i = 0; i < WF_COUNT_OF(needs); i++)
        if (brew != wf_json_has(node, needs[i]))
            wf_json_refuse(j, node, "%s \"%s\"", brew ? "needs" : "says \"later\", which has no",
                           needs[i]);
    if (!brew && wf_json_has(node, "brewhouse"))
        wf_json_refuse(j, node, "says \"later\", which has no \"brewhouse\"");
    if (measured && brew && !(wf_json_has(measured, "og") && wf_json_has(measured, "volume_l")))
        wf_json_refuse(j, measured, "needs \"og\" and \"volume_l\"");
}

/* ---- The file -------------------------------------------------------------------------------- */

struct reading {
    const char *name;
    struct wf_recipe_reading recipe; /* the `user` of the tables */
    struct wf_log *log;
    size_t capacity;
    struct wf_names ids; /* value: the brew */
    struct wf_error *e;
};

static enum wf_status out_of_memory(const struct reading *r)
{
    return wf_error_add(r->e, WF_MEMORY, "out of memory while reading %s", r->name);
}

static enum wf_status refuse(const struct reading *r, const char *why)
{
    return wf_error_add(r->e, WF_BAD_INPUT, "%s:%zu:1: %s", r->name, r->log->lines, why);
}

/* Room for one more brew. */
static bool grow(struct reading *r)
{
    struct wf_log *l = r->log;
    if (l->count < r->capacity)
        return true;
    size_t capacity = r->capacity > 0 ? 2 * r->capacity : 16;
    struct wf_brew *brews = wf_arena_alloc(l->arena, capacity, sizeof *brews);
    if (!brews)
        return false;
    if (l->count > 0)
        memcpy(brews, l->brews, l->count * sizeof *brews);
    l->brews = brews;
    r->capacity = capacity;
    return true;
}

static enum wf_status add_brew(struct reading *r, const struct log_line *line)
{
    static const char *const again = "the log has a brew of this id already";
    const struct wf_name *old;
    struct wf_log *l = r->log;
    struct wf_error why = {0};
    struct wf_brew b = {.id = line->brew,
                        .on = line->on,
                        .hash = line->hash,
                        .brewhouse = line->brewhouse,
                        .planned = line->planned,
                        .measured = line->measured,
                        .line = l->lines};
    const struct wf_name name = {.text = b.id, .length = strlen(b.id), .value = l->count};
    if (!grow(r) || wf_names_add(&r->ids, name, &old) != WF_OK)
        return out_of_memory(r);
    if (old)
        return refuse(r, again);
    enum wf_status status =
        wf_recipe_of_file(line->recipe, r->name, NULL, NULL, l->arena, &b.recipe, &why);
    if (status != WF_OK)
        return status == WF_MEMORY ? out_of_memory(r) : refuse(r, why.text);
    l->brews[l->count++] = b;
    return WF_OK;
}

static enum wf_status add_later(const struct reading *r, const struct log_line *line)
{
    const struct wf_name *brew = wf_names_find(&r->ids, 0, line->later, strlen(line->later));
    if (!brew)
        return refuse(r, "\"later\" is no brew of a line before");
    wf_measured_join(&r->log->brews[brew->value].measured, &line->measured);
    return WF_OK;
}

/* One line, without its end. `whole`: it has one. */
static enum wf_status read_line(struct reading *r, const char *text, size_t length, bool whole)
{
    const struct wf_json_source source = {r->name, text, length};
    struct log_line line = {0};
    enum wf_status status = wf_json_read_line(&source, r->log->lines - 1, &wf_log_line_table,
                                              &r->recipe, r->log->arena, &line, r->e);
    if (status == WF_BAD_INPUT && !whole)
        return refuse(r, "this last line was cut off: it has no end; mend it, or take it out");
    if (status != WF_OK)
        return status;
    return line.brew ? add_brew(r, &line) : add_later(r, &line);
}

#define BAD_LINES_MOST 3 /* with no good one before them: it is something else */

/* All lines, to tell all that is wrong; memory that ran out, or what is no log, ends it. */
static enum wf_status read_lines(struct reading *r, const char *text, size_t length)
{
    enum wf_status first = WF_OK;
    size_t bad = 0;
    for (size_t at = 0; at < length && first != WF_MEMORY;) {
        const char *end = memchr(text + at, '\n', length - at);
        size_t size = end ? (size_t)(end - text) - at : length - at;
        enum wf_status status = WF_OK;
        r->log->lines++;
        if (strspn(text + at, " \t\r") < size)
            status = read_line(r, text + at, size, end != NULL);
        first = first == WF_OK || status == WF_MEMORY ? status : first;
        bad += status != WF_OK;
        if (bad == BAD_LINES_MOST && r->log->count == 0)
            return refuse(r, "this is no brew log, in which each line is a JSON object");
        at += size + 1;
    }
    return first;
}

enum wf_status wf_log_parse(const char *name, const char *text, size_t length,
                            const struct wf_catalogue *c, struct wf_log **out, struct wf_error *e)
{
    struct reading r = {.name = name, .recipe = {.catalogue = c}, .e = e};
    struct wf_arena *arena = wf_arena_new();
    *out = NULL;
    r.log = arena ? wf_arena_alloc(arena, 1, sizeof *r.log) : NULL;
    enum wf_status status = r.log ? WF_OK : out_of_memory(&r);
    if (status == WF_OK) {
        r.log->arena = arena;
        r.log->name = wf_arena_string(arena, name);
        status = r.log->name ? read_lines(&r, text, length) : out_of_memory(&r);
    }
    wf_names_free(&r.ids);
    if (status == WF_OK)
        *out = r.log;
    else
        wf_arena_free(arena);
    return status;
}

enum wf_status wf_log_read(const char *path, const struct wf_catalogue *c, struct wf_log **out,
                           struct wf_error *e)
{
    struct wf_source_file file;
    *out = NULL;
    WF_TRY(wf_pair_read_log(path, &file, e));
    enum wf_status status = wf_log_parse(file.name, file.text, file.length, c, out, e);
    wf_source_file_close(&file);
    return status;
}

void wf_log_free(struct wf_log *l)
{
    if (l)
        wf_arena_free(l->arena);
}
