/* json_refuse.c: messages about values, with their place and path. */
#include "pantry/json_locate.h"
#include "pantry/json_place.h"
#include "pantry/json_reading.h"

#include "base/number.h"
#include "base/suggest.h"
#include "base/utf8.h"

#include <cjson/cJSON.h>
#include <stdarg.h>
#include <string.h>

#define NAME_MAX_SHOWN  1024 /* bytes of a file's name */
#define VALUE_MAX_SHOWN 64
#define PATH_MAX_SHOWN  200
#define MESSAGE_MAX     1024

/* ---- Where a value stands -------------------------------------------------------------------- */

/* Fills the way from `from` to `wanted`, which stands somewhere below it or is it. */
static bool find_way(const cJSON *from, const cJSON *wanted, struct wf_json_way *way)
{
    if (from == wanted)
        return true;
    if (way->depth == WF_JSON_DEPTH_MOST)
        return false;
    size_t level = way->depth++, index = 0;
    for (const cJSON *child = from->child; child; child = child->next, index++) {
        way->child[level] = index;
        if (find_way(child, wanted, way))
            return true;
    }
    way->depth--;
    return false;
}

static const cJSON *nth_child(const cJSON *node, size_t index)
{
    const cJSON *child = node->child;
    while (index-- > 0)
        child = child->next;
    return child;
}

/* "malts[3].have"; "" for the root. */
static void print_path(const cJSON *root, const struct wf_json_way *way, char out[PATH_MAX_SHOWN])
{
    char key[VALUE_MAX_SHOWN];
    size_t used = 0;
    const cJSON *node = root;
    out[0] = '\0';
    for (size_t i = 0; i < way->depth && used < PATH_MAX_SHOWN - 1; i++) {
        const cJSON *child = nth_child(node, way->child[i]);
        char *p = out + used;
        size_t room = PATH_MAX_SHOWN - used;
        if (cJSON_IsArray(node))
            wf_snprintf(p, room, "[%zu]", way->child[i]);
        else
            wf_snprintf(p, room, "%s%s", i > 0 ? "." : "",
                        wf_utf8_safe(child->string, strlen(child->string), key, sizeof key));
        used += strlen(p);
        node = child;
    }
}

/* ---- Messages -------------------------------------------------------------------------------- */

/* Once messages find no room any more they are only counted: locating each of a million would take
 * long. */
static void refuse(struct wf_json *j, const cJSON *node, bool at_key, const char *message)
{
    char path[PATH_MAX_SHOWN], name[NAME_MAX_SHOWN], told[WF_JSON_TOLD_MAX];
    struct wf_json_way way = {0};
    j->refused++;
    if (!j->error || j->error->hidden > 0 || !find_way(j->root, node, &way)) {
        wf_error_add(j->error, WF_BAD_INPUT, "%s", message);
        return;
    }
    print_path(j->root, &way, path);
    if (j->teller && j->teller->tell(j->teller->data, path, told)) {
        wf_error_add(j->error, WF_BAD_INPUT, "%s: %s", told, message);
        return;
    }
    const struct wf_json_source *s = &j->source;
    struct wf_json_spot spot = wf_json_locate(j->blanked, s->length, &way);
    struct wf_json_place place = wf_json_place(s->text, s->length, at_key ? spot.key : spot.value);
    wf_utf8_safe(s->name, strlen(s->name), name, sizeof name);
    wf_error_add(j->error, WF_BAD_INPUT, "%s:%zu:%zu: %s%s%s", name, j->lines_before + place.line,
                 place.column, path, path[0] ? ": " : "", message);
}

void wf_json_refuse(struct wf_json *j, const cJSON *node, const char *format, ...)
{
    char message[MESSAGE_MAX];
    va_list args;
    va_start(args, format);
    wf_vsnprintf(message, sizeof message, format, args);
    va_end(args);
    refuse(j, node, false, message);
}

void wf_json_refuse_key(struct wf_json *j, const cJSON *node, const char *format, ...)
{
    char message[MESSAGE_MAX];
    va_list args;
    va_start(args, format);
    wf_vsnprintf(message, sizeof message, format, args);
    va_end(args);
    refuse(j, node, true, message);
}

static const char *show(const cJSON *node, char out[VALUE_MAX_SHOWN])
{
    char text[VALUE_MAX_SHOWN - 2];
    if (cJSON_IsString(node)) {
        wf_utf8_safe(node->valuestring, strlen(node->valuestring), text, sizeof text);
        wf_snprintf(out, VALUE_MAX_SHOWN, "\"%s\"", text);
        return out;
    }
    if (cJSON_IsNumber(node))
        return wf_number_print(node->valuedouble, out) ? out : "a number";
    if (cJSON_IsBool(node))
        return cJSON_IsTrue(node) ? "true" : "false";
    return cJSON_IsArray(node) ? "a list" : cJSON_IsObject(node) ? "an object" : "null";
}

void wf_json_refuse_read(struct wf_json *j, const cJSON *node, const char *format, ...)
{
    char shown[VALUE_MAX_SHOWN], message[MESSAGE_MAX];
    va_list args;
    wf_snprintf(message, sizeof message, "read %s; ", show(node, shown));
    size_t used = strlen(message);
    va_start(args, format);
    wf_vsnprintf(message + used, sizeof message - used, format, args);
    va_end(args);
    refuse(j, node, false, message);
}

void wf_json_refuse_which(struct wf_json *j, const cJSON *node, const char *why)
{
    char shown[VALUE_MAX_SHOWN];
    wf_json_refuse(j, node, "read %s, which %s", show(node, shown), why);
}

char *wf_json_nearest(const char *word, const char *const *words, size_t count,
                      char out[WF_REASON_MAX])
{
    int near = wf_suggest(word, words, count);
    out[0] = '\0';
    if (near >= 0)
        wf_snprintf(out, WF_REASON_MAX, "; the nearest is \"%s\"", words[near]);
    return out;
}

char *wf_json_join(const char *const *words, size_t count, char out[WF_REASON_MAX])
{
    static const char more[] = ", ...";
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < count; i++) {
        size_t room = i + 1 < count ? sizeof more : 1; /* what is left out is told */
        if (used + 2 + strlen(words[i]) + room > WF_REASON_MAX) {
            wf_snprintf(out + used, WF_REASON_MAX - used, "%s", i > 0 ? more : more + 2);
            break;
        }
        wf_snprintf(out + used, WF_REASON_MAX - used, "%s%s", i > 0 ? ", " : "", words[i]);
        used += strlen(out + used);
    }
    return out;
}
