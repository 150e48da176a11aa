/* learn_write.c: what was learnt into the text of a brewhouse, whose comments and layout stay. */
#include "pantry/json_edit.h"
#include "pantry/limits.h"
#include "wortfit/learn.h"

#include "base/alloc.h"
#include "base/file.h"
#include "base/lock.h"
#include "base/number.h"
#include "base/quote.h"
#include "base/text.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

#define WAIT_SECONDS 10.0
#define VALUE_MAX    48

/* A member of an object gets a value: in place of the one that is there, or behind the last. */
static void set(struct wf_json_edit *edit, size_t object, const char *key, const char *value)
{
    size_t member = wf_json_edit_member(edit, object, key);
    if (member)
        wf_json_edit_replace(edit, member, value);
    else
        wf_json_edit_add(edit, object, (struct wf_json_member){key, value});
}

static char *share(double value, int decimals, char out[VALUE_MAX])
{
    wf_snprintf(out, VALUE_MAX, "\"%.*f %%\"", decimals, 100 * value);
    return out;
}

static char *plain(double value, char out[VALUE_MAX])
{
    wf_snprintf(out, VALUE_MAX, "%.3f", value);
    return out;
}

/* In gallons where gallons stand there. */
static char *rate(const struct wf_json_edit *edit, double l_h, char out[VALUE_MAX])
{
    char there[VALUE_MAX] = "";
    size_t member = wf_json_edit_member(edit, 0, "evaporation");
    if (member)
        wf_json_edit_plain(edit, member, there, sizeof there);
    bool gallons = strstr(there, "gal") != NULL;
    wf_snprintf(out, VALUE_MAX, "\"%.2f %s\"", gallons ? l_h / WF_L_PER_US_GAL : l_h,
                gallons ? "gal/h" : "L/h");
    return out;
}

/* ---- Parts ----------------------------------------------------------------------------------- */

/* Efficiency and its fall are of one piece: a fall that is seen no more goes to 0. */
static void set_efficiency(struct wf_json_edit *edit, const struct wf_learning *l)
{
    char value[VALUE_MAX];
    bool falls = l->fall.value > 0;
    if (!l->efficiency.enough)
        return;
    set(edit, 0, "efficiency", share(l->efficiency.value, 1, value));
    if (falls || wf_json_edit_member(edit, 0, "efficiency_fall"))
        set(edit, 0, "efficiency_fall", share(l->fall.value, 2, value));
    if (falls)
        set(edit, 0, "efficiency_gravity", plain(l->gravity, value));
}

static void set_figures(struct wf_json_edit *edit, const struct wf_learning *l)
{
    char value[VALUE_MAX];
    if (l->evaporation.enough)
        set(edit, 0, "evaporation", rate(edit, l->evaporation.value, value));
    if (l->bitterness.enough)
        set(edit, 0, "bitterness_factor", plain(l->bitterness.value, value));
    if (l->colour.enough)
        set(edit, 0, "colour_factor", plain(l->colour.value, value));
}

static bool any_yeast(const struct wf_learning *l)
{
    for (size_t i = 0; i < l->yeast_count; i++)
        if (l->yeasts[i].attenuation.enough)
            return true;
    return false;
}

static void set_spreads(struct wf_json_edit *edit, const struct wf_learning *l)
{
    const struct {
        const char *key;
        double spread;
        bool enough;
    } row[] = {
        {"efficiency", l->spread.efficiency, l->efficiency.enough},
        {"colour", l->spread.colour, l->colour.enough},
        {"utilisation", l->spread.utilisation, l->bitterness.enough},
        {"attenuation", l->spread.attenuation, any_yeast(l)},
    };
    char value[VALUE_MAX];
    size_t object = wf_json_edit_member(edit, 0, "spread");
    struct wf_text fresh = {0};
    for (size_t i = 0; i < WF_COUNT_OF(row); i++) {
        if (!row[i].enough)
            continue;
        share(fmin(row[i].spread, WF_MOST_SPREAD), 1, value);
        if (object)
            set(edit, object, row[i].key, value);
        else
            wf_text_add(&fresh, "%s\"%s\": %s", fresh.length > 0 ? ", " : "{ ", row[i].key, value);
    }
    if (fresh.length > 0) {
        wf_text_add(&fresh, " }");
        wf_json_edit_add(edit, 0, (struct wf_json_member){"spread", fresh.data});
    }
    wf_text_free(&fresh);
}

