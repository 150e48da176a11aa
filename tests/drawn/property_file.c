/* property_file.c: a problem written as files, told in another form, and read again. */
#include "support/test.h"

#include "drawn/file_form.h"
#include "drawn/property.h"

struct files {
    struct wf_store *store;
    struct wf_target *target;
    struct wf_brewhouse *brewhouse;
};

static char *written(const struct gen *g, void (*write)(const struct gen *, FILE *))
{
    FILE *out = tmpfile();
    assert_non_null(out);
    write(g, out);
    long size = ftell(out);
    char *text = calloc((size_t)size + 1, 1);
    assert_non_null(text);
    rewind(out);
    assert_int_equal(fread(text, 1, (size_t)size, out), (size_t)size);
    fclose(out);
    return text;
}

static char *in_form(const struct gen *g, void (*write)(const struct gen *, FILE *),
                     enum file_form form, struct dice *d)
{
    char *plain = written(g, write);
    if (form == FILE_PLAIN)
        return plain;
    char *other = file_form(plain, form, d);
    free(plain);
    return other;
}

/* Reads the three files; a file that is refused fails the test, with it. */
static void read_back(const struct gen *g, enum file_form form, struct dice *d, struct files *f)
{
    static const struct wf_catalogue none;
    static struct wf_error e;
    char *store = in_form(g, gen_write_store, form, d);
    char *target = in_form(g, gen_write_target, form, d);
    char *brewhouse = in_form(g, gen_write_brewhouse, form, d);
    wf_error_clear(&e);
    if (wf_store_parse("store", store, strlen(store), &none, &f->store, &e) != WF_OK ||
        wf_target_parse("target", target, strlen(target), &none, &f->target, &e) != WF_OK ||
        wf_brewhouse_parse("brewhouse", brewhouse, strlen(brewhouse), WF_UNITS_METRIC,
                           &f->brewhouse, &e) != WF_OK)
        fail_msg("%s\n%s\n%s\n%s", e.text, store, target, brewhouse);
    free(store);
    free(target);
    free(brewhouse);
}

static void free_files(struct files *f)
{
    wf_store_free(f->store);
    wf_target_free(f->target);
    wf_brewhouse_free(f->brewhouse);
}

static void put(const struct files *f, struct gen *g)
{
    g->store = *f->store;
    g->target = *f->target;
    g->brewhouse = *f->brewhouse;
}

struct property_result property_of_file(struct property_case *p, const void *data)
{
    enum file_form form = *(const enum file_form *)data;
    struct dice d = {.state = p->seed};
    struct property_result r = {PROPERTY_HELD, ""};
    struct files plain = {0}, other = {0};
    struct changed c;
    change_start(p->g, &c);
    c.both = true;
    read_back(p->g, form, &d, &other);
    put(&other, &c.g);
    if (form != FILE_MEMBERS) {
        r = property_judge(p, &c, false);
    } else {
        struct gen first = *p->g;
        read_back(p->g, FILE_PLAIN, &d, &plain);
        put(&plain, &first);
        char *a = property_told(&first, p->goal), *b = property_told(&c.g, p->goal);
        if (strcmp(a, b) != 0)
            r = (struct property_result){PROPERTY_FAILED, "the same bytes come out"};
        free(a);
        free(b);
    }
    free_files(&plain);
    free_files(&other);
    return r;
}
