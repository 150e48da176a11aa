/* json_put.c: see json_put.h. */
#include "report/json_put.h"

#include "base/number.h"
#include "base/quote.h"

#include <string.h>

/* What stands before a value: a comma, a new line or a space, and the key. */
static void lead(struct wf_json_put *j, const char *key)
{
    bool *begun = &j->begun[j->depth], flat = j->flat[j->depth];
    if (*begun)
        wf_text_add(j->out, ",");
    if (j->depth > 0 && !flat)
        wf_text_add(j->out, "\n%*s", 2 * j->depth, "");
    else if (*begun || (flat && key))
        wf_text_add(j->out, " ");
    *begun = true;
    if (key) {
        wf_quote_add(j->out, key);
        wf_text_add(j->out, ": ");
    }
}

void wf_put_open(struct wf_json_put *j, const char *key, char bracket, bool flat)
{
    lead(j, key);
    wf_text_add(j->out, "%c", bracket);
    if (j->depth + 1 >= WF_JSON_DEPTH_MOST) {
        j->out->failed = true;
        return;
    }
    flat = flat || j->flat[j->depth];
    j->depth++;
    j->begun[j->depth] = false;
    j->flat[j->depth] = flat;
}

void wf_put_close(struct wf_json_put *j, char bracket)
{
    bool begun = j->begun[j->depth], flat = j->flat[j->depth];
    j->depth--;
    if (begun && !flat)
        wf_text_add(j->out, "\n%*s", 2 * j->depth, "");
    else if (begun && bracket == '}')
        wf_text_add(j->out, " ");
    wf_text_add(j->out, "%c%s", bracket, j->depth == 0 ? "\n" : "");
}

void wf_put_string(struct wf_json_put *j, const char *key, const char *value)
{
    if (!value)
        return;
    lead(j, key);
    wf_quote_add(j->out, value);
}

void wf_put_number(struct wf_json_put *j, const char *key, double value)
{
    char text[WF_NUMBER_TEXT_MAX];
    if (!wf_number_print(value, text))
        return;
    lead(j, key);
    wf_text_add(j->out, "%s", text);
}

void wf_put_count(struct wf_json_put *j, const char *key, size_t value)
{
    lead(j, key);
    wf_text_add(j->out, "%zu", value);
}

void wf_put_bool(struct wf_json_put *j, const char *key, bool value)
{
    lead(j, key);
    wf_text_add(j->out, "%s", value ? "true" : "false");
}
