/* Whole files in and out, in a folder of the test's own. */
#include "support/test.h"

#include "base/alloc.h"
#include "base/file.h"

#include <dirent.h>
#include <signal.h>
#include <stdbool.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[] = "/tmp/wortfit-test-XXXXXX";

static const char *in_folder(const char *name)
{
    static char path[512];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static int make_folder(void **state)
{
    (void)state;
    return mkdtemp(folder) ? 0 : -1;
}

static size_t count_files(void)
{
    size_t count = 0;
    DIR *d = opendir(folder);
    for (struct dirent *f; d && (f = readdir(d)) != NULL;)
        count += f->d_name[0] != '.';
    if (d)
        closedir(d);
    return count;
}

static int remove_folder(void **state)
{
    (void)state;
    DIR *d = opendir(folder);
    for (struct dirent *f; d && (f = readdir(d)) != NULL;)
        if (f->d_name[0] != '.' && unlink(in_folder(f->d_name)) != 0)
            rmdir(in_folder(f->d_name));
    if (d)
        closedir(d);
    return rmdir(folder);
}

static void put(const char *name, const char *text, size_t length)
{
    FILE *f = fopen(in_folder(name), "wb");
    assert_non_null(f);
    assert_int_equal(fwrite(text, 1, length, f), length);
    assert_int_equal(fclose(f), 0);
}

static void expect_text(const char *name, const char *text, size_t length)
{
    char *got = NULL;
    size_t got_length = 0;
    assert_int_equal(wf_file_read(in_folder(name), &got, &got_length, NULL), WF_OK);
    assert_int_equal(got_length, length);
    assert_memory_equal(got, text, length);
    assert_int_equal(got[length], '\0');
    wf_free(got);
}

static void what_is_written_is_read(void **state)
{
    (void)state;
    static const char bytes[] = "a\0b\r\n\xFF";
    struct wf_error e = {0};
    assert_int_equal(wf_file_write(in_folder("new"), bytes, sizeof bytes - 1, &e), WF_OK);
    expect_text("new", bytes, sizeof bytes - 1);
    assert_int_equal(wf_file_write(in_folder("new"), "", 0, &e), WF_OK);
    expect_text("new", "", 0);
    assert_int_equal(e.count, 0);
    assert_int_equal(count_files(), 1);
}

static void size_limit_holds_to_the_byte(void **state)
{
    (void)state;
    char *large = calloc(WF_FILE_MOST + 1, 1), *got = NULL;
    size_t length = 0;
    struct wf_error e = {0};
    put("most", large, WF_FILE_MOST);
    assert_int_equal(wf_file_read(in_folder("most"), &got, &length, &e), WF_OK);
    assert_int_equal(length, WF_FILE_MOST);
    wf_free(got);
    got = NULL;
    put("more", large, WF_FILE_MOST + 1);
    assert_int_equal(wf_file_read(in_folder("more"), &got, &length, &e), WF_FILE);
    assert_null(got);
    assert_non_null(strstr(e.text, "more: it is larger than 16 MiB"));
    free(large);
}

static void expect_failure(const char *path, const char *words, bool writing)
{
    char *text = NULL;
    size_t length = 0;
    struct wf_error e = {0};
    enum wf_status s =
        writing ? wf_file_write(path, "x", 1, &e) : wf_file_read(path, &text, &length, &e);
    assert_int_equal(s, WF_FILE);
    assert_int_equal(e.status, WF_FILE);
    assert_null(text);
    assert_non_null(strstr(e.text, path));
    if (!strstr(e.text, words))
        fail_msg("\"%s\" does not say \"%s\"", e.text, words);
}

static void failures_say_why(void **state)
{
    (void)state;
    size_t before = count_files();
    put("plain", "x", 1);
    expect_failure(in_folder("absent"), "no such file", false);
    expect_failure(in_folder("plain/under"), "not a folder", false);
    expect_failure(folder, "it is a folder; give a file", false);
    expect_failure(folder, "it is a folder; give a file", true);
    expect_failure(in_folder("absent/new"), "no such file or folder", true);
    expect_failure("", "no such file", false);
    assert_int_equal(count_files(), before + 1);
}

/* A write that fails half-way (a limit on the size of files stands for a full disk) leaves the old
 * file as it was and no temporary one. */
static void failed_write_leaves_the_old_file(void **state)
{
    (void)state;
    struct rlimit old, tight;
    struct wf_error e = {0};
    char *large = calloc(100000, 1);
    put("old", "precious", 8);
    size_t before = count_files();
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &old), 0);
    tight = old;
    tight.rlim_cur = 50000;
    signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &tight), 0);
    enum wf_status s = wf_file_write(in_folder("old"), large, 100000, &e);
    enum wf_status s_new = wf_file_write(in_folder("fresh"), large, 100000, &e);
    setrlimit(RLIMIT_FSIZE, &old);
    signal(SIGXFSZ, SIG_DFL);
    free(large);
    assert_int_equal(s, WF_FILE);
    assert_int_equal(s_new, WF_FILE);
    assert_int_equal(e.count, 2);
    expect_text("old", "precious", 8);
    assert_int_equal(count_files(), before);
}

