/* brew_take.c: what was really taken of a recipe's lots, in place of what it says. */
#include "wortfit/brew.h"

#include "base/try.h"

#include <string.h>

/* Reads the amount behind "ID="; WF_USAGE with what would be right. */
static enum wf_status read_amount(const char *given, enum wf_dimension d, const char *amount,
                                  double *out, struct wf_error *e)
{
    char why[WF_REASON_MAX];
    if (wf_quantity_parse(d, amount, out, why))
        return WF_OK;
    return wf_error_add(e, WF_USAGE, "what was used: read \"%.100s\", whose amount %s", given, why);
}

static bool is(const char *id, const char *given, size_t length)
{
    return id && strlen(id) == length && memcmp(id, given, length) == 0;
}

/* The lines of a lot get so much together, each its part as before. */
static void take_malt(struct wf_recipe *r, const char *id, size_t length, double kg)
{
    double before = 0;
    size_t count = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        if (is(r->malts[i].id, id, length)) {
            before += r->malts[i].kg;
            count++;
        }
    for (size_t i = 0; i < r->malt_count; i++)
        if (is(r->malts[i].id, id, length))
            r->malts[i].kg = before > 0 ? kg * (r->malts[i].kg / before) : kg / (double)count;
}

static void take_hop(struct wf_recipe *r, const char *id, size_t length, double grams)
{
    double before = 0;
    size_t count = 0;
    for (size_t i = 0; i < r->hop_count; i++)
        if (is(r->hops[i].id, id, length)) {
            before += r->hops[i].grams;
            count++;
        }
    for (size_t i = 0; i < r->hop_count; i++)
        if (is(r->hops[i].id, id, length))
            r->hops[i].grams =
                before > 0 ? grams * (r->hops[i].grams / before) : grams / (double)count;
}

static bool has_malt(const struct wf_recipe *r, const char *id, size_t length)
{
    for (size_t i = 0; i < r->malt_count; i++)
        if (is(r->malts[i].id, id, length))
            return true;
    return false;
}

static bool has_hop(const struct wf_recipe *r, const char *id, size_t length)
{
    for (size_t i = 0; i < r->hop_count; i++)
        if (is(r->hops[i].id, id, length))
            return true;
    return false;
}

static enum wf_status take_one(struct wf_recipe *r, const char *given, double *packs,
                               struct wf_error *e)
{
    const char *equals = strchr(given, '=');
    size_t length = equals ? (size_t)(equals - given) : 0;
    double amount;
    if (length == 0)
        return wf_error_add(e, WF_USAGE, "what was used: '%.100s' is not ID=AMOUNT", given);
    if (has_malt(r, given, length)) {
        WF_TRY(read_amount(given, WF_DIM_MASS, equals + 1, &amount, e));
        take_malt(r, given, length, amount);
    } else if (has_hop(r, given, length)) {
        WF_TRY(read_amount(given, WF_DIM_MASS, equals + 1, &amount, e));
        take_hop(r, given, length, 1000 * amount);
    } else if (is(r->yeast.id, given, length)) {
        WF_TRY(read_amount(given, WF_DIM_NUMBER, equals + 1, packs, e));
    } else {
        return wf_error_add(e, WF_BAD_INPUT,
                            "what was used: the recipe has no '%.*s'; only what it takes can be "
                            "told otherwise",
                            (int)(length < 100 ? length : 100), given);
    }
    return WF_OK;
}

enum wf_status wf_recipe_take(struct wf_recipe *r, const char *const *used, double *packs,
                              struct wf_error *e)
{
    if (!used)
        return WF_OK;
    for (; *used; used++)
        WF_TRY(take_one(r, *used, packs, e));
    return wf_recipe_predict(r, e);
}
