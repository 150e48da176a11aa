/* hop_time.c: see hop_time.h. */
#include "pantry/hop_time.h"

#include "pantry/limits.h"

#include "base/ascii.h"
#include "base/number.h"

#include <string.h>

#define PART_MAX 32

static bool refuse(char why[WF_REASON_MAX])
{
    wf_snprintf(why, WF_REASON_MAX,
                "needs \"60 min\", \"first wort\", \"stand 20 min 80 C\" or \"dry 4 days\"");
    return false;
}

/* Where the figure at the start of `text` ends: its number, its unit. */
static size_t figure_length(const char *text)
{
    size_t n = 0;
    while (wf_ascii_digit(text[n]) || text[n] == '.')
        n++;
    while (wf_ascii_blank(text[n]))
        n++;
    while (wf_ascii_letter(text[n]))
        n++;
    return n;
}

/* One figure of at most `most` at *text, which then is what follows it. */
static bool take_figure(const char **text, enum wf_dimension d, double most, double *out,
                        char why[WF_REASON_MAX])
{
    char part[PART_MAX], limit[PART_MAX];
    while (wf_ascii_blank(**text))
        (*text)++;
    size_t length = figure_length(*text);
    if (!wf_ascii_digit(**text) || length >= sizeof part)
        return refuse(why);
    memcpy(part, *text, length);
    part[length] = '\0';
    *text += length;
    if (!wf_quantity_parse(d, part, out, why))
        return false;
    if (*out <= most)
        return true;
    wf_quantity_print(d, most, WF_UNITS_METRIC, limit, sizeof limit);
    wf_snprintf(why, WF_REASON_MAX, "has \"%s\", more than %s", part, limit);
    return false;
}

static bool take_word(const char **text, const char *word)
{
    size_t length = strlen(word);
    if (strncmp(*text, word, length) != 0)
        return false;
    *text += length;
    return true;
}

bool wf_hop_time_parse(const char *text, struct wf_hop_time *out, char why[WF_REASON_MAX])
{
    struct wf_hop_time t = {0};
    bool good = true;
    if (take_word(&text, "first wort")) {
        t.use = WF_HOP_FIRST_WORT;
    } else if (take_word(&text, "stand ")) {
        t.use = WF_HOP_STAND;
        good = take_figure(&text, WF_DIM_TIME, WF_MOST_MINUTES, &t.minutes, why) &&
               take_figure(&text, WF_DIM_TEMPERATURE, WF_MOST_STAND_C, &t.celsius, why);
    } else if (take_word(&text, "dry ")) {
        t.use = WF_HOP_DRY;
        good = take_figure(&text, WF_DIM_DAYS, WF_MOST_DRY_DAYS, &t.days, why);
    } else {
        t.use = WF_HOP_BOIL;
        good = take_figure(&text, WF_DIM_TIME, WF_MOST_MINUTES, &t.minutes, why);
    }
    if (!good)
        return false;
    if (*text != '\0')
        return refuse(why);
    *out = t;
    return true;
}
