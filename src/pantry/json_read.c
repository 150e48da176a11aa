/*
 * json_read.c: from a file's text to structs: scan, tree, tables.
 *
 * The text is scanned strictly first, so that what reaches the tree library is known to be good and
 * a tree that cannot be built means that memory ran out.
 */
#include "pantry/json_read.h"

#include "pantry/json_place.h"
#include "pantry/json_reading.h"
#include "pantry/json_scan.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/try.h"
#include "base/utf8.h"

#include <cjson/cJSON.h>
#include <pthread.h>
#include <stdint.h>
#include <string.h>

/* ---- Objects and lists ----------------------------------------------------------------------- */

static const struct wf_json_field *find_field(const struct wf_json_table *t, const char *key)
{
    for (size_t i = 0; i < t->field_count; i++)
        if (strcmp(t->fields[i].key, key) == 0)
            return &t->fields[i];
    return NULL;
}

static void refuse_unknown_key(struct wf_json *j, const struct wf_json_table *t, const cJSON *node)
{
    const char *keys[WF_JSON_FIELDS_MOST];
    char hint[WF_REASON_MAX], known[WF_REASON_MAX];
    for (size_t i = 0; i < t->field_count; i++)
        keys[i] = t->fields[i].key;
    wf_json_nearest(node->string, keys, t->field_count, hint);
    if (hint[0] != '\0')
        wf_json_refuse_key(j, node, "unknown key%s", hint);
    else
        wf_json_refuse_key(j, node, "unknown key; known here: %s",
                           wf_json_join(keys, t->field_count, known));
}

static void refuse_missing_keys(struct wf_json *j, const struct wf_json_table *t, const cJSON *node,
                                uint64_t seen)
{
    for (size_t i = 0; i < t->field_count; i++)
        if (t->fields[i].required && !(seen >> i & 1))
            wf_json_refuse(j, node, "needs \"%s\"", t->fields[i].key);
}

void wf_json_read_object(struct wf_json *j, const struct wf_json_table *t, const cJSON *node,
                         void *at)
{
    uint64_t seen = 0;
    if (!cJSON_IsObject(node)) {
        wf_json_refuse_read(j, node, "needs an object, { ... }");
        return;
    }
    if (t->before)
        t->before(j, node, at);
    for (const cJSON *child = node->child; child; child = child->next) {
        const struct wf_json_field *f = find_field(t, child->string);
        if (!f) {
            refuse_unknown_key(j, t, child);
            continue;
        }
        seen |= UINT64_C(1) << (f - t->fields);
        f->read(j, f, child, at);
    }
    refuse_missing_keys(j, t, node, seen);
    if (t->after)
        t->after(j, node, at);
}

void wf_json_object(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    wf_json_read_object(j, f->table, node, (char *)at + f->offset);
}

bool wf_json_check_count(struct wf_json *j, const struct wf_json_field *f, const cJSON *node,
                         size_t count)
{
    if ((double)count >= f->low && (double)count <= f->high)
        return true;
    if ((double)count > f->high)
        wf_json_refuse(j, node, "holds %zu entries; at most %.0f are read", count, f->high);
    else
        wf_json_refuse(j, node, "holds %zu entries; needs at least %.0f", count, f->low);
    return false;
}

void wf_json_list(struct wf_json *j, const struct wf_json_field *f, const cJSON *node, void *at)
{
    struct wf_json_list *list = (void *)((char *)at + f->offset);
    if (!cJSON_IsArray(node)) {
        wf_json_refuse_read(j, node, "needs a list, [ ... ]");
        return;
    }
    size_t count = (size_t)cJSON_GetArraySize(node), size = f->table->size;
    if (!wf_json_check_count(j, f, node, count))
        return;
    char *item = wf_arena_alloc(j->arena, count, size);
    if (!item) {
        wf_json_no_memory(j);
        return;
    }
    *list = (struct wf_json_list){.items = item, .count = count};
    for (const cJSON *child = node->child; child; child = child->next, item += size)
        wf_json_read_object(j, f->table, child, item);
}

/* ---- Looking about --------------------------------------------------------------------------- */

void *wf_json_user(const struct wf_json *j)
{
    return j->user;
}

struct wf_arena *wf_json_arena(const struct wf_json *j)
{
    return j->arena;
}

const cJSON *wf_json_member(const cJSON *object, const char *key)
{
    return cJSON_GetObjectItemCaseSensitive(object, key);
}

const cJSON *wf_json_item(const cJSON *list, size_t index)
{
    return cJSON_GetArrayItem(list, (int)index);
}

bool wf_json_has(const cJSON *object, const char *key)
{
    return wf_json_member(object, key) != NULL;
}

const char *wf_json_string(const cJSON *node)
{
    return cJSON_IsString(node) ? node->valuestring : NULL;
}

