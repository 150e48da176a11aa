/* json_value.c: readers of texts, words, dates, counts, figures and ranges. */
#include "pantry/json_reading.h"

#include "base/alloc.h"
#include "base/ascii.h"
#include "base/date.h"
#include "base/number.h"
#include "base/utf8.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <string.h>

#define TEXT_MOST 1000u /* bytes of a text whose row gives no limit */
#define ID_MOST   64

static void *place(const struct wf_json_field *f, void *at)
{
    return (char *)at + f->offset;
}

/* ---- Texts ----------------------------------------------------------------------------------- */

static bool is_plain(const char *text)
{
    while (*text >= 0x20 && *text < 0x7F)
        text++;
    return *text == '\0';
}

/* A copy of a text that may be shown anywhere, or NULL after refusing it. */
static char *copy_text(struct wf_json *j, const cJSON *node, double most)
{
    if (!cJSON_IsString(node)) {
        wf_json_refuse_read(j, node, "needs a text in double quotes");
        return NULL;
    }
    size_t length = strlen(node->valuestring);
    size_t limit = most > 0 ? (size_t)most : TEXT_MOST;
    if (length == 0 || length > limit) {
        wf_json_refuse_read(j, node, "needs a text of 1 to %zu bytes", limit);
        return NULL;
    }
    char *copy = wf_arena_alloc(j->arena, length + 1, 1);
    if (!copy) {
        wf_json_no_memory(j);
        return NULL;
    }
    if (is_plain(node->valuestring))
        return memcpy(copy, node->valuestring, length);
    wf_utf8_safe(node->valuestring, length, copy, length + 1);
    if (memcmp(copy, node->valuestring, length) == 0)
        return copy;
    wf_json_refuse_read(j, node, "holds a control character; write plain text");
    return NULL;
}

bool wf_json_is_id(const char *text)
{
    const char *start = text;
    char before = '-';
    for (; *text; before = *text++) {
        bool letter = wf_ascii_letter(*text) && *text == wf_ascii_lower(*text);
        if (!letter && !wf_ascii_digit(*text) && (*text != '-' || before == '-'))
            return false;
    }
    return before != '-' && text - start <= ID_MOST;
}

/* The id that the text would make, or an example. */
static void propose_id(const char *text, char out[ID_MOST + 1])
{
    size_t used = 0;
    for (; *text && used < ID_MOST; text++) {
        char c = wf_ascii_lower(*text);
        if (wf_ascii_letter(c) || wf_ascii_digit(c))
            out[used++] = c;
        else if (used > 0 && out[used - 1] != '-')
            out[used++] = '-';
    }
    while (used > 0 && out[used - 1] == '-')
        used--;
    out[used] = '\0';
    if (used == 0)
        wf_snprintf(out, ID_MOST + 1, "house-malt");
}

static char *copy_id(struct wf_json *j, const cJSON *node)
{
    char proposal[ID_MOST + 1];
    const char *text = wf_json_string(node);
    if (!text || wf_json_is_id(text))
        return copy_text(j, node, ID_MOST);
    propose_id(text, proposal);
    wf_json_refuse_read(j, node,
                        "an id has small letters, digits and single hyphens, such as "
                        "\"%s\"",
                        proposal);
    return NULL;
}

void wf_json_text(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    const char *copy = copy_text(j, node, f->high);
    if (copy)
        *(const char **)place(f, at) = copy;
}

void wf_json_id(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    const char *copy = copy_id(j, node);
    if (copy)
        *(const char **)place(f, at) = copy;
}

