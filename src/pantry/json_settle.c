/*
 * json_settle.c: commas, blanks and lines round what comes into a container and goes from it.
 *
 * A child that goes takes the comma behind it along, or the one before it where no child is left
 * behind it. What comes stands behind the last child that is left.
 */
#include "pantry/json_editing.h"

#include "base/ascii.h"
#include "base/utf8.h"

#include <string.h>

/* ---- What goes ------------------------------------------------------------------------------- */

/* The first comma from the offset on. Comments are blanked, so it is no other's. */
static size_t comma_from(const struct wf_json_edit *e, size_t offset)
{
    const char *comma = memchr(e->blanked + offset, ',', e->source.length - offset);
    return comma ? (size_t)(comma - e->blanked) : offset;
}

/* Back over blanks to what stands before: within the line, or past its start if there is nothing
 * but blanks up to `most`. */
static size_t blanks_before(const struct wf_json_edit *e, size_t offset, size_t most)
{
    size_t at = offset;
    while (at > most && wf_ascii_blank(e->source.text[at - 1]))
        at--;
    if (at == most)
        return at;
    for (at = offset;
         at > most && (e->source.text[at - 1] == ' ' || e->source.text[at - 1] == '\t');)
        at--;
    return at;
}

static void cut(struct wf_json_edit *e, size_t from, size_t to)
{
    wf_json_piece(e, from, to - from, "");
}

/* Whole lines go whole, their newline and a comment at their end included. */
static bool cut_lines(struct wf_json_edit *e, size_t key, size_t end)
{
    size_t tail = wf_json_line_tail(e, end);
    if (!wf_json_begins_line(e, key) || tail == WF_JSON_NO_END)
        return false;
    const char *newline = memchr(e->source.text + tail, '\n', e->source.length - tail);
    cut(e, key - wf_json_indent(e, key).length, (size_t)(newline - e->source.text) + 1);
    return true;
}

/* A child behind which another is left. */
static void cut_child(struct wf_json_edit *e, const struct wf_json_node *n)
{
    size_t comma = comma_from(e, n->end), next = e->outline.nodes[n->next].key;
    if (cut_lines(e, n->key, comma + 1))
        return;
    size_t at = comma + 1;
    while (at < next && (e->source.text[at] == ' ' || e->source.text[at] == '\t'))
        at++;
    if (at == next) {
        cut(e, n->key, next);
    } else {
        cut(e, blanks_before(e, n->key, e->outline.nodes[n->parent].value + 1), n->end);
        cut(e, comma, comma + 1);
    }
}

/* A child behind which none is left; `before` (0: there is none) is the child before it. */
static void cut_last(struct wf_json_edit *e, const struct wf_json_node *n, size_t before)
{
    size_t most = e->outline.nodes[n->parent].value + 1;
    if (before) {
        size_t comma = comma_from(e, e->outline.nodes[before].end);
        cut(e, comma, comma + 1);
        most = comma + 1;
    }
    if (!cut_lines(e, n->key, n->end))
        cut(e, blanks_before(e, n->key, most), n->end);
}

/* ---- What comes ------------------------------------------------------------------------------ */

/* Lines: the comma goes to the last child, what comes to lines of its own behind that one's. */
static void add_lines(struct wf_json_edit *e, const struct wf_json_addition *a,
                      const struct wf_json_node *last)
{
    struct wf_text text = {0};
    size_t tail = wf_json_line_tail(e, last->next ? comma_from(e, last->end) + 1 : last->end);
    struct wf_json_slice indent = wf_json_indent(e, last->key);
    bool apart = tail != WF_JSON_NO_END;
    if (apart)
        wf_json_piece(e, last->end, 0, ",");
    for (bool first = true; a; a = a->next, first = false)
        wf_text_add(&text, "%s%s%.*s%s", first && apart ? "" : ",", wf_json_newline(e),
                    (int)indent.length, indent.text, a->text);
    wf_json_piece(e, apart ? tail : last->end, 0, wf_json_keep(e, &text));
}

/* Blanks that bring a new line under the container's first child. */
static void add_break(const struct wf_json_edit *e, const struct wf_json_node *c,
                      const struct wf_json_node *last, struct wf_text *text)
{
    const struct wf_json_node *first = &e->outline.nodes[c->child];
    size_t from = wf_json_begins_line(e, last->key) ? last->key : first->key;
    struct wf_json_slice indent = wf_json_indent(e, from);
    size_t more = wf_json_column(e, from) - wf_utf8_count(indent.text, indent.length);
    wf_text_add(text, "%s%.*s%*s", wf_json_newline(e), (int)indent.length, indent.text, (int)more,
                "");
}

