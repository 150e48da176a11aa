/* sheet_html.c: a sheet as one HTML file: style within, no outside reference, no script. */
#include "report/sheet.h"

#include "base/number.h"

#include <string.h>

/* Contrast: text #1f2328 on white is 15:1, the caution's #7a1f1f on #fdf1ef 8:1 (WCAG asks 4.5). */
static const char style_sheet[] =
    "\n:root{color-scheme:light}\n"
    "*{box-sizing:border-box}\n"
    "body{margin:0 auto;padding:1rem;max-width:46rem;background:#fff;color:#1f2328;"
    "font:1rem/1.45 system-ui,-apple-system,\"Segoe UI\",\"Noto Sans\",sans-serif;"
    "overflow-wrap:anywhere}\n"
    "h1{font-size:1.5rem;line-height:1.2;margin:0 0 .5rem}\n"
    "h2{font-size:1.15rem;margin:1.6rem 0 .5rem;padding-top:.4rem;border-top:2px solid #1f2328}\n"
    "p{margin:.5rem 0}\n"
    "ul{list-style:none;margin:.4rem 0;padding:0}\n"
    "li{margin:.15rem 0}\n"
    "label{display:flex;gap:.6rem;align-items:flex-start}\n"
    "input{flex:none;width:1.15em;height:1.15em;margin:.15em 0 0}\n"
    ".read{font-weight:600;border-left:4px solid #1b5e83;padding:.2rem .6rem;background:#eef5f9}\n"
    ".got{white-space:nowrap;font-weight:400}\n"
    ".caution{border-left:4px solid #7a1f1f;padding:.3rem .6rem;background:#fdf1ef}\n"
    ".caution strong{color:#7a1f1f}\n"
    ".small{font-size:.88em;color:#4a5058}\n"
    "table{border-collapse:collapse;width:100%;margin:.5rem 0;font-size:.9em}\n"
    "caption{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}\n"
    "th,td{padding:.25rem .25rem;border-bottom:1px solid #c9ced4;text-align:left;"
    "vertical-align:top}\n"
    "th{font-weight:600;overflow-wrap:normal}\n"
    ".figure{text-align:right;font-variant-numeric:tabular-nums}\n"
    ".narrow{width:auto}.narrow td:last-child,.narrow th:last-child{padding-left:.8em}\n"
    "td.figure{white-space:nowrap}td.long{white-space:normal}.word{min-width:5.5rem}\n"
    "figure{margin:.8rem 0}\n"
    "figcaption{font-size:.88em;color:#4a5058}\n"
    "svg{display:block;width:100%;max-width:23rem;height:auto;font:12px sans-serif}\n"
    "@page{margin:14mm}\n"
    "@media "
    "print{body{max-width:none;padding:0;font-size:9.5pt;line-height:1.3}svg{max-width:8.5cm}"
    "h2{margin:1em 0 .3em}p,figure,table{margin:.3em 0}th,td{padding:.12em .25em}"
    "h2,.read,.caution{break-after:avoid}"
    "table,figure,li,.caution,.read{break-inside:avoid}"
    "figure{display:inline-block;width:48%;vertical-align:top;padding-right:1%}"
    "table{width:auto;min-width:55%}"
    ".caution,.read{background:none;border:1px solid #7a1f1f;border-left-width:4px}"
    ".read{border-color:#1b5e83}}\n";

static void end_list(struct wf_sheet *s)
{
    if (s->in_list)
        wf_html_close(&s->html);
    s->in_list = false;
}

static void begin(struct wf_sheet *s, const char *title)
{
    struct wf_html *h = &s->html;
    wf_html_literal(h, "<!DOCTYPE html>\n");
    wf_html_open(h, "html");
    wf_html_attribute(h, "lang", "en-GB");
    wf_html_open(h, "head");
    wf_html_literal(h, "\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
                       "content=\"width=device-width, initial-scale=1\">\n");
    wf_html_leaf(h, "title", title);
    wf_html_open(h, "style");
    wf_html_literal(h, style_sheet);
    wf_html_close(h);
    wf_html_close(h);
    wf_html_newline(h);
    wf_html_open(h, "body");
    wf_html_newline(h);
    wf_html_open(h, "main");
    wf_html_leaf(h, "h1", title);
    wf_html_newline(h);
}

static void section(struct wf_sheet *s, const char *title)
{
    char text[120];
    end_list(s);
    if (s->in_section)
        wf_html_close(&s->html);
    s->in_section = true;
    wf_snprintf(text, sizeof text, "%zu. %s", ++s->section_count, title);
    wf_html_newline(&s->html);
    wf_html_open(&s->html, "section");
    wf_html_leaf(&s->html, "h2", text);
    wf_html_newline(&s->html);
}

