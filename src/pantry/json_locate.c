/* json_locate.c: skipping through text that is known to be valid JSON. */
#include "pantry/json_locate.h"

#include "base/ascii.h"

#include <stdbool.h>
#include <string.h>

struct cursor {
    const char *text;
    size_t at, end;
};

static bool at_any(const struct cursor *c, const char *any_of)
{
    return c->at < c->end && c->text[c->at] != '\0' && strchr(any_of, c->text[c->at]);
}

static void skip_blanks(struct cursor *c)
{
    while (c->at < c->end && wf_ascii_blank(c->text[c->at]))
        c->at++;
}

static void skip_string(struct cursor *c)
{
    for (c->at++; c->at < c->end && c->text[c->at] != '"'; c->at++)
        if (c->text[c->at] == '\\')
            c->at++;
    c->at++;
}

/* A bracket's depth is all that matters inside: strings are skipped whole. */
static void skip_value(struct cursor *c)
{
    size_t depth = 0;
    do {
        if (at_any(c, "\"")) {
            skip_string(c);
        } else if (at_any(c, "{[")) {
            depth++;
            c->at++;
        } else if (at_any(c, "}]")) {
            depth--;
            c->at++;
        } else if (depth > 0) {
            c->at++;
        } else {
            while (c->at < c->end && !at_any(c, " \t\r\n,]}"))
                c->at++;
        }
    } while (depth > 0 && c->at < c->end);
}

/* From a container's opening bracket, or from the end of a child, to the next child's value. */
static size_t next_child(struct cursor *c, bool object)
{
    c->at++; /* the bracket or the comma */
    skip_blanks(c);
    size_t key = c->at;
    if (object) {
        skip_string(c);
        skip_blanks(c);
        c->at++; /* the colon */
        skip_blanks(c);
    }
    return key;
}

static size_t enter_child(struct cursor *c, size_t index)
{
    bool object = at_any(c, "{");
    size_t key = next_child(c, object);
    while (index-- > 0) {
        skip_value(c);
        skip_blanks(c);
        key = next_child(c, object);
    }
    return key;
}

struct wf_json_spot wf_json_locate(const char *text, size_t length, const struct wf_json_way *way)
{
    struct cursor c = {text, 0, length};
    struct wf_json_spot spot;
    skip_blanks(&c);
    spot.key = c.at;
    for (size_t i = 0; i < way->depth; i++)
        spot.key = enter_child(&c, way->child[i]);
    spot.value = c.at;
    skip_value(&c);
    spot.end = c.at;
    return spot;
}
