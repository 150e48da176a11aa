/*
 * stock.c: changes made to the text of a store. What is refused here or by the reader afterwards is
 * told all at once, each with the place that the change came from.
 */
#include "pantry/stock_parts.h"

#include "pantry/catalogue.h"
#include "pantry/ingredient.h"
#include "pantry/json_scan.h" /* WF_JSON_STRING_MOST */
#include "pantry/store_text.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/quote.h"
#include "base/try.h"
#include "base/utf8.h"

#include <string.h>

struct run {
    struct wf_json_source source;
    const struct wf_stock_change *changes;
    size_t count;
    struct wf_stock_lot *lots; /* one a change */
    size_t *places;            /* of the lots in their lists once all is done */
    struct wf_json_edit *edit;
    struct wf_error *e;
    bool refused;
    bool no_memory;
};

static const char *place_of(const struct wf_stock_change *c)
{
    return c->place ? c->place : c->id;
}

static void refuse(struct run *r, const char *place, const char *why)
{
    r->refused = true;
    wf_error_add(r->e, WF_BAD_INPUT, "%s: %s", place, why);
}

/* ---- One change ------------------------------------------------------------------------------ */

/* The JSON of a field's text, in *out; false: refused. */
static bool value_of(struct run *r, enum wf_kind kind, const struct wf_stock_field *f,
                     struct wf_text *out)
{
    char why[WF_REASON_MAX];
    const char *place = f->place ? f->place : f->key;
    const struct wf_json_field *row = wf_stock_row(kind, f->key);
    size_t length = strlen(f->text);
    if (!row)
        wf_stock_refuse_key(kind, f->key, why);
    else if (wf_utf8_first_bad(f->text, length) < length)
        wf_snprintf(why, sizeof why, "is no text in UTF-8");
    else if (length > WF_JSON_STRING_MOST / 2)
        wf_snprintf(why, sizeof why, "is a text of %zu bytes; at most 1000 are read", length);
    else if (wf_stock_value(row, f->text, out, why)) {
        r->no_memory = r->no_memory || out->failed;
        return !out->failed;
    }
    refuse(r, place, why);
    return false;
}

static bool given_before(const struct wf_stock_change *c, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (strcmp(c->fields[k].key, c->fields[i].key) == 0)
            return true;
    return false;
}

/* The node of the lot in its list. */
static size_t node_of(const struct run *r, const struct wf_stock_lot *lot)
{
    size_t list = wf_json_edit_member(r->edit, 0, wf_stock_list_key(lot->kind));
    return wf_json_edit_item(r->edit, list, lot->index);
}

/* Notes the value of a lot's member, unless it is the one that stands there. */
static void write_member(struct run *r, struct wf_stock_lot *lot, size_t node, const char *key,
                         const char *value)
{
    size_t member = wf_json_edit_member(r->edit, node, key);
    if (member && wf_json_edit_is(r->edit, member, value))
        return;
    lot->changed = true;
    if (member)
        wf_json_edit_replace(r->edit, member, value);
    else
        wf_json_edit_add(r->edit, node, (struct wf_json_member){key, value});
}

static void set_field(struct run *r, struct wf_stock_lot *lot, size_t node,
                      const struct wf_stock_field *f)
{
    struct wf_text value = {0};
    size_t member = wf_json_edit_member(r->edit, node, f->key);
    if (*f->text || !wf_stock_row(lot->kind, f->key)) { /* a key that is none is refused */
        if (value_of(r, lot->kind, f, &value))
            write_member(r, lot, node, f->key, value.data);
    } else if (member) {
        lot->changed = true;
        wf_json_edit_remove(r->edit, member);
    }
    wf_text_free(&value);
}

static void set_lot(struct run *r, const struct wf_stock_change *c, struct wf_stock_lot *lot)
{
    size_t node = node_of(r, lot);
    for (size_t i = 0; i < c->field_count; i++) {
        if (given_before(c, i))
            refuse(r, c->fields[i].place ? c->fields[i].place : c->fields[i].key, "is given twice");
        else if (strcmp(c->fields[i].key, wf_stock_kind_key) != 0)
            set_field(r, lot, node, &c->fields[i]);
    }
}