/* A file that happens to have the temporary one's name is somebody's: another name is taken. */
static void no_other_file_is_touched(void **state)
{
    (void)state;
    char other[64];
    snprintf(other, sizeof other, "mine.%ld-0.tmp", (long)getpid());
    put(other, "somebody's", 10);
    assert_int_equal(wf_file_write(in_folder("mine"), "text", 4, NULL), WF_OK);
    expect_text("mine", "text", 4);
    expect_text(other, "somebody's", 10);
}

static void permissions_and_links_are_kept(void **state)
{
    (void)state;
    struct stat info;
    put("private", "1", 1);
    assert_int_equal(chmod(in_folder("private"), 0640), 0);
    assert_int_equal(symlink("private", in_folder("link")), 0);
    assert_int_equal(wf_file_write(in_folder("link"), "22", 2, NULL), WF_OK);
    assert_int_equal(lstat(in_folder("link"), &info), 0);
    assert_true(S_ISLNK(info.st_mode));
    assert_int_equal(stat(in_folder("private"), &info), 0);
    assert_int_equal(info.st_mode & 0777, 0640);
    expect_text("private", "22", 2);
}

/* A device must be written to, never replaced by a file of its name. */
static void device_stays_a_device(void **state)
{
    (void)state;
    struct stat info;
    assert_int_equal(wf_file_write("/dev/null", "x", 1, NULL), WF_OK);
    assert_int_equal(stat("/dev/null", &info), 0);
    assert_true(S_ISCHR(info.st_mode));
    expect_failure("/dev/full", "the disk is full", true);
}

static void standard_input_is_read(void **state)
{
    (void)state;
    int ends[2], saved = dup(STDIN_FILENO);
    char *text = NULL;
    size_t length = 0;
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], "from a pipe", 11), 11);
    close(ends[1]);
    dup2(ends[0], STDIN_FILENO);
    enum wf_status s = wf_file_read("-", &text, &length, NULL);
    dup2(saved, STDIN_FILENO);
    close(saved);
    close(ends[0]);
    assert_int_equal(s, WF_OK);
    assert_string_equal(text, "from a pipe");
    wf_free(text);
}

static void every_failed_allocation_is_told(void **state)
{
    (void)state;
    put("some", "text", 4);
    for (long n = 0;; n++) {
        char *text = NULL;
        size_t length = 0;
        struct wf_error e = {0};
        wf_alloc_fail_at(n);
        enum wf_status s = wf_file_read(in_folder("some"), &text, &length, &e);
        wf_alloc_fail_at(-1);
        wf_free(text);
        if (s == WF_OK)
            break;
        assert_int_equal(s, WF_MEMORY);
        assert_null(text);
        assert_non_null(strstr(e.text, "out of memory"));
    }
    wf_alloc_fail_at(0);
    enum wf_status s = wf_file_write(in_folder("some"), "other", 5, NULL);
    wf_alloc_fail_at(-1);
    assert_int_equal(s, WF_MEMORY);
    expect_text("some", "text", 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_written_is_read),
        cmocka_unit_test(size_limit_holds_to_the_byte),
        cmocka_unit_test(failures_say_why),
        cmocka_unit_test(failed_write_leaves_the_old_file),
        cmocka_unit_test(no_other_file_is_touched),
        cmocka_unit_test(permissions_and_links_are_kept),
        cmocka_unit_test(device_stays_a_device),
        cmocka_unit_test(standard_input_is_read),
        cmocka_unit_test(every_failed_allocation_is_told),
    };
    return cmocka_run_group_tests_name("file", tests, make_folder, remove_folder) != 0;
}
