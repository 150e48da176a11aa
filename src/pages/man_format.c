/*
 * man_format.c: the manual page of a file's format, out of its JSON schema. It knows as much of
 * JSON Schema as the schemas of this project use: objects, lists, $ref into $defs, anyOf, enum.
 */
#include "pages/pages.h"

#include <cjson/cJSON.h>
#include <string.h>

#define DEPTH_MOST 6 /* objects in each other */

struct page {
    struct wf_text *out;
    const cJSON *defs;
    const char *told[64]; /* names of the objects in $defs that the page has told of */
    size_t told_count;
};

static const cJSON *member(const cJSON *node, const char *key)
{
    return cJSON_GetObjectItemCaseSensitive(node, key);
}

static const char *text_of(const cJSON *node, const char *key)
{
    const char *text = cJSON_GetStringValue(member(node, key));
    return text ? text : "";
}

/* The name in {"$ref": "#/$defs/NAME"}, or NULL. */
static const char *reference(const cJSON *node)
{
    static const char before[] = "#/$defs/";
    const char *ref = text_of(node, "$ref");
    return strncmp(ref, before, sizeof before - 1) == 0 ? ref + sizeof before - 1 : NULL;
}

static const cJSON *resolve(const struct page *p, const cJSON *node)
{
    for (int i = 0; i < DEPTH_MOST && reference(node); i++)
        node = member(p->defs, reference(node));
    return node;
}

/* True where it was told before; else it counts as told now. */
static bool is_told(struct page *p, const char *name)
{
    for (size_t i = 0; name && i < p->told_count; i++)
        if (strcmp(p->told[i], name) == 0)
            return true;
    if (name && p->told_count < sizeof p->told / sizeof p->told[0])
        p->told[p->told_count++] = name;
    return false;
}

/* ---- What a value looks like, in words ------------------------------------------------------- */

static void add_listed(struct page *p, const cJSON *list, const char *between)
{
    const cJSON *item;
    cJSON_ArrayForEach(item, list)
    {
        char *printed = cJSON_IsString(item) ? NULL : cJSON_PrintUnformatted(item);
        wf_text_add(p->out, "\\fB");
        wf_man_text(p->out, printed ? printed : cJSON_GetStringValue(item));
        wf_text_add(p->out, "\\fR%s", item->next ? between : "");
        cJSON_free(printed);
    }
}

static void add_type(struct page *p, const cJSON *node)
{
    static const char *const words[][2] = {
        {"string", "text"},           {"number", "a number"},  {"integer", "a whole number"},
        {"boolean", "true or false"}, {"object", "an object"}, {"null", "null"},
    };
    const char *type = text_of(node, "type");
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strcmp(type, words[i][0]) == 0)
            wf_text_add(p->out, "%s", words[i][1]);
}

static void add_look(struct page *p, const cJSON *node, int depth)
{
    node = resolve(p, node);
    const cJSON *any = member(node, "anyOf") ? member(node, "anyOf") : member(node, "oneOf");
    const cJSON *item;
    if (depth > DEPTH_MOST) {
        return;
    } else if (member(node, "properties")) {
        wf_text_add(p->out, "an object");
    } else if (any) {
        cJSON_ArrayForEach(item, any)
        {
            add_look(p, item, depth + 1);
            wf_text_add(p->out, "%s", item->next ? ", or " : "");
        }
    } else if (member(node, "enum")) {
        add_listed(p, member(node, "enum"), ", ");
    } else if (member(node, "const")) {
        wf_text_add(p->out, "always one value");
    } else if (member(node, "items")) {
        wf_text_add(p->out, "a list, each of it ");
        add_look(p, member(node, "items"), depth + 1);
    } else if (member(node, "examples")) {
        wf_text_add(p->out, "such as ");
        add_listed(p, member(node, "examples"), ", ");
    } else {
        add_type(p, node);
    }
}

/* ---- Keys ------------------------------------------------------------------------------------ */

static bool is_required(const cJSON *object, const char *key)
{
    const cJSON *item;
    cJSON_ArrayForEach(item, member(object, "required"))
    {
        if (strcmp(cJSON_GetStringValue(item), key) == 0)
            return true;
    }
    return false;
}

/* The object that a value is, or a list holds, or one of its alternatives; *name where it is one of
 * $defs. NULL: no object with keys. */
static const cJSON *object_in(const struct page *p, const cJSON *node, const char **name, int depth)
{
    if (depth > DEPTH_MOST)
        return NULL;
    *name = reference(node) ? reference(node) : *name;
    node = resolve(p, node);
    if (member(node, "properties"))
        return node;
    if (member(node, "items"))
        return object_in(p, member(node, "items"), name, depth + 1);
    const cJSON *item, *found = NULL;
    cJSON_ArrayForEach(item, member(node, "anyOf"))
    {
        found = found ? found : object_in(p, item, name, depth + 1);
    }
    return found;
}