static void tick(struct wf_sheet *s, const char *text)
{
    struct wf_html *h = &s->html;
    if (!s->in_list)
        wf_html_open(h, "ul");
    s->in_list = true;
    wf_html_open(h, "li");
    wf_html_open(h, "label");
    wf_html_empty(h, "input");
    wf_html_attribute(h, "type", "checkbox");
    wf_html_empty_end(h, false);
    wf_html_leaf(h, "span", text);
    wf_html_close(h);
    wf_html_close(h);
    wf_html_newline(h);
}

static void paragraph(struct wf_sheet *s, enum wf_line kind, const char *text)
{
    static const char *const class_of[WF_LINE_COUNT] = {
        [WF_LINE_READ] = "read", [WF_LINE_CAUTION] = "caution", [WF_LINE_SMALL] = "small"};
    struct wf_html *h = &s->html;
    wf_html_open(h, "p");
    if (class_of[kind])
        wf_html_attribute(h, "class", class_of[kind]);
    if (kind == WF_LINE_CAUTION) {
        wf_html_leaf(h, "strong", "Caution.");
        wf_html_text(h, " ");
    }
    wf_html_text(h, kind == WF_LINE_READ ? "Read: " : "");
    wf_html_text(h, text);
    if (kind == WF_LINE_READ) {
        wf_html_text(h, "; ");
        wf_html_open(h, "span");
        wf_html_attribute(h, "class", "got");
        wf_html_text(h, "got ________");
        wf_html_close(h);
    }
    wf_html_close(h);
    wf_html_newline(h);
}

static void line(struct wf_sheet *s, enum wf_line kind, const char *text)
{
    if (kind == WF_LINE_TICK) {
        tick(s, text);
        return;
    }
    end_list(s);
    paragraph(s, kind, text);
}

/* ---- Tables ---------------------------------------------------------------------------------- */

#define BOX "[ ]"

static size_t blanks(const char *text)
{
    size_t count = 0;
    for (; *text; text++)
        count += *text == ' ';
    return count;
}

/* "9 lb 9.5 oz" may be broken, "- 4.5 L" may not. */
static const char *class_of_cell(const struct wf_table *t, size_t i)
{
    const char *text = t->cells[i].text;
    if (t->columns[i % t->column_count].right)
        return blanks(text) > 2 ? "figure long" : "figure";
    return *text && strcmp(text, BOX) != 0 ? "word" : NULL;
}

static void add_cell(struct wf_html *h, const struct wf_table *t, size_t i)
{
    const char *text = t->cells[i].text, *class = class_of_cell(t, i);
    bool title = i < t->column_count && *text;
    wf_html_open(h, title ? "th" : "td");
    if (title)
        wf_html_attribute(h, "scope", "col");
    if (class)
        wf_html_attribute(h, "class", class);
    if (strcmp(text, BOX) == 0) {
        wf_html_empty(h, "input");
        wf_html_attribute(h, "type", "checkbox");
        wf_html_attribute(h, "aria-label", "done");
        wf_html_empty_end(h, false);
    } else {
        wf_html_text(h, text);
    }
    wf_html_close(h);
}

static void table(struct wf_sheet *s, struct wf_table *t, const char *caption)
{
    struct wf_html *h = &s->html;
    end_list(s);
    s->out->failed = s->out->failed || t->failed;
    wf_html_open(h, "table");
    if (t->column_count == 2)
        wf_html_attribute(h, "class", "narrow");
    wf_html_leaf(h, "caption", caption);
    wf_html_newline(h);
    for (size_t i = 0; !t->failed && i + t->column_count <= t->count; i += t->column_count) {
        if (i <= t->column_count)
            wf_html_open(h, i == 0 ? "thead" : "tbody");
        wf_html_open(h, "tr");
        for (size_t c = 0; c < t->column_count; c++)
            add_cell(h, t, i + c);
        wf_html_close(h);
        wf_html_newline(h);
        if (i == 0 || i + 2 * t->column_count > t->count)
            wf_html_close(h);
    }
    wf_html_close(h);
    wf_html_newline(h);
    wf_table_clear(t);
}

static void drawing(struct wf_sheet *s, enum wf_drawing what)
{
    static void (*const draw[])(struct wf_html *, const struct wf_sheet *) = {
        [WF_DRAW_GLASS] = wf_svg_glass,     [WF_DRAW_GRIST] = wf_svg_grist,
        [WF_DRAW_BOIL] = wf_svg_boil,       [WF_DRAW_BITTERNESS] = wf_svg_bitterness,
        [WF_DRAW_GRAVITY] = wf_svg_gravity,
    };
    end_list(s);
    draw[what](&s->html, s);
}

static void end(struct wf_sheet *s)
{
    end_list(s);
    if (s->in_section)
        wf_html_close(&s->html);
    wf_html_close(&s->html); /* main */
    wf_html_newline(&s->html);
    wf_html_close(&s->html); /* body */
    wf_html_close(&s->html); /* html */
    wf_html_newline(&s->html);
}

const struct wf_sheet_form wf_sheet_html = {.begin = begin,
                                            .section = section,
                                            .line = line,
                                            .table = table,
                                            .drawing = drawing,
                                            .end = end,
                                            .whole_names = true};
