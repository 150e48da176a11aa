/* more_less.c: see more_less.h. */
#include "cli/more_less.h"

#include "base/number.h"
#include "base/suggest.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

#define NAME_MOST 40
#define NOTHING   0.05 /* an index that is none */

/* What can be wished beside the words of character. */
enum figure { BITTERNESS, STRENGTH, COLOUR, FIGURE_COUNT };

static const struct {
    const char *name;
    enum wf_dimension dimension; /* of "by" */
    double scale;                /* from that to the figure's own unit */
    double bit, tolerance;
} figure_row[] = {
    [BITTERNESS] = {"bitterness", WF_DIM_BITTERNESS, 1, WF_BIT_BITTERNESS, WF_TOLERANCE_BITTERNESS},
    [STRENGTH] = {"strength", WF_DIM_NUMBER, 0.001, WF_BIT_STRENGTH, WF_TOLERANCE_GRAVITY},
    [COLOUR] = {"colour", WF_DIM_BEER_COLOUR, 1, WF_BIT_COLOUR, WF_TOLERANCE_COLOUR},
};

struct wish {
    const char *option, *text;
    char name[NAME_MOST];
    const char *by; /* what follows "by"; NULL: a bit */
    double sign;
    double was, bit, tolerance, scale;
    enum wf_dimension dimension;
    struct wf_range *at; /* where the wish goes */
    struct wf_error *e;
};

static enum wf_status split(struct wish *w)
{
    const char *by = strstr(w->text, " by ");
    size_t length = by ? (size_t)(by - w->text) : strlen(w->text);
    while (length > 0 && w->text[length - 1] == ' ')
        length--;
    if (length >= sizeof w->name)
        length = sizeof w->name - 1;
    memcpy(w->name, w->text, length);
    w->name[length] = '\0';
    w->by = by ? by + 4 : NULL;
    return WF_OK;
}

static enum wf_status unknown(const struct wish *w)
{
    const char *names[WF_WORD_COUNT + FIGURE_COUNT];
    int count = 0;
    for (int i = 0; i < WF_WORD_COUNT; i++)
        names[count++] = wf_word_name((enum wf_word)i);
    for (int i = 0; i < FIGURE_COUNT; i++)
        names[count++] = figure_row[i].name;
    int near = wf_suggest(w->name, names, (size_t)count);
    if (near >= 0)
        return wf_error_add(w->e, WF_USAGE, "option --%s: '%s' is no word, did you mean '%s'?",
                            w->option, w->name, names[near]);
    return wf_error_add(w->e, WF_USAGE,
                        "option --%s: '%s' is no word of character (see 'wortfit words'), nor "
                        "bitterness, strength or colour",
                        w->option, w->name);
}

static bool find_word(struct wish *w, const struct wf_recipe *r, struct wf_revision *v)
{
    for (int i = 0; i < WF_WORD_COUNT; i++) {
        if (strcmp(wf_word_name((enum wf_word)i), w->name) != 0)
            continue;
        w->was = r->character[i];
        w->bit = WF_BIT_INDEX;
        w->tolerance = WF_TOLERANCE_INDEX;
        w->scale = 1;
        w->dimension = WF_DIM_NUMBER;
        w->at = &v->words[i];
        return true;
    }
    return false;
}

static bool find_figure(struct wish *w, const struct wf_recipe *r, struct wf_revision *v)
{
    const double was[] = {
        [BITTERNESS] = r->predicted.ibu, [STRENGTH] = r->predicted.og, [COLOUR] = r->predicted.srm};
    struct wf_range *at[] = {
        [BITTERNESS] = &v->bitterness, [STRENGTH] = &v->og, [COLOUR] = &v->colour};
    const char *name = strcmp(w->name, "color") == 0 ? "colour" : w->name;
    for (int i = 0; i < FIGURE_COUNT; i++) {
        if (strcmp(figure_row[i].name, name) != 0)
            continue;
        w->was = was[i];
        w->bit = figure_row[i].bit;
        w->tolerance = figure_row[i].tolerance;
        w->scale = figure_row[i].scale;
        w->dimension = figure_row[i].dimension;
        w->at = at[i];
        return true;
    }
    return false;
}

/* How much more or less, in the figure's own unit. */
static enum wf_status amount_of(const struct wish *w, double *amount)
{
    char why[WF_REASON_MAX];
    double value;
    bool strength = w->at && w->scale < 1;
    if (strchr(w->by, '%')) {
        if (!wf_quantity_parse(WF_DIM_SHARE, w->by, &value, why))
            return wf_error_add(w->e, WF_USAGE, "option --%s: '%s' %s", w->option, w->by, why);
        *amount = value * (strength ? w->was - 1 : w->was);
    } else {
        if (!wf_quantity_parse(w->dimension, w->by, &value, why))
            return wf_error_add(w->e, WF_USAGE, "option --%s: '%s' %s, or a part: \"50 %%\"",
                                w->option, w->by, why);
        *amount = value * w->scale;
    }
    if (!(*amount > 0))
        return wf_error_add(w->e, WF_USAGE,
                            "option --%s: '%s' changes nothing: there is no %s that this is a "
                            "part of, or it is 0",
                            w->option, w->text, w->name);
    return WF_OK;
}

static enum wf_status set_range(struct wish *w)
{
    double floor = w->scale < 1 ? 1 : 0, amount = 0, low, high;
    if (w->by) {
        WF_TRY(amount_of(w, &amount));
        low = w->was + w->sign * amount - w->tolerance;
        high = w->was + w->sign * amount + w->tolerance;
    } else {
        double less = w->sign > 0 ? w->bit : -1.5 * w->bit;
        low = w->was + less;
        high = low + 0.5 * w->bit;
    }
    if (w->sign < 0 && w->was <= floor + NOTHING * w->scale)
        return wf_error_add(w->e, WF_USAGE,
                            "option --%s: there is no %s in the recipe to take away", w->option,
                            w->name);
    *w->at =
        (struct wf_range){fmax(floor, low), fmax(high, floor + NOTHING * w->scale), (double)NAN};
    return WF_OK;
}

enum wf_status wf_more_less_parse(const char *option, const char *text, int sign,
                                  const struct wf_recipe *r, struct wf_revision *v,
                                  struct wf_error *e)
{
    struct wish w = {.option = option, .text = text, .sign = sign, .e = e};
    WF_TRY(split(&w));
    if (!find_word(&w, r, v) && !find_figure(&w, r, v))
        return unknown(&w);
    if (!wf_range_is_any(*w.at))
        return wf_error_add(e, WF_USAGE, "%s is asked for twice: once is enough", w.name);
    return set_range(&w);
}
