/* json_edit.c: see json_edit.h. Changes are noted by node, then become pieces of text, which are
 * sorted by their place and laid over the text in one pass. */
#include "pantry/json_editing.h"

#include "pantry/json_scan.h"
#include "pantry/json_scanner.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/try.h"

#include <stdlib.h>
#include <string.h>

/* ---- Open, close ----------------------------------------------------------------------------- */

static enum wf_status out_of_memory(const struct wf_json_source *source, struct wf_error *error)
{
    return wf_error_add(error, WF_MEMORY, "out of memory while changing %s", source->name);
}

static enum wf_status fill(struct wf_json_edit *e)
{
    struct wf_json_fault fault;
    const struct wf_json_source *s = &e->source;
    e->arena = wf_arena_new();
    e->blanked = wf_alloc(s->length + 1, 1);
    if (!e->arena || !e->blanked)
        return WF_MEMORY;
    memcpy(e->blanked, s->text, s->length);
    WF_TRY(wf_json_scan(e->blanked, s->length, &fault));
    WF_TRY(wf_json_outline_make(e->blanked, s->length, &e->outline));
    e->fates = wf_alloc(e->outline.count, sizeof *e->fates);
    return e->fates ? WF_OK : WF_MEMORY;
}

enum wf_status wf_json_edit_open(const struct wf_json_source *source, struct wf_json_edit **out,
                                 struct wf_error *error)
{
    *out = NULL;
    struct wf_json_edit *e = wf_alloc(1, sizeof *e);
    if (!e)
        return out_of_memory(source, error);
    e->source = *source;
    enum wf_status status = fill(e);
    if (status == WF_OK)
        *out = e;
    else
        wf_json_edit_free(e);
    return status == WF_MEMORY ? out_of_memory(source, error) : status;
}

void wf_json_edit_free(struct wf_json_edit *e)
{
    if (!e)
        return;
    wf_arena_free(e->arena);
    wf_free(e->blanked);
    wf_json_outline_free(&e->outline);
    wf_free(e->fates);
    wf_free(e->pieces);
    wf_free(e);
}

/* ---- Looking up ------------------------------------------------------------------------------ */

const struct wf_json_node *wf_json_edit_node(const struct wf_json_edit *e, size_t node)
{
    return &e->outline.nodes[node];
}

size_t wf_json_edit_member(const struct wf_json_edit *e, size_t object, const char *key)
{
    return wf_json_outline_member(&e->outline, e->blanked, object, key);
}

size_t wf_json_edit_item(const struct wf_json_edit *e, size_t list, size_t index)
{
    return wf_json_outline_item(&e->outline, list, index);
}

bool wf_json_edit_is(const struct wf_json_edit *e, size_t node, const char *value)
{
    const struct wf_json_node *n = &e->outline.nodes[node];
    size_t length = strlen(value);
    return n->end - n->value == length && memcmp(e->blanked + n->value, value, length) == 0;
}

char *wf_json_edit_plain(const struct wf_json_edit *e, size_t node, char *out, size_t size)
{
    const struct wf_json_node *n = &e->outline.nodes[node];
    char plain[WF_JSON_STRING_MOST];
    bool string = e->blanked[n->value] == '"';
    const char *from = e->blanked + n->value + string;
    size_t length = n->end - n->value - (string ? 2 : 0);
    if (length > sizeof plain)
        length = sizeof plain;
    if (string) {
        length = wf_json_unescape(from, length, plain);
        from = plain;
    }
    if (length >= size)
        length = size - 1;
    memcpy(out, from, length);
    out[length] = '\0';
    return out;
}

/* ---- Noting changes -------------------------------------------------------------------------- */

void wf_json_piece(struct wf_json_edit *e, size_t at, size_t cut, const char *text)
{
    if (e->piece_count == e->piece_capacity) {
        size_t capacity = e->piece_capacity ? 2 * e->piece_capacity : 16;
        struct wf_json_piece *pieces = wf_realloc(e->pieces, capacity, sizeof *pieces);
        if (!pieces) {
            e->no_memory = true;
            return;
        }
        e->pieces = pieces;
        e->piece_capacity = capacity;
    }
    e->pieces[e->piece_count] = (struct wf_json_piece){at, cut, text, strlen(text), e->piece_count};
    e->piece_count++;
}

const char *wf_json_keep(struct wf_json_edit *e, struct wf_text *t)
{
    const char *kept = t->failed || !t->data ? NULL : wf_arena_copy(e->arena, t->data, t->length);
    wf_text_free(t);
    if (!kept)
        e->no_memory = true;
    return kept ? kept : "";
}

static void add(struct wf_json_edit *e, struct wf_json_additions *to, struct wf_text *text)
{
    struct wf_json_addition *a = wf_arena_alloc(e->arena, 1, sizeof *a);
    const char *kept = wf_json_keep(e, text);
    if (!a) {
        e->no_memory = true;
        return;
    }
    a->text = kept;
    *(to->last ? &to->last->next : &to->first) = a;
    to->last = a;
}