void wf_json_no_memory(struct wf_json *j)
{
    j->no_memory = true;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static void *tree_alloc(size_t size)
{
    return wf_alloc(size, 1);
}

static void set_hooks(void)
{
    cJSON_Hooks hooks = {.malloc_fn = tree_alloc, .free_fn = wf_free};
    cJSON_InitHooks(&hooks);
}

/* The hooks are the process's; they are set once, before the first tree of this library is built.
 * They end in malloc and free, so trees that the program has built before can still be freed. */
static bool set_hooks_once(void)
{
    static pthread_once_t once = PTHREAD_ONCE_INIT;
    return pthread_once(&once, set_hooks) == 0;
}

static void refuse_text(struct wf_json *j, const struct wf_json_fault *fault)
{
    char caret[WF_JSON_CARET_MAX], name[1024];
    const struct wf_json_source *s = &j->source;
    struct wf_json_place place = wf_json_place(s->text, s->length, fault->offset);
    wf_json_caret(s->text, s->length, fault->offset, fault->span, caret);
    wf_utf8_safe(s->name, strlen(s->name), name, sizeof name);
    j->refused++;
    wf_error_add(j->error, WF_BAD_INPUT, "%s:%zu:%zu: %s%s%s", name, j->lines_before + place.line,
                 place.column, fault->reason, caret[0] ? "\n" : "", caret);
}

/* A copy of the text that the scan may blank; NULL: out of memory. */
static char *copy_text(const struct wf_json_source *s)
{
    char *copy = wf_alloc(s->length + 1, 1);
    if (copy && s->length > 0)
        memcpy(copy, s->text, s->length);
    return copy;
}

static cJSON *parse(struct wf_json *j)
{
    struct wf_json_fault fault;
    j->blanked = copy_text(&j->source);
    if (!j->blanked || !set_hooks_once()) {
        j->no_memory = true;
        return NULL;
    }
    enum wf_status status = wf_json_scan(j->blanked, j->source.length, &fault);
    if (status == WF_BAD_INPUT)
        refuse_text(j, &fault);
    cJSON *tree = status == WF_OK ? cJSON_ParseWithLength(j->blanked, j->source.length) : NULL;
    j->no_memory = !tree && status != WF_BAD_INPUT;
    return tree;
}

enum wf_status wf_json_out_of_memory(const struct wf_json_source *source, struct wf_error *e)
{
    return wf_error_add(e, WF_MEMORY, "out of memory while reading %s", source->name);
}

/* The key that a file's kind has, and no other kind. */
static const char *const kind_keys[] = {"recipe", "store", "target", "brewhouse"};

static const char *kind_of(const struct wf_json_table *table)
{
    for (size_t f = 0; f < table->field_count; f++)
        for (size_t i = 0; table->fields[f].required && i < WF_COUNT_OF(kind_keys); i++)
            if (strcmp(table->fields[f].key, kind_keys[i]) == 0)
                return kind_keys[i];
    return NULL;
}

/* A file of another kind is told as such, not key by key. */
static bool is_other_kind(struct wf_json *j, const struct wf_json_table *table, const cJSON *tree)
{
    const char *wanted = kind_of(table);
    if (!wanted || !cJSON_IsObject(tree) || wf_json_has(tree, wanted))
        return false;
    for (size_t i = 0; i < WF_COUNT_OF(kind_keys); i++) {
        const cJSON *other = wf_json_member(tree, kind_keys[i]);
        if (!other)
            continue;
        wf_json_refuse(j, other, "this is a %s; wanted a %s, which has the key \"%s\"",
                       kind_keys[i], wanted, wanted);
        return true;
    }
    return false;
}

/* Reads what *j says into the struct at `at`. */
static enum wf_status read_source(struct wf_json *j, const struct wf_json_table *table, void *at)
{
    cJSON *tree = parse(j);
    j->root = tree;
    if (tree && !is_other_kind(j, table, tree))
        wf_json_read_object(j, table, tree, at);
    cJSON_Delete(tree);
    wf_free(j->blanked);
    if (j->no_memory)
        return wf_json_out_of_memory(&j->source, j->error);
    return j->refused > 0 ? WF_BAD_INPUT : WF_OK;
}

enum wf_status wf_json_read_told(const struct wf_json_source *source,
                                 const struct wf_json_teller *teller,
                                 const struct wf_json_table *table, void *user,
                                 struct wf_arena *arena, void *at, struct wf_error *e)
{
    struct wf_json j = {
        .source = *source, .teller = teller, .arena = arena, .user = user, .error = e};
    return read_source(&j, table, at);
}

enum wf_status wf_json_read_line(const struct wf_json_source *source, size_t lines_before,
                                 const struct wf_json_table *table, void *user,
                                 struct wf_arena *arena, void *at, struct wf_error *e)
{
    struct wf_json j = {
        .source = *source, .lines_before = lines_before, .arena = arena, .user = user, .error = e};
    return read_source(&j, table, at);
}

enum wf_status wf_json_read(const struct wf_json_source *source, const struct wf_json_table *table,
                            void *user, struct wf_arena *arena, void *at, struct wf_error *e)
{
    return wf_json_read_told(source, NULL, table, user, arena, at, e);
}
