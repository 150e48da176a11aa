/* option_values.c: see option_values.h. One function a kind, found in a table. */
#include "cli/option_values.h"

#include "base/date.h"
#include "base/number.h"

#include <math.h>
#include <string.h>

struct conversion {
    const struct wf_option *row;
    const char *const *values;
    size_t count;
    struct wf_arena *arena;
    struct wf_error *e;
};

static enum wf_status refuse(const struct conversion *c, const char *why)
{
    return wf_error_add(c->e, WF_USAGE, "option --%s: '%s' %s", c->row->name, c->values[0], why);
}

static enum wf_status to_flag(const struct conversion *c, void *at)
{
    *(bool *)at = c->count > 0;
    return WF_OK;
}

static enum wf_status to_text(const struct conversion *c, void *at)
{
    *(const char **)at = c->count > 0 ? c->values[0] : NULL;
    return WF_OK;
}

static enum wf_status to_texts(const struct conversion *c, void *at)
{
    if (c->count == 0)
        return WF_OK;
    const char **list = wf_arena_alloc(c->arena, c->count + 1, sizeof *list);
    if (!list)
        return wf_error_add(c->e, WF_MEMORY, "out of memory");
    memcpy(list, c->values, c->count * sizeof *list);
    *(const char *const **)at = list;
    return WF_OK;
}

static enum wf_status refuse_quantity(const struct conversion *c, const char *why)
{
    if (!c->row->without_end)
        return refuse(c, why);
    return wf_error_add(c->e, WF_USAGE, "option --%s: '%s' %s, or \"%s\"", c->row->name,
                        c->values[0], why, c->row->without_end);
}

static enum wf_status to_quantity(const struct conversion *c, void *at)
{
    char why[WF_REASON_MAX];
    const struct wf_option *row = c->row;
    double value = (double)NAN;
    if (c->count > 0 && row->without_end && strcmp(c->values[0], row->without_end) == 0) {
        *(double *)at = (double)INFINITY;
        return WF_OK;
    }
    if (c->count > 0 && !wf_quantity_parse(row->dimension, c->values[0], &value, why))
        return refuse_quantity(c, why);
    if (row->limits && (value < row->least || value > row->most))
        return wf_error_add(c->e, WF_USAGE, "option --%s: '%s' is outside %s", row->name,
                            c->values[0], row->limits);
    *(double *)at = value;
    return WF_OK;
}

static enum wf_status to_range(const struct conversion *c, void *at)
{
    char why[WF_REASON_MAX];
    struct wf_range range = wf_range_any();
    if (c->count > 0 &&
        !wf_range_parse(c->row->dimension, c->values[0], c->row->tolerance, &range, why))
        return refuse(c, why);
    *(struct wf_range *)at = range;
    return WF_OK;
}

static enum wf_status to_date(const struct conversion *c, void *at)
{
    long days = -1;
    if (c->count > 0 && !wf_date_parse(c->values[0], &days))
        return refuse(c, "is not a day, such as 2026-11-25");
    *(long *)at = days;
    return WF_OK;
}

/* ---- Choices --------------------------------------------------------------------------------- */

static enum wf_status refuse_choice(const struct conversion *c, const char *word)
{
    char all[256] = "";
    for (const char *const *w = c->row->words; *w; w++) {
        size_t used = strlen(all);
        wf_snprintf(all + used, sizeof all - used, "%s%s", used ? ", " : "", *w);
    }
    return wf_error_add(c->e, WF_USAGE, "option --%s: '%s' is not one of %s", c->row->name, word,
                        all);
}

static int index_of_choice(const struct wf_option *row, const char *word, size_t length)
{
    for (int i = 0; row->words[i]; i++)
        if (strlen(row->words[i]) == length && memcmp(row->words[i], word, length) == 0)
            return i;
    return -1;
}

static bool already_picked(const struct wf_choices *choices, int index)
{
    for (size_t i = 0; i < choices->count; i++)
        if (choices->picked[i] == index)
            return true;
    return false;
}

static enum wf_status to_choices(const struct conversion *c, void *at)
{
    struct wf_choices *choices = at;
    const char *word = c->count > 0 ? c->values[0] : NULL;
    while (word) {
        size_t length = c->row->many ? strcspn(word, ",") : strlen(word);
        int index = index_of_choice(c->row, word, length);
        if (index < 0) {
            char *copy = wf_arena_copy(c->arena, word, length);
            return refuse_choice(c, copy ? copy : word);
        }
        if (already_picked(choices, index) || choices->count == WF_CHOICES_MOST)
            return refuse(c, "names one of its words twice");
        choices->picked[choices->count++] = index;
        word = word[length] ? word + length + 1 : NULL;
    }
    return WF_OK;
}

enum wf_status wf_option_convert(const struct wf_option *row, const char *const *values,
                                 size_t count, void *at, struct wf_arena *arena, struct wf_error *e)
{
    static enum wf_status (*const convert[WF_OPTION_KIND_COUNT])(const struct conversion *,
                                                                 void *) = {
        [WF_OPTION_FLAG] = to_flag,       [WF_OPTION_TEXT] = to_text,
        [WF_OPTION_TEXTS] = to_texts,     [WF_OPTION_QUANTITY] = to_quantity,
        [WF_OPTION_RANGE] = to_range,     [WF_OPTION_DATE] = to_date,
        [WF_OPTION_CHOICES] = to_choices,
    };
    if (count == 0 && row->preset) {
        values = &row->preset;
        count = 1;
    }
    struct conversion c = {row, values, count, arena, e};
    return convert[row->kind](&c, at);
}
