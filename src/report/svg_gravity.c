/* svg_gravity.c: gravities of the day on one scale, and the window that the beer asks for. */
#include "report/sheet.h"
#include "report/svg_parts.h"

#include "base/number.h"

#include <math.h>

#define ROW     24.0
#define LEFT    132.0 /* room for labels */
#define RIGHT   18.0
#define HEAD    22.0
#define SG_STEP 0.020

struct scale {
    double low, high;
};

static double at(struct scale s, double sg)
{
    double share = (sg - s.low) / (s.high - s.low);
    double held = share < 0 ? 0 : share > 1 ? 1 : share;
    return LEFT + held * (WF_SVG_WIDTH - LEFT - RIGHT);
}

static void add_row(struct wf_html *h, struct scale scale, size_t row, const char *what, double sg)
{
    char label[64];
    double y = HEAD + ROW * (double)row;
    wf_snprintf(label, sizeof label, "%s %.3f", what, sg);
    wf_svg_line(h, LEFT, y + 10, WF_SVG_WIDTH - RIGHT, y + 10, "#c9ced4");
    wf_svg_text(h, 0, y + 14, WF_SVG_START, label);
    wf_svg_dot(h, at(scale, sg), y + 10, WF_SVG_BAR);
}

/* The window may be open at an end, or a single value. */
static void add_window(struct wf_html *h, struct scale scale, struct wf_range w, double height)
{
    double low = at(scale, fmax(w.low, scale.low)), high = at(scale, fmin(w.high, scale.high));
    if (wf_range_is_any(w))
        return;
    wf_svg_rect(h, low, HEAD, fmax(high - low, 2), height, WF_SVG_PALE);
    wf_svg_text(h, fmin(fmax((low + high) / 2, LEFT + 20), WF_SVG_WIDTH - 24), HEAD - 8,
                WF_SVG_MIDDLE, "window");
}

static void add_scale(struct wf_html *h, struct scale scale, double y)
{
    char text[16];
    for (int i = 0; scale.low + i * SG_STEP <= scale.high + 1e-9; i++) {
        double sg = scale.low + i * SG_STEP;
        wf_snprintf(text, sizeof text, "%.3f", sg);
        wf_svg_text(h, at(scale, sg), y, WF_SVG_MIDDLE, text);
    }
}

void wf_svg_gravity(struct wf_html *h, const struct wf_sheet *s)
{
    const struct wf_brewday *d = s->day;
    const struct wf_beer *b = &d->recipe->predicted;
    bool wished = !wf_range_is_any(d->og_window);
    double most = fmax(b->og, wished && isfinite(d->og_window.high) ? d->og_window.high : 1);
    double least = fmin(b->og, isnan(b->fg) ? 1 : b->fg);
    struct scale scale = {least < 1 ? 1 - SG_STEP : 1,
                          1 + ceil((most - 1) / SG_STEP + 0.1) * SG_STEP};
    size_t rows = isnan(b->fg) ? 2 : 3;
    double height = ROW * (double)rows;
    char caption[200], window[64];
    wf_svg_begin(h, "Gravities of the day", HEAD + height + 18);
    add_window(h, scale, d->og_window, height);
    add_row(h, scale, 0, "before the boil", d->before_sg);
    add_row(h, scale, 1, "original", b->og);
    if (rows == 3)
        add_row(h, scale, 2, "final", b->fg);
    add_scale(h, scale, HEAD + height + 14);
    wf_style_range(WF_DIM_GRAVITY, d->og_window, s->style->units, window, sizeof window);
    wf_snprintf(caption, sizeof caption, "Gravities of the day; %s%s",
                wished ? "the beer asks for an original gravity of " : "no beer's window is known",
                wished ? window : "");
    wf_svg_end(h, caption);
}