/* Members in the order given, but the id first and the entry that it is next. */
static void add_lot(struct run *r, const struct wf_stock_change *c, struct wf_stock_lot *lot)
{
    struct wf_json_member members[WF_JSON_FIELDS_MOST + 1];
    struct wf_text values[WF_JSON_FIELDS_MOST + 1] = {0};
    size_t count = 1, is = 0;
    wf_quote_add(&values[0], c->id);
    members[0].key = "id";
    for (size_t i = 0; i < c->field_count && count <= WF_JSON_FIELDS_MOST; i++) {
        const struct wf_stock_field *f = &c->fields[i];
        if (given_before(c, i) || strcmp(f->key, "id") == 0) {
            refuse(r, f->place ? f->place : f->key, "is given twice");
        } else if (*f->text && strcmp(f->key, wf_stock_kind_key) != 0 &&
                   value_of(r, lot->kind, f, &values[count])) {
            is = strcmp(f->key, "is") == 0 ? count : is;
            members[count++].key = f->key;
        }
    }
    for (size_t i = 0; i < count; i++) {
        r->no_memory = r->no_memory || values[i].failed;
        members[i].value = values[i].data;
    }
    if (is > 1) {
        struct wf_json_member entry = members[is];
        memmove(&members[2], &members[1], (is - 1) * sizeof *members);
        members[1] = entry;
    }
    lot->changed = true;
    if (!r->no_memory)
        wf_json_edit_append(r->edit, 0, wf_stock_list_key(lot->kind), members, count);
    for (size_t i = 0; i < WF_COUNT_OF(values); i++)
        wf_text_free(&values[i]);
}

static void use_lot(struct run *r, const struct wf_stock_change *c, struct wf_stock_lot *lot)
{
    char there[WF_STOCK_AMOUNT_MAX], left[WF_STOCK_AMOUNT_MAX], why[WF_REASON_MAX];
    const char *place = c->take_place ? c->take_place : place_of(c);
    size_t node = node_of(r, lot), have = wf_json_edit_member(r->edit, node, "have");
    const struct wf_json_field *row = wf_stock_row(lot->kind, "have");
    if (!c->take) {
        refuse(r, place, "how much is taken?");
        return;
    }
    if (!have) {
        refuse(r, place, "no amount of this lot is kept (it has no \"have\"); set that first");
        return;
    }
    wf_json_edit_plain(r->edit, have, there, sizeof there);
    if (!wf_stock_left(row->dimension, there, c->take, left, why)) {
        refuse(r, place, why);
        return;
    }
    struct wf_text value = {0};
    if (wf_stock_value(row, left, &value, why) && !value.failed)
        write_member(r, lot, node, "have", value.data);
    else
        r->no_memory = true;
    wf_text_free(&value);
}

static void remove_lot(struct run *r, const struct wf_stock_change *c, struct wf_stock_lot *lot)
{
    (void)c;
    lot->changed = true;
    wf_json_edit_remove(r->edit, node_of(r, lot));
}

static void make(struct run *r, size_t n)
{
    static void (*const make_row[])(struct run *, const struct wf_stock_change *,
                                    struct wf_stock_lot *) = {
        [WF_STOCK_ADD] = add_lot, [WF_STOCK_SET] = set_lot,       [WF_STOCK_PUT] = set_lot,
        [WF_STOCK_USE] = use_lot, [WF_STOCK_REMOVE] = remove_lot,
    };
    struct wf_stock_lot *lot = &r->lots[n];
    if (lot->known)
        (lot->there ? make_row[r->changes[n].deed] : add_lot)(r, &r->changes[n], lot);
}

/* ---- Telling --------------------------------------------------------------------------------- */

/* What of a path stands behind "malts[3]": "" or ".have"; NULL: it leads elsewhere. */
static const char *path_behind(const char *path, enum wf_kind kind, size_t index)
{
    char lot[64];
    wf_snprintf(lot, sizeof lot, "%s[%zu]", wf_stock_list_key(kind), index);
    size_t length = strlen(lot);
    return strncmp(path, lot, length) == 0 ? path + length : NULL;
}

static const struct wf_stock_field *field_at(const struct wf_stock_change *c, const char *key)
{
    for (size_t i = 0; i < c->field_count; i++) {
        size_t length = strlen(c->fields[i].key);
        if (strncmp(key, c->fields[i].key, length) == 0 && strchr(".[", key[length]))
            return &c->fields[i];
    }
    return NULL;
}

static bool removes(const struct run *r, size_t n)
{
    return r->lots[n].known && r->changes[n].deed == WF_STOCK_REMOVE;
}

