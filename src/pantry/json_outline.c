/* json_outline.c: one walk through text that is known to be valid JSON. */
#include "pantry/json_outline.h"

#include "pantry/json_scanner.h"

#include "base/alloc.h"
#include "base/ascii.h"

#include <stdbool.h>
#include <string.h>

#define CAPACITY_FIRST 64u

struct walk {
    const char *text;
    size_t at, length;
    struct wf_json_outline *out;
};

static void skip_blanks(struct walk *w)
{
    while (w->at < w->length && wf_ascii_blank(w->text[w->at]))
        w->at++;
}

static void skip_string(struct walk *w)
{
    for (w->at++; w->text[w->at] != '"'; w->at++)
        if (w->text[w->at] == '\\')
            w->at++;
    w->at++;
}

/* A number or a word. */
static void skip_plain(struct walk *w)
{
    while (w->at < w->length && !strchr(" \t\r\n,]}", w->text[w->at]))
        w->at++;
}

/* The number of the new node, the walk's place being its start; 0 for the root, or where memory ran
 * out, which shows in the outline's count. */
static size_t add_node(struct walk *w, size_t parent)
{
    struct wf_json_outline *o = w->out;
    if (o->count == o->capacity) {
        size_t capacity = o->capacity ? 2 * o->capacity : CAPACITY_FIRST;
        struct wf_json_node *nodes = wf_realloc(o->nodes, capacity, sizeof *nodes);
        if (!nodes)
            return 0;
        o->nodes = nodes;
        o->capacity = capacity;
    }
    o->nodes[o->count] = (struct wf_json_node){w->at, w->at, w->at, w->at, parent, 0, 0, 0};
    return o->count++;
}

static bool walk_value(struct walk *w, size_t n);

/* From the opening bracket to behind the closing one. */
static bool walk_children(struct walk *w, size_t n, bool object)
{
    size_t before = 0;
    w->at++;
    skip_blanks(w);
    while (w->text[w->at] != (object ? '}' : ']')) {
        size_t child = add_node(w, n);
        if (child == 0)
            return false;
        if (object) {
            skip_string(w);
            w->out->nodes[child].key_end = w->at;
            skip_blanks(w);
            w->at++; /* the colon */
            skip_blanks(w);
            w->out->nodes[child].value = w->at;
        }
        if (!walk_value(w, child))
            return false;
        *(before ? &w->out->nodes[before].next : &w->out->nodes[n].child) = child;
        w->out->nodes[n].count++;
        before = child;
        skip_blanks(w);
        if (w->text[w->at] == ',')
            w->at++;
        skip_blanks(w);
    }
    w->at++;
    return true;
}

static bool walk_value(struct walk *w, size_t n)
{
    char c = w->text[w->at];
    if (c == '{' || c == '[') {
        if (!walk_children(w, n, c == '{'))
            return false;
    } else if (c == '"') {
        skip_string(w);
    } else {
        skip_plain(w);
    }
    w->out->nodes[n].end = w->at;
    return true;
}

enum wf_status wf_json_outline_make(const char *text, size_t length, struct wf_json_outline *out)
{
    struct walk w = {.text = text, .length = length, .out = out};
    *out = (struct wf_json_outline){0};
    skip_blanks(&w);
    add_node(&w, 0);
    if (out->count == 1 && walk_value(&w, 0))
        return WF_OK;
    wf_json_outline_free(out);
    return WF_MEMORY;
}

void wf_json_outline_free(struct wf_json_outline *o)
{
    wf_free(o->nodes);
    *o = (struct wf_json_outline){0};
}

/* ---- Looking up ------------------------------------------------------------------------------ */

#define KEY_MOST 64u /* bytes of a key that is looked for */

/* Whether a node's key reads so. One written with escapes is six times as long at most. */
static bool has_key(const struct wf_json_node *n, const char *text, const char *key)
{
    char plain[6 * KEY_MOST];
    const char *written = text + n->key + 1;
    size_t length = n->key_end - n->key - 2, wanted = strlen(key);
    if (length == wanted && memcmp(written, key, wanted) == 0)
        return true;
    if (length > sizeof plain || !memchr(written, '\\', length))
        return false;
    return wf_json_unescape(written, length, plain) == wanted && memcmp(plain, key, wanted) == 0;
}

size_t wf_json_outline_member(const struct wf_json_outline *o, const char *text, size_t object,
                              const char *key)
{
    size_t n = text[o->nodes[object].value] == '{' ? o->nodes[object].child : 0;
    while (n != 0 && !has_key(&o->nodes[n], text, key))
        n = o->nodes[n].next;
    return n;
}

size_t wf_json_outline_item(const struct wf_json_outline *o, size_t list, size_t index)
{
    size_t n = o->nodes[list].child;
    while (n != 0 && index-- > 0)
        n = o->nodes[n].next;
    return n;
}
