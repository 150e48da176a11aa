/*
 * make_pages.c: writes all pages into a folder that has man1, man5 and completion in it.
 *
 *     wortfit-pages FOLDER FILE...
 *
 * A FILE is NAME.schema.json, for a page of section 5, or an engine of a shell: completion.bash,
 * completion.zsh, completion.fish, which gets its tables.
 */
#include "pages/pages.h"

#include "base/file.h"
#include "base/number.h"
#include "base/try.h"

#include <stdio.h>
#include <string.h>

#define PATH_MOST 4096

static enum wf_status write_page(const char *folder, const char *place, const char *name,
                                 struct wf_text *text, struct wf_error *e)
{
    char path[PATH_MOST];
    int length = wf_snprintf(path, sizeof path, "%s/%s/%s", folder, place, name);
    enum wf_status status = WF_OK;
    if (text->failed)
        status = wf_error_add(e, WF_MEMORY, "out of memory");
    else if (length < 0 || (size_t)length >= sizeof path)
        status = wf_error_add(e, WF_USAGE, "%s: is too long a name", folder);
    else
        status = wf_file_write(path, text->data, text->length, e);
    wf_text_free(text);
    return status;
}

static enum wf_status write_commands(const char *folder, struct wf_error *e)
{
    struct wf_text text = {0};
    wf_man_whole(&text);
    WF_TRY(write_page(folder, "man1", "wortfit.1", &text, e));
    for (const struct wf_command *const *c = wf_commands; *c; c++) {
        char name[64];
        wf_snprintf(name, sizeof name, "wortfit-%s.1", (*c)->name);
        wf_man_command(&text, *c);
        WF_TRY(write_page(folder, "man1", name, &text, e));
    }
    return WF_OK;
}

static enum wf_status write_format(const char *folder, const char *file, const char *text,
                                   struct wf_error *e)
{
    char format[64], name[96];
    struct wf_text page = {0};
    wf_snprintf(format, sizeof format, "%.*s", (int)strcspn(file, "."), file);
    wf_snprintf(name, sizeof name, "wortfit-%s.5", format);
    enum wf_status status = wf_man_format(&page, format, text, e);
    if (status != WF_OK) {
        wf_text_free(&page);
        return status;
    }
    return write_page(folder, "man5", name, &page, e);
}

/* The engine's first line tells the shell what it is, so the tables come after it all. */
static enum wf_status write_completion(const char *folder, const char *file, const char *text,
                                       struct wf_error *e)
{
    bool fish = strcmp(file, "completion.fish") == 0;
    const char *name = fish                                  ? "wortfit.fish"
                       : strcmp(file, "completion.zsh") == 0 ? "_wortfit"
                                                             : "wortfit";
    static const char mark[] = "# TABLES\n";
    const char *at = strstr(text, mark);
    struct wf_text page = {0};
    if (!at)
        return wf_error_add(e, WF_BAD_INPUT, "%s: has no line '# TABLES'", file);
    wf_text_append(&page, text, (size_t)(at - text));
    enum wf_status status = wf_completion_tables(&page, fish ? WF_SHELL_FISH : WF_SHELL_POSIX, e);
    wf_text_append(&page, at + sizeof mark - 1, strlen(at + sizeof mark - 1));
    if (status != WF_OK) {
        wf_text_free(&page);
        return status;
    }
    return write_page(folder, "completion", name, &page, e);
}

static enum wf_status write_from(const char *folder, const char *path, struct wf_error *e)
{
    const char *slash = strrchr(path, '/'), *file = slash ? slash + 1 : path;
    char *text = NULL;
    size_t length;
    WF_TRY(wf_file_read(path, &text, &length, e));
    bool engine = strncmp(file, "completion.", strlen("completion.")) == 0;
    enum wf_status status = (engine ? write_completion : write_format)(folder, file, text, e);
    wf_free(text);
    return status;
}

int main(int argc, char **argv)
{
    static struct wf_error e;
    if (argc < 2) {
        (void)fprintf(stderr, "usage: wortfit-pages FOLDER FILE...\n");
        return wf_status_exit(WF_USAGE);
    }
    enum wf_status status = write_commands(argv[1], &e);
    for (int i = 2; i < argc && status == WF_OK; i++)
        status = write_from(argv[1], argv[i], &e);
    if (status != WF_OK)
        (void)fprintf(stderr, "wortfit-pages: %s\n", e.text);
    return wf_status_exit(status);
}
