/* svg_glass.c: the beer's colour in a glass, as the laws of light have it. */
#include "report/sheet.h"
#include "report/svg_parts.h"

#include "base/number.h"

#include <math.h>

#define GLASS_CM 5.0 /* of beer that one looks through: a small straight glass */
#define SRM_MOST 170.0
#define HEIGHT   150.0

static void add_path(struct wf_html *h, const char *shape, const char *fill, const char *ink)
{
    wf_html_empty(h, "path");
    wf_html_attribute(h, "d", shape);
    wf_html_attribute(h, "fill", fill);
    wf_html_attribute(h, "stroke", ink);
    wf_html_attribute(h, "stroke-width", "2");
    wf_html_empty_end(h, true);
    wf_html_newline(h);
}

void wf_svg_glass(struct wf_html *h, const struct wf_sheet *s)
{
    const struct wf_beer *b = &s->day->recipe->predicted;
    char hex[16], srm[48], ebc[48];
    int rgb[3];
    if (wf_colour_seen(fmin(b->srm, SRM_MOST), GLASS_CM, rgb) != WF_OK)
        return;
    wf_snprintf(hex, sizeof hex, "#%02x%02x%02x", (unsigned)rgb[0], (unsigned)rgb[1],
                (unsigned)rgb[2]);
    wf_snprintf(srm, sizeof srm, "%.1f SRM", b->srm);
    wf_snprintf(ebc, sizeof ebc, "%.0f EBC", b->ebc);
    wf_svg_begin(h, "The beer's colour in a glass", HEIGHT);
    add_path(h, "M24 36 L96 36 L90 138 L30 138 Z", hex, "none");
    add_path(h, "M22 18 L98 18 L97 38 L23 38 Z", "#fbf6ea", "#c9bfa8");
    add_path(h, "M20 8 L100 8 L92 144 L28 144 Z", "none", WF_SVG_INK);
    wf_svg_text(h, 124, 62, WF_SVG_START, srm);
    wf_svg_text(h, 124, 82, WF_SVG_START, ebc);
    wf_svg_text(h, 124, 102, WF_SVG_START, hex);
    wf_svg_end(h,
               "Colour of the clear beer through 5 cm of it in daylight: mean spectrum of 99 beers "
               "(A.J. deLange 2008), CIE 1931 observer, sRGB. Haze makes it paler, a screen or "
               "a printer changes it.");
}
