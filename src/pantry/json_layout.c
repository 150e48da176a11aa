/* json_layout.c: how a text is laid out round a place, and new text laid out likewise. */
#include "pantry/json_editing.h"

#include "base/quote.h"
#include "base/utf8.h"

#include <string.h>

/* ---- Lines ----------------------------------------------------------------------------------- */

static size_t line_start(const struct wf_json_edit *e, size_t offset)
{
    while (offset > 0 && e->source.text[offset - 1] != '\n')
        offset--;
    return offset;
}

static bool is_space(char c)
{
    return c == ' ' || c == '\t';
}

struct wf_json_slice wf_json_indent(const struct wf_json_edit *e, size_t offset)
{
    size_t start = line_start(e, offset), end = start;
    while (end < offset && is_space(e->source.text[end]))
        end++;
    return (struct wf_json_slice){e->source.text + start, end - start};
}

bool wf_json_begins_line(const struct wf_json_edit *e, size_t offset)
{
    return wf_json_indent(e, offset).length == offset - line_start(e, offset);
}

size_t wf_json_line_tail(const struct wf_json_edit *e, size_t offset)
{
    const char *text = e->source.text;
    size_t end = e->source.length;
    for (size_t at = offset; at < end; at++) {
        if (text[at] == '\n')
            return at > offset && text[at - 1] == '\r' ? at - 1 : at;
        if (text[at] == '/' && text[at + 1] == '/') {
            const char *newline = memchr(text + at, '\n', end - at);
            at = newline ? (size_t)(newline - text) - 1 : end;
        } else if (text[at] == '/') {
            for (at += 2; text[at] != '*' || text[at + 1] != '/'; at++)
                if (text[at] == '\n')
                    return WF_JSON_NO_END;
            at++;
        } else if (!is_space(text[at]) && text[at] != '\r') {
            return WF_JSON_NO_END;
        }
    }
    return WF_JSON_NO_END;
}

size_t wf_json_line_before(const struct wf_json_edit *e, size_t offset)
{
    size_t newline = line_start(e, offset) - 1;
    return newline > 0 && e->source.text[newline - 1] == '\r' ? newline - 1 : newline;
}

size_t wf_json_column(const struct wf_json_edit *e, size_t offset)
{
    size_t start = line_start(e, offset);
    return wf_utf8_count(e->source.text + start, offset - start);
}

const char *wf_json_newline(const struct wf_json_edit *e)
{
    const char *text = e->source.text, *first = memchr(text, '\n', e->source.length);
    return first && first > text && first[-1] == '\r' ? "\r\n" : "\n";
}

/* The root's members are one level in. */
struct wf_json_slice wf_json_indent_unit(const struct wf_json_edit *e)
{
    size_t first = e->outline.nodes[0].child;
    struct wf_json_slice unit = {"  ", 2};
    if (first && wf_json_begins_line(e, e->outline.nodes[first].key)) {
        struct wf_json_slice indent = wf_json_indent(e, e->outline.nodes[first].key);
        unit = indent.length > 0 ? indent : unit;
    }
    return unit;
}

bool wf_json_in_lines(const struct wf_json_edit *e, size_t container)
{
    size_t child = e->outline.nodes[container].child;
    for (; child; child = e->outline.nodes[child].next)
        if (!wf_json_begins_line(e, e->outline.nodes[child].key))
            return false;
    return e->outline.nodes[container].count > 0;
}

/* ---- Like the neighbours --------------------------------------------------------------------- */

/* Whether text[from, to) is blanks within a line. */
static bool is_gap(const struct wf_json_edit *e, size_t from, size_t to)
{
    while (from < to && is_space(e->source.text[from]))
        from++;
    return from == to;
}

const char *wf_json_gap(const struct wf_json_edit *e, size_t container)
{
    const struct wf_json_node *nodes = e->outline.nodes;
    for (size_t n = nodes[container].child; n && nodes[n].next; n = nodes[n].next) {
        size_t next = nodes[nodes[n].next].key;
        if (e->source.text[nodes[n].end] == ',' && is_gap(e, nodes[n].end + 1, next))
            return next > nodes[n].end + 1 ? " " : "";
    }
    return " ";
}

