/* html_put.c: see html_put.h. */
#include "report/html_put.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/utf8.h"

#include <math.h>
#include <string.h>

static void end_tag(struct wf_html *h)
{
    if (h->in_tag)
        wf_text_add(h->out, ">");
    h->in_tag = false;
}

static const char *entity(char c)
{
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return NULL;
    }
}

/* Safe text, escaped. Runs of plain bytes are added whole. */
static void add_escaped(struct wf_text *out, const char *text)
{
    size_t length = strlen(text), size = length + 8;
    char *safe = wf_alloc(size, 1);
    if (!safe) {
        out->failed = true;
        return;
    }
    wf_utf8_safe(text, length, safe, size);
    for (const char *at = safe; *at;) {
        size_t plain = strcspn(at, "&<>\"'");
        wf_text_append(out, at, plain);
        at += plain;
        if (*at)
            wf_text_add(out, "%s", entity(*at++));
    }
    wf_free(safe);
}

void wf_html_empty(struct wf_html *h, const char *element)
{
    end_tag(h);
    wf_text_add(h->out, "<%s", element);
    h->in_tag = true;
}

void wf_html_empty_end(struct wf_html *h, bool svg)
{
    wf_text_add(h->out, svg ? "/>" : ">");
    h->in_tag = false;
}

void wf_html_open(struct wf_html *h, const char *element)
{
    wf_html_empty(h, element);
    if (h->depth < WF_HTML_DEPTH_MOST)
        h->open[h->depth] = element;
    else
        h->out->failed = true; /* not met: the depth of a sheet is the program's */
    h->depth++;
}

void wf_html_close(struct wf_html *h)
{
    end_tag(h);
    h->depth--;
    if (h->depth >= 0 && h->depth < WF_HTML_DEPTH_MOST)
        wf_text_add(h->out, "</%s>", h->open[h->depth]);
}

void wf_html_attribute(struct wf_html *h, const char *name, const char *value)
{
    wf_text_add(h->out, " %s=\"", name);
    add_escaped(h->out, value);
    wf_text_add(h->out, "\"");
}

void wf_html_number(struct wf_html *h, const char *name, double value)
{
    char text[32];
    wf_snprintf(text, sizeof text, "%.8g", round(value * 100) / 100);
    wf_html_attribute(h, name, text);
}

void wf_html_text(struct wf_html *h, const char *text)
{
    end_tag(h);
    add_escaped(h->out, text);
}

void wf_html_leaf(struct wf_html *h, const char *element, const char *text)
{
    wf_html_open(h, element);
    wf_html_text(h, text);
    wf_html_close(h);
}

void wf_html_literal(struct wf_html *h, const char *literal)
{
    end_tag(h);
    wf_text_append(h->out, literal, strlen(literal));
}

void wf_html_newline(struct wf_html *h)
{
    end_tag(h);
    wf_text_add(h->out, "\n");
}