/* A single text stands for a list of one. */
static void read_texts(struct wf_json *j, const struct wf_json_field *f, const cJSON *node,
                       void *at, bool ids)
{
    bool list = cJSON_IsArray(node);
    if (!list && !cJSON_IsString(node)) {
        wf_json_refuse_read(j, node, "needs a list of texts, such as [\"first\", \"second\"]");
        return;
    }
    size_t count = list ? (size_t)cJSON_GetArraySize(node) : 1;
    if (!wf_json_check_count(j, f, node, count))
        return;
    const char **texts = wf_arena_alloc(j->arena, count + 1, sizeof *texts);
    if (!texts) {
        wf_json_no_memory(j);
        return;
    }
    *(const char *const **)place(f, at) = texts;
    for (const cJSON *child = list ? node->child : node; child; child = list ? child->next : NULL) {
        const char *copy = ids ? copy_id(j, child) : copy_text(j, child, 0);
        if (copy)
            *texts++ = copy;
    }
}

void wf_json_ids(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    read_texts(j, f, node, at, true);
}

void wf_json_texts(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    read_texts(j, f, node, at, false);
}

/* ---- Words, yes and no, dates, counts -------------------------------------------------------- */

static void refuse_word(struct wf_json *j, const struct wf_json_field *f, const cJSON *node)
{
    char list[WF_REASON_MAX], hint[WF_REASON_MAX] = "";
    const char *text = wf_json_string(node);
    size_t count = 0;
    while (f->words[count])
        count++;
    if (text)
        wf_json_nearest(text, f->words, count, hint);
    wf_json_refuse_read(j, node, "must be one of %s%s", wf_json_join(f->words, count, list), hint);
}

void wf_json_word(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    const char *text = wf_json_string(node);
    for (int i = 0; text && f->words[i]; i++)
        if (strcmp(f->words[i], text) == 0) {
            *(int *)place(f, at) = i;
            return;
        }
    refuse_word(j, f, node);
}

void wf_json_bool(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    if (cJSON_IsBool(node))
        *(bool *)place(f, at) = cJSON_IsTrue(node);
    else
        wf_json_refuse_read(j, node, "must be true or false, without quotes");
}

void wf_json_date(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    const char *text = wf_json_string(node);
    long days;
    if (text && wf_date_parse(text, &days))
        *(long *)place(f, at) = days;
    else
        wf_json_refuse_read(j, node, "needs a date as year, month and day, such as \"2026-03-01\"");
}

void wf_json_count(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    double value = cJSON_IsNumber(node) ? node->valuedouble : (double)NAN;
    if (value >= f->low && value <= f->high && value == floor(value))
        *(int *)place(f, at) = (int)value;
    else
        wf_json_refuse_read(j, node, "needs a whole number from %.0f to %.0f", f->low, f->high);
}

/* ---- Figures --------------------------------------------------------------------------------- */

static double scale_of(const struct wf_json_field *f)
{
    return f->scale > 0 ? f->scale : 1;
}

/* A number where a unit is needed: the reason names what would be right. A share is often written
 * as a fraction. */
static void refuse_bare(struct wf_json *j, const struct wf_json_field *f, const cJSON *node)
{
    char text[WF_NUMBER_TEXT_MAX], why[WF_REASON_MAX];
    double figure = node->valuedouble, ignored;
    if (f->dimension == WF_DIM_SHARE && fabs(figure) <= 1)
        figure *= 100;
    if (!wf_number_print(figure, text) || wf_quantity_parse(f->dimension, text, &ignored, why))
        wf_json_refuse_read(j, node, "needs %s with its unit, such as \"%s\"",
                            wf_dimension_called(f->dimension), wf_dimension_example(f->dimension));
    else
        wf_json_refuse_which(j, node, why);
}

static void refuse_negative(struct wf_json *j, const struct wf_json_field *f, const cJSON *node)
{
    wf_json_refuse_read(j, node, "%s cannot be negative, write for example \"%s\"",
                        wf_dimension_called(f->dimension), wf_dimension_example(f->dimension));
}

#define LIMIT_TEXT_MAX 64