void wf_json_edit_replace(struct wf_json_edit *e, size_t node, const char *value)
{
    const struct wf_json_node *n = &e->outline.nodes[node];
    const char *kept = wf_arena_string(e->arena, value);
    if (!kept)
        e->no_memory = true;
    else
        wf_json_piece(e, n->value, n->end - n->value, kept);
}

void wf_json_edit_remove(struct wf_json_edit *e, size_t node)
{
    e->fates[node].removed = true;
    e->fates[e->outline.nodes[node].parent].child_removed = true;
}

void wf_json_edit_add(struct wf_json_edit *e, size_t object, struct wf_json_member member)
{
    struct wf_text text = {0};
    wf_json_add_member_text(e, object, &member, &text);
    add(e, &e->fates[object].added, &text);
}

/* The additions to a list that is to come. NULL: out of memory. */
static struct wf_json_additions *new_list(struct wf_json_edit *e, size_t object, const char *key)
{
    struct wf_json_new_list **at = &e->new_lists;
    for (; *at; at = &(*at)->next)
        if ((*at)->object == object && strcmp((*at)->key, key) == 0)
            return &(*at)->items;
    struct wf_json_new_list *list = wf_arena_alloc(e->arena, 1, sizeof *list);
    const char *kept = wf_arena_string(e->arena, key);
    if (!list || !kept)
        return NULL;
    *list = (struct wf_json_new_list){.object = object, .key = kept};
    *at = list;
    return &list->items;
}

void wf_json_edit_append(struct wf_json_edit *e, size_t object, const char *key,
                         const struct wf_json_member *members, size_t count)
{
    struct wf_text text = {0};
    size_t list = wf_json_edit_member(e, object, key);
    struct wf_json_additions *to = list ? &e->fates[list].added : new_list(e, object, key);
    if (!to) {
        e->no_memory = true;
        return;
    }
    wf_json_add_object_text(e, list, members, count, &text);
    add(e, to, &text);
}

/* ---- Making them ----------------------------------------------------------------------------- */

/* A new list is a new member of its object, whose value is laid out already. */
static void add_new_list(struct wf_json_edit *e, const struct wf_json_new_list *list)
{
    struct wf_text value = {0};
    bool lines = wf_json_in_lines(e, list->object);
    struct wf_json_slice unit = wf_json_indent_unit(e);
    const char *newline = wf_json_newline(e);
    const struct wf_json_node *o = &e->outline.nodes[list->object];
    struct wf_json_slice indent = {"", 0};
    if (lines && o->child)
        indent = wf_json_indent(e, e->outline.nodes[o->child].key);
    wf_text_append(&value, "[", 1);
    for (const struct wf_json_addition *a = list->items.first; a; a = a->next) {
        if (lines)
            wf_text_add(&value, "%s%.*s%.*s", newline, (int)indent.length, indent.text,
                        (int)unit.length, unit.text);
        else
            wf_text_add(&value, " ");
        wf_text_add(&value, "%s%s", a->text, a->next ? "," : "");
    }
    if (lines)
        wf_text_add(&value, "%s%.*s]", newline, (int)indent.length, indent.text);
    else
        wf_text_add(&value, " ]");
    const char *kept = wf_json_keep(e, &value);
    wf_json_edit_add(e, list->object, (struct wf_json_member){list->key, kept});
}

static int by_place(const void *a, const void *b)
{
    const struct wf_json_piece *x = a, *y = b;
    if (x->at != y->at)
        return x->at < y->at ? -1 : 1;
    return x->order < y->order ? -1 : 1;
}

/* What is cut twice is cut once: cuts may overlap, in blanks. */
static void lay_pieces(const struct wf_json_edit *e, struct wf_text *out)
{
    size_t done = 0;
    for (size_t i = 0; i < e->piece_count; i++) {
        const struct wf_json_piece *p = &e->pieces[i];
        if (p->at > done) {
            wf_text_append(out, e->source.text + done, p->at - done);
            done = p->at;
        }
        wf_text_append(out, p->text, p->length);
        if (p->at + p->cut > done)
            done = p->at + p->cut;
    }
    wf_text_append(out, e->source.text + done, e->source.length - done);
}

enum wf_status wf_json_edit_finish(struct wf_json_edit *e, char **text, size_t *length,
                                   struct wf_error *error)
{
    struct wf_text out = {0};
    for (const struct wf_json_new_list *l = e->new_lists; l; l = l->next)
        add_new_list(e, l);
    for (size_t n = 0; n < e->outline.count; n++)
        if (e->fates[n].added.first || e->fates[n].child_removed)
            wf_json_settle(e, n);
    if (e->piece_count > 0)
        qsort(e->pieces, e->piece_count, sizeof *e->pieces, by_place);
    if (!e->no_memory)
        lay_pieces(e, &out);
    if (e->no_memory || out.failed) {
        wf_text_free(&out);
        return out_of_memory(&e->source, error);
    }
    *text = out.data;
    *length = out.length;
    return WF_OK;
}
