/* beer_filter.c: see beer_filter.h. */
#include "cli/beer_filter.h"

#include "base/try.h"
#include "cli/lister.h"

#include <string.h>

/* What the guideline gives, or else the target; a beer without either might be anything. */
static struct wf_range usual(struct wf_range guideline, struct wf_range wanted)
{
    return wf_range_is_any(guideline) ? wanted : guideline;
}

static bool wishes_hold(const struct wf_word_wish *wishes, size_t count, const char *word)
{
    for (size_t i = 0; i < count; i++)
        if (wishes[i].index.low > 0 && strcmp(wf_word_name(wishes[i].word), word) == 0)
            return true;
    return false;
}

static bool is_described_so(const struct wf_target *t, const char *word)
{
    const char *const texts[] = {t->id, t->name, t->group, t->about, t->note};
    for (size_t i = 0; i < WF_COUNT_OF(texts); i++)
        if (wf_text_holds(texts[i], word))
            return true;
    for (size_t i = 0; i < t->slot_count; i++)
        if (wishes_hold(t->slots[i].wishes, t->slots[i].wish_count, word))
            return true;
    return wishes_hold(t->wishes, t->wish_count, word);
}

bool wf_beer_filter_keeps(const struct wf_beer_filter *f, const struct wf_target *t)
{
    return wf_ranges_meet(usual(t->guideline.og, t->og), f->og) &&
           wf_ranges_meet(usual(t->guideline.colour, t->colour), f->colour) &&
           wf_ranges_meet(usual(t->guideline.abv, t->abv), f->abv) &&
           (f->group == NULL || wf_text_holds(t->group, f->group)) &&
           (f->word == NULL || is_described_so(t, f->word));
}

enum wf_status wf_beers_read_all(const struct wf_catalogue *c, struct wf_target **beers,
                                 size_t *count, struct wf_error *e)
{
    for (*count = 0; *count < wf_target_builtin_count(); ++*count)
        WF_TRY(wf_target_builtin(*count, c, &beers[*count], e));
    return WF_OK;
}
