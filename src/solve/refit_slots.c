/* refit_slots.c: a schedule as a brewer writes it. */
#include "wortfit/refit.h"

#include "base/alloc.h"
#include "base/ascii.h"
#include "base/number.h"
#include "base/try.h"
#include "pantry/hop_time.h"

#include <math.h>
#include <string.h>

#define TIMES_MOST 16

struct reading {
    struct wf_arena *arena;
    struct wf_error *e;
};

/* ---- Words ----------------------------------------------------------------------------------- */

/* The piece up to `end`, without blanks around it. */
static char *trimmed(struct wf_arena *a, const char *from, const char *end)
{
    from = wf_ascii_skip_blanks(from);
    while (end > from && wf_ascii_blank(end[-1]))
        end--;
    return wf_arena_copy(a, from, end > from ? (size_t)(end - from) : 0);
}

/* The end of the word that starts here, or of the text. */
static const char *word_end(const char *text)
{
    while (*text != '\0' && !wf_ascii_blank(*text))
        text++;
    return text;
}

/* ---- Times ----------------------------------------------------------------------------------- */

/* The unit at the end of a list of times, "min", which serves all of them. */
static const char *unit_of(const char *text)
{
    const char *unit = text + strlen(text);
    while (unit > text && wf_ascii_letter(unit[-1]))
        unit--;
    return unit;
}

static bool parse_one(const char *part, size_t length, const char *unit, struct wf_hop_time *out)
{
    char text[64], why[WF_REASON_MAX];
    if (length == 0 || length + strlen(unit) + 2 > sizeof text)
        return false;
    bool bare = !wf_ascii_letter(part[length - 1]);
    wf_snprintf(text, sizeof text, "%.*s%s%s", (int)length, part, bare ? " " : "",
                bare ? unit : "");
    return wf_hop_time_parse(text, out, why);
}

/* "60|45|30 min" into minutes; false where it is no list of boil times. */
static bool parse_list(const char *text, double *minutes, size_t *count)
{
    const char *unit = unit_of(text);
    *count = 0;
    while (*count < TIMES_MOST) {
        size_t length = strcspn(text, "|"), used = length;
        struct wf_hop_time t;
        while (used > 0 && wf_ascii_blank(text[used - 1]))
            used--;
        if (!parse_one(wf_ascii_skip_blanks(text),
                       used - (size_t)(wf_ascii_skip_blanks(text) - text), unit, &t) ||
            t.use != WF_HOP_BOIL)
            return false;
        minutes[(*count)++] = t.minutes;
        if (text[length] == '\0')
            return true;
        text += length + 1;
    }
    return false;
}

static bool parse_times(const char *text, struct wf_refit_slot *slot, double *minutes)
{
    struct wf_hop_time t;
    char why[WF_REASON_MAX];
    if (strchr(text, '|') != NULL) {
        slot->use = WF_HOP_BOIL;
        return parse_list(text, minutes, &slot->minute_count);
    }
    if (!wf_hop_time_parse(text, &t, why))
        return false;
    slot->use = t.use;
    slot->celsius = t.celsius;
    slot->days = t.days;
    minutes[0] = t.minutes;
    slot->minute_count = 1;
    return true;
}

/* The longest beginning that is a time, word by word; *rest is what follows it. */
static bool take_times(struct wf_arena *a, const char *text, struct wf_refit_slot *slot,
                       double *minutes, const char **rest)
{
    bool found = false;
    for (const char *end = word_end(text); end > text;) {
        struct wf_refit_slot tried = *slot;
        double times[TIMES_MOST];
        char *part = trimmed(a, text, end);
        if (part != NULL && parse_times(part, &tried, times)) {
            *slot = tried;
            memcpy(minutes, times, sizeof times);
            *rest = end;
            found = true;
        }
        const char *next = word_end(wf_ascii_skip_blanks(end));
        if (next == end || *end == '\0')
            break;
        end = next;
    }
    return found;
}

/* ---- Hop and dose ---------------------------------------------------------------------------- */

static bool is_dose(const char *text, struct wf_refit_slot *slot)
{
    char why[WF_REASON_MAX];
    double kg;
    if (strcmp(text, "keep") == 0) {
        slot->keep = true;
        return true;
    }
    if (!wf_ascii_digit(*text))
        return false;
    if (wf_quantity_parse(WF_DIM_MASS, text, &kg, why)) {
        slot->grams = 1000 * kg;
        return kg > 0;
    }
    return wf_quantity_parse(WF_DIM_DOSE, text, &slot->dose, why) && slot->dose > 0;
}

/* The shortest beginning after which a dose follows is the hop; without a dose all of it is. */
static bool take_hop(struct wf_arena *a, const char *text, struct wf_refit_slot *slot)
{
    text = wf_ascii_skip_blanks(text);
    const char *end = text;
    while (*end != '\0' && !is_dose(wf_ascii_skip_blanks(end), slot))
        end = word_end(wf_ascii_skip_blanks(end));
    char *hop = trimmed(a, text, end);
    if (hop == NULL)
        return false;
    slot->hop = *hop != '\0' ? hop : NULL;
    return true;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status read_slot(const struct reading *r, const char *text,
                                struct wf_refit_slot *slot)
{
    double minutes[TIMES_MOST] = {0};
    const char *rest = text;
    *slot = (struct wf_refit_slot){.grams = NAN, .dose = NAN, .text = text};
    if (!take_times(r->arena, text, slot, minutes, &rest))
        return wf_error_add(r->e, WF_USAGE,
                            "schedule: '%s' does not begin with a time: write \"60 min\", "
                            "\"60|45|30 min\", \"first wort\", \"stand 20 min 80 C\" or \"dry 4 "
                            "days\", then a hop and its weight where they are fixed",
                            text);
    double *kept = wf_arena_alloc(r->arena, slot->minute_count, sizeof *kept);
    if (kept == NULL || !take_hop(r->arena, rest, slot))
        return wf_error_add(r->e, WF_MEMORY, "out of memory");
    memcpy(kept, minutes, slot->minute_count * sizeof *kept);
    slot->minutes = kept;
    return WF_OK;
}

static enum wf_status read_all(const struct reading *r, const char *text, struct wf_refit_slots *s)
{
    size_t room = 1;
    for (const char *c = text; *c != '\0'; c++)
        room += *c == ',';
    s->list = wf_arena_alloc(s->arena, room, sizeof *s->list);
    if (s->list == NULL)
        return wf_error_add(r->e, WF_MEMORY, "out of memory");
    while (s->count < room) {
        const char *end = text + strcspn(text, ",");
        char *part = trimmed(s->arena, text, end);
        if (part == NULL)
            return wf_error_add(r->e, WF_MEMORY, "out of memory");
        WF_TRY(read_slot(r, part, &s->list[s->count++]));
        text = *end != '\0' ? end + 1 : end;
    }
    return WF_OK;
}

enum wf_status wf_refit_slots_parse(const char *text, struct wf_refit_slots **out,
                                    struct wf_error *e)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_refit_slots *s = arena == NULL ? NULL : wf_arena_alloc(arena, 1, sizeof *s);
    *out = NULL;
    if (s == NULL) {
        wf_arena_free(arena);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    s->arena = arena;
    const struct reading r = {arena, e};
    enum wf_status status = read_all(&r, text, s);
    if (status == WF_OK)
        *out = s;
    else
        wf_refit_slots_free(s);
    return status;
}

void wf_refit_slots_free(struct wf_refit_slots *s)
{
    if (s != NULL)
        wf_arena_free(s->arena);
}
