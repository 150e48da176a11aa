/* svg_boil.c: the boil as a time line: one row an addition. */
#include "report/sheet.h"
#include "report/svg_parts.h"

#include "base/number.h"
#include "base/utf8.h"

#include <string.h>

#define ROW         22.0
#define LEFT        8.0
#define LABEL_BYTES 32

static bool on_clock(const struct wf_brewday_addition *a)
{
    return a->what != WF_ADD_HOP || a->use == WF_HOP_FIRST_WORT || a->use == WF_HOP_BOIL;
}

static double at(const struct wf_brewday *d, double clock)
{
    double share = d->boil_minutes > 0 ? clock / d->boil_minutes : 0;
    return LEFT + share * (WF_SVG_WIDTH - 2 * LEFT);
}

/* Steps of the scale, at most seven of them. */
static double step_of(double minutes)
{
    static const double steps[] = {1, 2, 5, 10, 15, 20, 30, 60, 120, 240};
    size_t i = 0;
    while (i + 1 < sizeof steps / sizeof steps[0] && minutes / steps[i] > 7)
        i++;
    return steps[i];
}

static void add_scale(struct wf_html *h, const struct wf_brewday *d, double y)
{
    double step = step_of(d->boil_minutes);
    char text[16];
    wf_svg_line(h, at(d, 0), y, at(d, d->boil_minutes), y, WF_SVG_INK);
    for (int i = 0; i * step <= d->boil_minutes; i++) {
        double x = at(d, i * step);
        wf_svg_line(h, x, 4, x, y + 4, "#c9ced4");
        wf_snprintf(text, sizeof text, "%.0f", i * step);
        wf_svg_text(h, x, y + 18, i == 0 ? WF_SVG_START : WF_SVG_MIDDLE, text);
    }
}

static void add_one(struct wf_html *h, const struct wf_brewday *d,
                    const struct wf_brewday_addition *a, double y)
{
    char name[LABEL_BYTES];
    double x = at(d, a->clock);
    bool early = a->clock <= d->boil_minutes / 2;
    wf_utf8_safe(a->name, strlen(a->name), name, sizeof name);
    wf_svg_dot(h, x, y - 4, WF_SVG_BAR);
    wf_svg_text(h, early ? x + 9 : x - 9, y, early ? WF_SVG_START : WF_SVG_END, name);
}

void wf_svg_boil(struct wf_html *h, const struct wf_sheet *s)
{
    const struct wf_brewday *d = s->day;
    size_t count = 0;
    for (size_t i = 0; i < d->addition_count; i++)
        count += on_clock(&d->additions[i]);
    if (count == 0 || !(d->boil_minutes > 0))
        return;
    double y = 0, foot = ROW * (double)count + 10;
    wf_svg_begin(h, "The boil as a time line", foot + 24);
    add_scale(h, d, foot);
    for (size_t i = 0; i < d->addition_count; i++)
        if (on_clock(&d->additions[i]))
            add_one(h, d, &d->additions[i], y += ROW);
    wf_svg_end(h, "Minutes since the boil began, and what goes in when: the table below says the "
                  "same");
}