/* What the reader says of a changed lot is told where the change came from. */
static bool tell(const void *data, const char *path, char out[WF_JSON_TOLD_MAX])
{
    const struct run *r = data;
    for (size_t n = 0; n < r->count; n++) {
        const struct wf_stock_change *c = &r->changes[n];
        const char *behind = NULL;
        if (r->lots[n].known && !removes(r, n))
            behind = path_behind(path, r->lots[n].kind, r->places[n]);
        if (!behind)
            continue;
        const struct wf_stock_field *f = *behind == '.' ? field_at(c, behind + 1) : NULL;
        bool own = !*behind || strcmp(behind, ".id") == 0;
        if (f && f->place)
            wf_snprintf(out, WF_JSON_TOLD_MAX, "%s", f->place);
        else
            wf_snprintf(out, WF_JSON_TOLD_MAX, "%s%s%s", place_of(c), own ? "" : ": ",
                        own ? "" : behind + 1);
        return true;
    }
    return false;
}

/* ---- All changes ----------------------------------------------------------------------------- */

/* Lots move up where others before them are removed; those are few. */
static void find_places(struct run *r)
{
    for (size_t n = 0; n < r->count; n++)
        r->places[n] = r->lots[n].index;
    for (size_t k = 0; k < r->count; k++)
        for (size_t n = 0; removes(r, k) && n < r->count; n++)
            r->places[n] -= r->lots[n].known && r->lots[n].kind == r->lots[k].kind &&
                            r->lots[n].index > r->lots[k].index;
}

static enum wf_status find_lots(struct run *r, const struct wf_store *s,
                                const struct wf_catalogue *c)
{
    struct wf_stock_lots lots;
    enum wf_status status = wf_stock_lots_open(&lots, s, c);
    for (size_t n = 0; status == WF_OK && n < r->count; n++) {
        status = wf_stock_lots_find(&lots, r->changes, n, &r->lots[n], r->e);
        r->refused = r->refused || !r->lots[n].known;
    }
    wf_stock_lots_close(&lots);
    return status == WF_OK ? WF_OK : wf_json_out_of_memory(&r->source, r->e);
}

/* The changed text, if it reads as a store. */
static enum wf_status finish(struct run *r, const struct wf_catalogue *c, char **out,
                             size_t *out_length)
{
    struct wf_store *after = NULL;
    if (r->no_memory)
        return wf_json_out_of_memory(&r->source, r->e);
    WF_TRY(wf_json_edit_finish(r->edit, out, out_length, r->e));
    const struct wf_json_source changed = {r->source.name, *out, *out_length};
    const struct wf_json_teller teller = {tell, r};
    enum wf_status status = wf_store_parse_told(&changed, &teller, c, &after, r->e);
    wf_store_free(after);
    if (status == WF_OK && r->refused)
        status = WF_BAD_INPUT;
    if (status != WF_OK) {
        wf_free(*out);
        *out = NULL;
    }
    return status;
}

static enum wf_status make_all(struct run *r, const struct wf_store *before,
                               const struct wf_catalogue *c, char **out, size_t *out_length)
{
    r->lots = wf_alloc(r->count, sizeof *r->lots);
    r->places = wf_alloc(r->count, sizeof *r->places);
    if (!r->lots || !r->places)
        return wf_json_out_of_memory(&r->source, r->e);
    WF_TRY(find_lots(r, before, c));
    find_places(r);
    WF_TRY(wf_json_edit_open(&r->source, &r->edit, r->e));
    for (size_t n = 0; n < r->count; n++)
        make(r, n);
    return finish(r, c, out, out_length);
}

enum wf_status wf_stock_edit(const char *name, const char *text, size_t length,
                             const struct wf_catalogue *c, const struct wf_stock_change *changes,
                             size_t count, char **out, size_t *out_length,
                             struct wf_stock_outcome *outcomes, struct wf_error *e)
{
    struct run r = {.source = {name, text, length}, .changes = changes, .count = count, .e = e};
    struct wf_store *before = NULL;
    *out = NULL;
    WF_TRY(wf_store_parse(name, text, length, c, &before, e));
    enum wf_status status = make_all(&r, before, c, out, out_length);
    for (size_t n = 0; status == WF_OK && outcomes && n < count; n++)
        outcomes[n] = (struct wf_stock_outcome){r.lots[n].kind, r.places[n], !r.lots[n].there,
                                                !r.lots[n].changed};
    wf_json_edit_free(r.edit);
    wf_store_free(before);
    wf_free(r.lots);
    wf_free(r.places);
    return status;
}