/* In one line with the last child, as long as there is room. */
static void add_flowing(struct wf_json_edit *e, size_t container, const struct wf_json_addition *a,
                        const struct wf_json_node *last)
{
    const struct wf_json_node *c = &e->outline.nodes[container];
    const char *gap = wf_json_gap(e, container);
    size_t column = wf_json_column(e, last->end),
           left = wf_json_column(e, c->child ? e->outline.nodes[c->child].key : last->key);
    struct wf_text text = {0};
    for (; a; a = a->next) {
        size_t width = wf_utf8_count(a->text, strlen(a->text));
        bool fits = column + 1 + strlen(gap) + width + 3 <= WF_JSON_WIDTH;
        wf_text_add(&text, ",");
        if (fits)
            wf_text_add(&text, "%s", gap);
        else
            add_break(e, c, last, &text);
        column = (fits ? column + 1 + strlen(gap) : left) + width;
        wf_text_add(&text, "%s", a->text);
    }
    wf_json_piece(e, last->end, 0, wf_json_keep(e, &text));
}

/* In the place of the first child, where all go. */
static void add_instead(struct wf_json_edit *e, const struct wf_json_addition *a,
                        const struct wf_json_node *first)
{
    struct wf_text text = {0};
    struct wf_json_slice indent = wf_json_indent(e, first->key);
    for (; a; a = a->next) {
        wf_text_add(&text, "%s", a->text);
        if (a->next)
            wf_text_add(&text, ",%s%.*s", wf_json_newline(e), (int)indent.length, indent.text);
    }
    wf_json_piece(e, first->key, first->end - first->key, wf_json_keep(e, &text));
}

/* Into what is empty: the layout is that of the container's own neighbours. */
static void add_first(struct wf_json_edit *e, size_t container, const struct wf_json_addition *a)
{
    const struct wf_json_node *c = &e->outline.nodes[container];
    struct wf_text text = {0};
    struct wf_json_slice unit = wf_json_indent_unit(e), indent = wf_json_indent(e, c->key);
    bool lines = container != 0 && wf_json_in_lines(e, c->parent);
    size_t close = c->end - 1, at = close;
    bool own_line = lines && wf_json_begins_line(e, close);
    if (own_line) /* before the newline that the closing bracket stands behind */
        at = wf_json_line_before(e, close);
    for (; a; a = a->next) {
        if (lines)
            wf_text_add(&text, "%s%.*s%.*s", wf_json_newline(e), (int)indent.length, indent.text,
                        (int)unit.length, unit.text);
        else
            wf_text_add(&text, " ");
        wf_text_add(&text, "%s%s", a->text, a->next ? "," : "");
    }
    if (!lines)
        wf_text_add(&text, " ");
    else if (!own_line)
        wf_text_add(&text, "%s%.*s", wf_json_newline(e), (int)indent.length, indent.text);
    wf_json_piece(e, at, 0, wf_json_keep(e, &text));
}

/* ---- Both ------------------------------------------------------------------------------------ */

static void cut_removed(struct wf_json_edit *e, size_t container, size_t kept, bool instead)
{
    const struct wf_json_node *nodes = e->outline.nodes;
    bool behind = kept == 0;
    for (size_t n = nodes[container].child, before = 0; n; before = n, n = nodes[n].next) {
        if (e->fates[n].removed && !(instead && before == 0)) {
            if (behind)
                cut_last(e, &nodes[n], before);
            else
                cut_child(e, &nodes[n]);
        }
        behind = behind || n == kept;
    }
}

void wf_json_settle(struct wf_json_edit *e, size_t container)
{
    const struct wf_json_node *nodes = e->outline.nodes;
    const struct wf_json_addition *added = e->fates[container].added.first;
    size_t kept = 0, first = nodes[container].child;
    for (size_t n = first; n; n = nodes[n].next)
        if (!e->fates[n].removed)
            kept = n;
    cut_removed(e, container, kept, added && kept == 0);
    if (!added)
        return;
    if (kept == 0 && first)
        add_instead(e, added, &nodes[first]);
    else if (kept == 0)
        add_first(e, container, added);
    else if (wf_json_in_lines(e, container))
        add_lines(e, added, &nodes[kept]);
    else
        add_flowing(e, container, added, &nodes[kept]);
}
