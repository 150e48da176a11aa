/* svg_parts.c: see svg_parts.h. */
#include "report/svg_parts.h"

#include "base/number.h"
#include "base/utf8.h"

#include <string.h>

#define LABEL_BYTES 42 /* of a label beside its figure; longer ones end in "..." */

void wf_svg_begin(struct wf_html *h, const char *title, double height)
{
    char box[64];
    wf_snprintf(box, sizeof box, "0 0 %.0f %.0f", WF_SVG_WIDTH, height);
    wf_html_open(h, "figure");
    wf_html_open(h, "svg");
    wf_html_attribute(h, "viewBox", box);
    wf_html_attribute(h, "role", "img");
    wf_html_attribute(h, "aria-label", title);
    wf_html_newline(h);
}

void wf_svg_end(struct wf_html *h, const char *caption)
{
    wf_html_close(h);
    wf_html_newline(h);
    wf_html_leaf(h, "figcaption", caption);
    wf_html_close(h);
    wf_html_newline(h);
}

void wf_svg_text(struct wf_html *h, double x, double y, enum wf_svg_anchor anchor, const char *text)
{
    static const char *const word[] = {
        [WF_SVG_START] = "start", [WF_SVG_MIDDLE] = "middle", [WF_SVG_END] = "end"};
    wf_html_open(h, "text");
    wf_html_number(h, "x", x);
    wf_html_number(h, "y", y);
    wf_html_attribute(h, "text-anchor", word[anchor]);
    wf_html_attribute(h, "fill", WF_SVG_INK);
    wf_html_text(h, text);
    wf_html_close(h);
    wf_html_newline(h);
}

void wf_svg_rect(struct wf_html *h, double x, double y, double width, double height,
                 const char *fill)
{
    wf_html_empty(h, "rect");
    wf_html_number(h, "x", x);
    wf_html_number(h, "y", y);
    wf_html_number(h, "width", width);
    wf_html_number(h, "height", height);
    wf_html_attribute(h, "fill", fill);
    wf_html_empty_end(h, true);
    wf_html_newline(h);
}

void wf_svg_line(struct wf_html *h, double x1, double y1, double x2, double y2, const char *ink)
{
    wf_html_empty(h, "line");
    wf_html_number(h, "x1", x1);
    wf_html_number(h, "y1", y1);
    wf_html_number(h, "x2", x2);
    wf_html_number(h, "y2", y2);
    wf_html_attribute(h, "stroke", ink);
    wf_html_empty_end(h, true);
    wf_html_newline(h);
}

void wf_svg_dot(struct wf_html *h, double x, double y, const char *fill)
{
    wf_html_empty(h, "circle");
    wf_html_number(h, "cx", x);
    wf_html_number(h, "cy", y);
    wf_html_number(h, "r", 5);
    wf_html_attribute(h, "fill", fill);
    wf_html_empty_end(h, true);
    wf_html_newline(h);
}

void wf_svg_bar(struct wf_html *h, size_t row, const char *label, const char *figure, double share)
{
    char cut[LABEL_BYTES];
    double y = WF_SVG_ROW * (double)row;
    wf_svg_text(h, 0, y + 13, WF_SVG_START, wf_utf8_safe(label, strlen(label), cut, sizeof cut));
    wf_svg_text(h, WF_SVG_WIDTH, y + 13, WF_SVG_END, figure);
    wf_svg_rect(h, 0, y + 18, WF_SVG_WIDTH, 9, "#e8ebee");
    wf_svg_rect(h, 0, y + 18, WF_SVG_WIDTH * (share < 1 ? share : 1), 9, WF_SVG_BAR);
}
