/* golden.c: see golden.h. */
#include "support/golden.h"

#include <dirent.h>
#include <stdbool.h>

#define CASES_MOST 1000

static char paths[CASES_MOST][GOLDEN_PATH_MAX];

static int by_name(const void *a, const void *b)
{
    return strcmp(a, b);
}

static size_t list_cases(const char *folder)
{
    char root[GOLDEN_PATH_MAX];
    size_t count = 0;
    snprintf(root, sizeof root, "%s/tests/golden/%s", WF_SOURCE_DIR, folder);
    DIR *dir = opendir(root);
    for (struct dirent *entry; dir && count < CASES_MOST && (entry = readdir(dir)) != NULL;) {
        if (entry->d_name[0] == '.')
            continue;
        int length = snprintf(paths[count], GOLDEN_PATH_MAX, "%s/%s", root, entry->d_name);
        count += length > 0 && length < GOLDEN_PATH_MAX;
    }
    if (dir)
        closedir(dir);
    qsort(paths, count, GOLDEN_PATH_MAX, by_name);
    return count;
}

int golden_run(const char *folder, CMUnitTestFunction one)
{
    static struct CMUnitTest tests[CASES_MOST];
    size_t count = list_cases(folder);
    if (count == 0) {
        print_error("no cases in tests/golden/%s\n", folder);
        return 1;
    }
    for (size_t i = 0; i < count; i++)
        tests[i] = (struct CMUnitTest){
            .name = strrchr(paths[i], '/') + 1, .test_func = one, .initial_state = paths[i]};
    return _cmocka_run_group_tests(folder, tests, count, NULL, NULL) != 0;
}

static FILE *open_file(const char *path, const char *name, const char *mode)
{
    char full[GOLDEN_PATH_MAX + 64];
    snprintf(full, sizeof full, "%s/%s", path, name);
    return fopen(full, mode);
}

char *golden_read(const char *path, const char *name, size_t *length)
{
    FILE *file = open_file(path, name, "rb");
    char *text = NULL;
    size_t size = 0, got = 0;
    *length = 0;
    if (!file)
        return NULL;
    do {
        size += 65536;
        text = realloc(text, size + 1);
        assert_non_null(text);
        got = fread(text + *length, 1, size - *length, file);
        *length += got;
    } while (got > 0);
    text[*length] = '\0';
    fclose(file);
    return text;
}

static void record(const char *path, const char *name, const char *got)
{
    FILE *file = open_file(path, name, "wb");
    assert_non_null(file);
    fprintf(file, "%s\n", got);
    assert_int_equal(fclose(file), 0);
}

void golden_compare(const char *path, const char *name, const char *got)
{
    size_t length;
    if (getenv("WF_RECORD"))
        record(path, name, got);
    char *want = golden_read(path, name, &length);
    if (!want)
        fail_msg("%s/%s is missing; got:\n%s", path, name, got);
    bool same =
        length == strlen(got) + 1 && memcmp(want, got, length - 1) == 0 && want[length - 1] == '\n';
    if (!same)
        print_error("%s/%s\nwant: %s\ngot:  %s\n", path, name, want, got);
    free(want);
    assert_true(same);
}