/* What stands between a key and its value: ": " as in the model's first member. */
static struct wf_json_slice colon(const struct wf_json_edit *e, size_t model)
{
    const struct wf_json_node *first = &e->outline.nodes[e->outline.nodes[model].child];
    struct wf_json_slice between = {": ", 2};
    const char *text = e->source.text + first->key_end;
    size_t length = first->value - first->key_end;
    size_t before = strspn(text, " \t");
    if (length > 0 && before < length && text[before] == ':' &&
        is_gap(e, first->key_end + before + 1, first->value))
        between = (struct wf_json_slice){text, length};
    return between;
}

void wf_json_add_member_text(const struct wf_json_edit *e, size_t model,
                             const struct wf_json_member *m, struct wf_text *out)
{
    struct wf_json_slice between = colon(e, model);
    wf_quote_add(out, m->key);
    wf_text_append(out, between.text, between.length);
    wf_text_add(out, "%s", m->value);
}

/* ---- Objects --------------------------------------------------------------------------------- */

/* An object of any list of objects, the last one of `list` if it has any; 0: there is none. */
static size_t find_model(const struct wf_json_edit *e, size_t list)
{
    const struct wf_json_node *nodes = e->outline.nodes;
    size_t model = 0;
    for (size_t n = list ? nodes[list].child : 0; n; n = nodes[n].next)
        if (nodes[n].count > 0)
            model = n;
    for (size_t n = 1; !model && n < e->outline.count; n++)
        if (nodes[n].count > 0 && e->blanked[nodes[n].value] == '{' &&
            nodes[n].key == nodes[n].value)
            model = n;
    return model;
}

/* As the model: a line for each member, or as many to a line as fit. */
static void add_in_lines(const struct wf_json_edit *e, size_t model,
                         const struct wf_json_member *members, size_t count, struct wf_text *out)
{
    const struct wf_json_node *m = &e->outline.nodes[model];
    struct wf_json_slice inner = wf_json_indent(e, e->outline.nodes[m->child].key);
    struct wf_json_slice outer = wf_json_indent(e, m->end - 1);
    const char *newline = wf_json_newline(e);
    wf_text_append(out, "{", 1);
    for (size_t i = 0; i < count; i++) {
        wf_text_add(out, "%s%s%.*s", i > 0 ? "," : "", newline, (int)inner.length, inner.text);
        wf_json_add_member_text(e, model, &members[i], out);
    }
    wf_text_add(out, "%s%.*s}", newline, (int)outer.length, outer.text);
}

/* `indent` is that of the object's own line. */
static void add_flowing(const struct wf_json_edit *e, size_t model, struct wf_json_slice indent,
                        const struct wf_json_member *members, size_t count, struct wf_text *out)
{
    const struct wf_json_node *m = &e->outline.nodes[model];
    const char *space = model == 0 || is_space(e->source.text[m->value + 1]) ? " " : "";
    const char *gap = model == 0 ? " " : wf_json_gap(e, model);
    size_t left = wf_utf8_count(indent.text, indent.length) + 1 + strlen(space), column = left;
    wf_text_add(out, "{%s", space);
    for (size_t i = 0; i < count; i++) {
        struct wf_text text = {0};
        wf_json_add_member_text(e, model, &members[i], &text);
        size_t width = text.data ? wf_utf8_count(text.data, text.length) : 0;
        bool fits = column + strlen(gap) + width + 3 <= WF_JSON_WIDTH; /* " }," or "," */
        if (i > 0 && fits)
            wf_text_add(out, ",%s", gap);
        else if (i > 0)
            wf_text_add(out, ",%s%.*s%*s", wf_json_newline(e), (int)indent.length, indent.text,
                        (int)(1 + strlen(space)), "");
        column = (i > 0 && !fits ? left : column + 1 + strlen(gap)) + width;
        wf_text_add(out, "%s", text.data ? text.data : "");
        out->failed = out->failed || text.failed;
        wf_text_free(&text);
    }
    wf_text_add(out, "%s}", space);
}

void wf_json_add_object_text(const struct wf_json_edit *e, size_t list,
                             const struct wf_json_member *members, size_t count,
                             struct wf_text *out)
{
    size_t model = find_model(e, list), last = list ? e->outline.nodes[list].child : 0;
    struct wf_json_slice indent = {"", 0};
    while (last && e->outline.nodes[last].next)
        last = e->outline.nodes[last].next;
    if (model && wf_json_in_lines(e, model)) {
        add_in_lines(e, model, members, count, out);
        return;
    }
    if (last)
        indent = wf_json_indent(e, e->outline.nodes[last].value);
    else if (model)
        indent = wf_json_indent(e, e->outline.nodes[model].value);
    add_flowing(e, model, indent, members, count, out);
}