/* The item of the list "yeasts" with that id; 0: there is none. */
static size_t find_yeast(const struct wf_json_edit *edit, const char *id)
{
    char text[WF_REASON_MAX];
    size_t list = wf_json_edit_member(edit, 0, "yeasts"), item;
    for (size_t i = 0; list && (item = wf_json_edit_item(edit, list, i)) != 0; i++) {
        size_t member = wf_json_edit_member(edit, item, "id");
        if (member && strcmp(wf_json_edit_plain(edit, member, text, sizeof text), id) == 0)
            return item;
    }
    return 0;
}

static bool set_yeast(struct wf_json_edit *edit, const struct wf_learned_yeast *y)
{
    char value[VALUE_MAX];
    struct wf_text id = {0};
    size_t item = find_yeast(edit, y->id);
    share(y->attenuation.value, 1, value);
    wf_quote_add(&id, y->id);
    const struct wf_json_member members[] = {{"id", id.data}, {"attenuation", value}};
    bool good = !id.failed;
    if (item)
        set(edit, item, "attenuation", value);
    else if (good)
        wf_json_edit_append(edit, 0, "yeasts", members, WF_COUNT_OF(members));
    wf_text_free(&id);
    return good;
}

/* ---- The whole ------------------------------------------------------------------------------- */

/* What comes out must read as a brewhouse. */
static enum wf_status check(const char *name, const char *text, size_t length, struct wf_error *e)
{
    struct wf_brewhouse *b = NULL;
    enum wf_status status = wf_brewhouse_parse(name, text, length, WF_UNITS_METRIC, &b, e);
    wf_brewhouse_free(b);
    return status;
}

static enum wf_status edit_text(const struct wf_learning *l, struct wf_json_edit *edit, char **out,
                                size_t *out_length, struct wf_error *e)
{
    bool good = true;
    set_efficiency(edit, l);
    set_figures(edit, l);
    set_spreads(edit, l);
    for (size_t i = 0; i < l->yeast_count; i++)
        if (l->yeasts[i].attenuation.enough)
            good &= set_yeast(edit, &l->yeasts[i]);
    if (!good)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    return wf_json_edit_finish(edit, out, out_length, e);
}

enum wf_status wf_learning_edit(const struct wf_learning *l, const char *name, const char *text,
                                size_t length, char **out, size_t *out_length, struct wf_error *e)
{
    const struct wf_json_source source = {name, text, length};
    struct wf_json_edit *edit = NULL;
    *out = NULL;
    WF_TRY(check(name, text, length, e));
    WF_TRY(wf_json_edit_open(&source, &edit, e));
    enum wf_status status = edit_text(l, edit, out, out_length, e);
    wf_json_edit_free(edit);
    if (status == WF_OK)
        status = check(name, *out, *out_length, e);
    if (status != WF_OK) {
        wf_free(*out);
        *out = NULL;
    }
    return status;
}

enum wf_status wf_learning_write(const struct wf_learning *l, const char *path, struct wf_error *e)
{
    struct wf_lock lock;
    char *before = NULL, *text = NULL;
    size_t before_length, length;
    enum wf_status status;
    if (strcmp(path, "-") == 0)
        return wf_error_add(e, WF_FILE,
                            "standard input cannot be changed in place; give the brewhouse's file");
    WF_TRY(wf_lock_take(path, WAIT_SECONDS, &lock, e));
    WF_TRY_GOTO(wf_file_read(path, &before, &before_length, e));
    WF_TRY_GOTO(wf_learning_edit(l, path, before, before_length, &text, &length, e));
    status = wf_file_write(path, text, length, e);
done:
    wf_lock_release(&lock);
    wf_free(text);
    wf_free(before);
    return status;
}