/* Keys that are all alike, such as the words of character: told in one go. */
static bool are_alike(const cJSON *properties)
{
    const cJSON *item;
    int count = 0;
    cJSON_ArrayForEach(item, properties)
    {
        const char *one = text_of(item, "$ref"), *first = text_of(properties->child, "$ref");
        if (member(item, "description") || !*one || strcmp(one, first) != 0)
            return false;
        count++;
    }
    return count > 3;
}

static void add_alike(struct page *p, const cJSON *properties)
{
    const cJSON *item;
    cJSON_ArrayForEach(item, properties)
    {
        wf_text_add(p->out, "\\fB");
        wf_man_text(p->out, item->string);
        wf_text_add(p->out, "\\fR%s\n", item->next ? "," : ":");
    }
    wf_text_add(p->out, "each ");
    add_look(p, properties->child, 0);
    wf_text_add(p->out, ".\n");
}

static void add_keys(struct page *p, const cJSON *object, int depth);

/* What the key is for and what its value looks like. */
static void add_about(struct page *p, const cJSON *key)
{
    struct wf_text look = {0}, *out = p->out;
    const char *about = text_of(key, "description");
    if (!*about)
        about = text_of(resolve(p, key), "description");
    p->out = &look;
    add_look(p, key, 0);
    p->out = out;
    if (*about) {
        wf_man_sentence(out, about);
        wf_text_add(out, "A value is %s.\n", look.length > 0 ? look.data : "JSON");
    } else if (look.length > 0) {
        bool small = look.data[0] >= 'a' && look.data[0] <= 'z';
        look.data[0] = (char)(look.data[0] - (small ? 'a' - 'A' : 0));
        wf_text_add(out, "%s.\n", look.data);
    }
    out->failed |= look.failed;
    wf_text_free(&look);
}

static void add_named(struct page *p, const char *before, const char *name, const char *after)
{
    wf_text_add(p->out, "%s \\(oq", before);
    wf_man_text(p->out, name);
    wf_text_add(p->out, "\\(cq%s\n", after);
}

static void add_key(struct page *p, const cJSON *object, const cJSON *key, int depth)
{
    const char *name = NULL;
    wf_text_add(p->out, ".TP\n\\fB");
    wf_man_text(p->out, key->string);
    wf_text_add(p->out, "\\fR%s\n", is_required(object, key->string) ? " (required)" : "");
    add_about(p, key);
    const cJSON *inner = object_in(p, key, &name, 0);
    if (!inner || depth >= DEPTH_MOST)
        return;
    if (is_told(p, name)) {
        add_named(p, "Its keys are told above, at", name, ".");
        return;
    }
    wf_text_add(p->out, ".RS\n");
    if (name) {
        wf_text_add(p->out, ".PP\n");
        add_named(p, "Keys of", name, ":");
    }
    add_keys(p, inner, depth + 1);
    wf_text_add(p->out, ".RE\n");
}

static void add_keys(struct page *p, const cJSON *object, int depth)
{
    const cJSON *properties = member(object, "properties"), *key;
    if (properties->child && are_alike(properties)) {
        add_alike(p, properties);
        return;
    }
    cJSON_ArrayForEach(key, properties)
    {
        add_key(p, object, key, depth);
    }
}

static void add_head(struct page *p, const char *name, const char *about)
{
    struct wf_text title = {0}, what = {0};
    wf_text_add(&title, "wortfit-%s", name);
    wf_text_add(&what, "the format of a %s file", name);
    if (title.failed || what.failed)
        p->out->failed = true;
    else
        wf_man_head(p->out, title.data, 5, what.data);
    wf_text_free(&title);
    wf_text_free(&what);
    wf_man_section(p->out, "DESCRIPTION");
    wf_man_text(p->out, about);
    wf_text_add(p->out, "\n.PP\nA file is JSON in UTF\\-8; comments of the forms // and /* */ are "
                        "allowed.\nA key that is not known is refused.\n");
}

enum wf_status wf_man_format(struct wf_text *out, const char *name, const char *schema,
                             struct wf_error *e)
{
    cJSON *root = cJSON_Parse(schema);
    struct page p = {.out = out, .defs = member(root, "$defs")};
    if (!member(root, "properties")) {
        cJSON_Delete(root);
        return wf_error_add(e, WF_BAD_INPUT, "%s: is not the schema of an object", name);
    }
    add_head(&p, name, text_of(root, "description"));
    wf_man_section(out, "KEYS");
    add_keys(&p, root, 0);
    wf_man_section(out, "SEE ALSO");
    wf_text_add(out,
                ".BR wortfit (1)\n.PP\nThe JSON schema %s.schema.json says the same to "
                "programs; it is installed in share/wortfit/schemas.\n",
                name);
    cJSON_Delete(root);
    return WF_OK;
}