/* A limit as the value was written: plain, or with its unit. */
static char *print_limit(const struct wf_json_field *f, const cJSON *node, double limit,
                         char out[LIMIT_TEXT_MAX])
{
    if (f->dimension == WF_DIM_NUMBER || (f->plain && cJSON_IsNumber(node)))
        wf_snprintf(out, LIMIT_TEXT_MAX, "%g", limit * scale_of(f));
    else
        wf_quantity_print(f->dimension, limit, WF_UNITS_METRIC, out, LIMIT_TEXT_MAX);
    return out;
}

/* What a change of units may lose: 95 % is 0.9500000000000001. */
#define LAST_DIGITS 1e-12

static bool check_figure(struct wf_json *j, const struct wf_json_field *f, const cJSON *node,
                         double *figure)
{
    char low[LIMIT_TEXT_MAX], high[LIMIT_TEXT_MAX];
    double held = fmin(fmax(*figure, f->low), f->high);
    if (fabs(*figure - held) <= LAST_DIGITS * fabs(held)) {
        *figure = held;
        return true;
    }
    if (*figure < 0 && f->low >= 0)
        refuse_negative(j, f, node);
    else
        wf_json_refuse_read(j, node, "must be from %s to %s", print_limit(f, node, f->low, low),
                            print_limit(f, node, f->high, high));
    return false;
}

/* A text that is no figure of the dimension; `why` speaks of it. */
static void refuse_text(struct wf_json *j, const struct wf_json_field *f, const cJSON *node,
                        const char *why)
{
    const char *end;
    double figure;
    if (wf_number_parse(node->valuestring, &end, &figure) && figure < 0 && f->low >= 0)
        refuse_negative(j, f, node);
    else
        wf_json_refuse_which(j, node, why);
}

void wf_json_quantity(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    char why[WF_REASON_MAX];
    double figure;
    if (cJSON_IsString(node)) {
        if (!wf_quantity_parse(f->dimension, node->valuestring, &figure, why)) {
            refuse_text(j, f, node, why);
            return;
        }
    } else if (!cJSON_IsNumber(node)) {
        wf_json_refuse_read(j, node, "needs %s, such as \"%s\"", wf_dimension_called(f->dimension),
                            wf_dimension_example(f->dimension));
        return;
    } else if (f->plain) {
        figure = node->valuedouble / scale_of(f);
    } else if (wf_dimension_is_bare(f->dimension)) {
        figure = node->valuedouble;
    } else {
        refuse_bare(j, f, node);
        return;
    }
    if (check_figure(j, f, node, &figure))
        *(double *)place(f, at) = figure * scale_of(f);
}

static bool parse_range(struct wf_json *j, const struct wf_json_field *f, const cJSON *node,
                        struct wf_range *r)
{
    char why[WF_REASON_MAX], number[WF_NUMBER_TEXT_MAX];
    const char *text = wf_json_string(node);
    if (cJSON_IsNumber(node)) {
        if (!wf_dimension_is_bare(f->dimension)) {
            refuse_bare(j, f, node);
            return false;
        }
        text = wf_number_print(node->valuedouble, number) ? number : NULL;
    }
    if (!text) {
        wf_json_refuse_read(j, node, "needs %s or a range, such as \"%s\"",
                            wf_dimension_called(f->dimension), wf_dimension_example(f->dimension));
        return false;
    }
    if (!wf_range_parse(f->dimension, text, f->tolerance, r, why)) {
        wf_json_refuse_which(j, node, why);
        return false;
    }
    return true;
}

/* The ends that a tolerance makes may pass a limit, which then is the end. */
void wf_json_range(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    struct wf_range r;
    if (!parse_range(j, f, node, &r))
        return;
    if (!isnan(r.aim)) {
        if (!check_figure(j, f, node, &r.aim))
            return;
        r.low = fmax(r.low, f->low);
        r.high = fmin(r.high, f->high);
    } else if ((isfinite(r.low) && !check_figure(j, f, node, &r.low)) ||
               (isfinite(r.high) && !check_figure(j, f, node, &r.high))) {
        return;
    }
    *(struct wf_range *)place(f, at) = r;
}
