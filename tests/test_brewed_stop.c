/*
 * A brew that is cut short: killed before and after each system call that it makes, and half-way
 * through each write; on a disk that is full from some call on; where one call fails; and the same
 * once more while another process puts right what the first has left. Store and log are both old or
 * both new, however one looks at them.
 *
 * The calls are wrapped by the linker (tests/CMakeLists.txt); the library knows nothing of it.
 */
#include "support/test.h"

#include "base/alloc.h"
#include "base/file.h"
#include "wortfit/brew.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

/* ---- System calls that stop ------------------------------------------------------------------ */

enum stop { NEVER, KILL_BEFORE, KILL_AFTER, FAIL_ONCE, DISK_FULL, STOP_COUNT };

static struct {
    enum stop how;
    long at, calls;
} stop;

static bool here(enum stop how)
{
    return stop.how == how && stop.calls == stop.at;
}

/* Ends the process here, or counts the call; true: the call is to fail. */
static bool begins(void)
{
    if (here(KILL_BEFORE))
        raise(SIGKILL);
    return here(FAIL_ONCE);
}

static void ends(void)
{
    if (here(KILL_AFTER))
        raise(SIGKILL);
    stop.calls++;
}

#define WRAPPED(type, name, params, args, code)                                                    \
    type __real_##name params;                                                                     \
    type __wrap_##name params;                                                                     \
    type __wrap_##name params                                                                      \
    {                                                                                              \
        type result;                                                                               \
        if (begins()) {                                                                            \
            stop.calls++;                                                                          \
            errno = code;                                                                          \
            return -1;                                                                             \
        }                                                                                          \
        result = __real_##name args;                                                               \
        int kept = errno;                                                                          \
        ends();                                                                                    \
        errno = kept;                                                                              \
        return result;                                                                             \
    }

WRAPPED(int, rename, (const char *from, const char *to), (from, to), EIO)
WRAPPED(int, unlink, (const char *path), (path), EIO)
WRAPPED(int, fsync, (int fd), (fd), EIO)
WRAPPED(int, fchmod, (int fd, mode_t mode), (fd, mode), EPERM)

ssize_t __real_write(int fd, const void *bytes, size_t size);
ssize_t __wrap_write(int fd, const void *bytes, size_t size);
ssize_t __wrap_write(int fd, const void *bytes, size_t size)
{
    if (here(KILL_BEFORE) && size > 1)
        (void)!__real_write(fd, bytes, size / 2);
    if (begins() || (stop.how == DISK_FULL && stop.calls >= stop.at)) {
        stop.calls++;
        errno = ENOSPC;
        return -1;
    }
    ssize_t n = __real_write(fd, bytes, size);
    ends();
    return n;
}

/* What another process does just before the log's new text is opened for reading; once. */
static void (*meanwhile)(const char *path);

static void let_others_go_on(const char *path)
{
    void (*go_on)(const char *) = meanwhile;
    if (!go_on || !strstr(path, ".brews.jsonl.brewing"))
        return;
    meanwhile = NULL;
    go_on(path);
}

int __real_open(const char *path, int flags, ...);
int __wrap_open(const char *path, int flags, ...);
int __wrap_open(const char *path, int flags, ...)
{
    let_others_go_on(path);
    if (begins()) {
        stop.calls++;
        errno = EACCES;
        return -1;
    }
    int fd = __real_open(path, flags, 0666);
    int kept = errno;
    ends();
    errno = kept;
    return fd;
}

/* ---- A folder, a store, a recipe ------------------------------------------------------------- */

static char folder[64]; /* in memory where the system has such a place: it is fast to sync */
static struct wf_catalogue *catalogue;
static struct wf_recipe *recipe;
static char hash[WF_RECIPE_HASH_MAX];

#define GRAMS_BEFORE 20000.0
#define GRAMS_TAKEN  4000.0

static const char *in_folder(const char *name)
{
    static char path[16][512];
    static int next;
    next = (next + 1) % 16;
    snprintf(path[next], sizeof path[next], "%s/%s", folder, name);
    return path[next];
}

static size_t count_files(bool clear)
{
    size_t count = 0;
    DIR *d = opendir(folder);
    for (struct dirent *f; d && (f = readdir(d)) != NULL;) {
        if (f->d_name[0] == '.')
            continue;
        count++;
        if (clear)
            remove(in_folder(f->d_name));
    }
    if (d)
        closedir(d);
    return count;
}

static int set_up(void **state)
{
    static const char text[] =
        "{ \"recipe\": \"r\", \"batch_l\": 20, \"malts\": [{ \"id\": \"pilsner-malt\", \"kg\": 4 "
        "}],"
        "\"hops\": [{ \"id\": \"magnum\", \"g\": 20, \"at\": \"60 min\" }] }";
    (void)state;
    snprintf(folder, sizeof folder, "%s/wortfit-brewed-XXXXXX",
             access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
    if (!mkdtemp(folder) || wf_catalogue_read(&catalogue, NULL) != WF_OK ||
        wf_recipe_parse("r", text, strlen(text), NULL, catalogue, &recipe, NULL) != WF_OK)
        return -1;
    wf_recipe_hash(recipe, hash);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    count_files(true);
    wf_recipe_free(recipe);
    wf_catalogue_free(catalogue);
    return rmdir(folder);
}

static void put_store(void)
{
    static const char text[] = "{ \"store\": \"s\",\n  \"malts\": [\n"
                               "    { \"id\": \"pilsner-malt\", \"have\": \"20 kg\" }\n  ],\n"
                               "  \"hops\": [{ \"id\": \"magnum\", \"have\": \"500 g\" }] }\n";
    count_files(true);
    assert_int_equal(wf_file_write(in_folder("s.json"), text, strlen(text), NULL), WF_OK);
}

static enum wf_status brew(long day, struct wf_error *e)
{
    struct wf_brewed *b = NULL;
    struct wf_brewed_asked asked = {.store = in_folder("s.json"),
                                    .recipe = recipe,
                                    .planned = recipe->predicted,
                                    .hash = hash,
                                    .on = day,
                                    .measured = wf_measured_none(),
                                    .packs = 1};
    asked.measured.og = 1.045;
    asked.measured.volume_l = 20;
    enum wf_status status = wf_brewed(&asked, catalogue, &b, e);
    wf_brewed_free(b);
    return status;
}

static enum wf_status use_gram(struct wf_error *e)
{
    static const struct wf_stock_change c = {
        .deed = WF_STOCK_USE, .kind = WF_KIND_MALT, .id = "pilsner-malt", .take = "1 g"};
    return wf_stock_change_file(in_folder("s.json"), catalogue, &c, 1, NULL, NULL, e);
}

/* Brews in the log; none where there is no log. */
static size_t brews(void)
{
    static struct wf_error e;
    struct wf_log *log = NULL;
    struct stat info;
    wf_error_clear(&e);
    enum wf_status status = wf_log_read(in_folder("s.brews.jsonl"), catalogue, &log, &e);
    if (status != WF_OK && stat(in_folder("s.brews.jsonl"), &info) == 0)
        fail_msg("%s", e.text);
    size_t count = log ? log->count : 0;
    wf_log_free(log);
    return count;
}

static double grams(void)
{
    static struct wf_error e;
    struct wf_store *s = NULL;
    wf_error_clear(&e);
    if (wf_store_read(in_folder("s.json"), catalogue, &s, &e) != WF_OK)
        fail_msg("%s", e.text);
    double left = s->malts[0].have_kg * 1000;
    wf_store_free(s);
    return left;
}

/* How many brews both files tell of, besides grams that were used; fails where they differ. */
static size_t brewed_by_both(double used)
{
    size_t in_log = brews();
    assert_close(GRAMS_BEFORE - used - GRAMS_TAKEN * (double)in_log, grams(), 1e-6);
    return in_log;
}

/* ---- Runs that stop -------------------------------------------------------------------------- */

typedef enum wf_status deed(long day, struct wf_error *e);

static enum wf_status use_one(long day, struct wf_error *e)
{
    (void)day;
    return use_gram(e);
}

/* Does it in a process of its own that stops so. True: it was done before it came to that. */
static bool run(deed *what, long day, enum stop how, long at, int *exit_status)
{
    fflush(NULL);
    pid_t child = fork();
    if (child == 0) {
        stop.how = how;
        stop.at = at;
        stop.calls = 0;
        enum wf_status status = what(day, NULL);
        _exit(stop.calls <= at ? 100 : status == WF_OK ? 0 : 1);
    }
    int status = 0;
    assert_true(child > 0 && waitpid(child, &status, 0) == child);
    assert_true(WIFEXITED(status) || WTERMSIG(status) == SIGKILL);
    *exit_status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return *exit_status == 100;
}

/* What no interruption may leave: afterwards the next brew and the next use work, and nothing but
 * the two files and the temporary file of who was killed is there. */
static void go_on(size_t brewed, double used)
{
    static struct wf_error e;
    wf_error_clear(&e);
    if (use_gram(&e) != WF_OK)
        fail_msg("%s", e.text);
    assert_int_equal(brewed_by_both(used + 1), brewed);
    if (brew(20001, &e) != WF_OK)
        fail_msg("%s", e.text);
    assert_int_equal(brewed_by_both(used + 1), brewed + 1);
    assert_int_not_equal(access(in_folder("s.json.brewing"), F_OK), 0);
    assert_int_not_equal(access(in_folder("s.brews.jsonl.brewing"), F_OK), 0);
}

static void stop_everywhere(enum stop how, size_t had)
{
    int status;
    bool seen[2] = {false, false}, done = false;
    long n = 0;
    for (; !done; n++) {
        put_store();
        for (size_t i = 0; i < had; i++)
            assert_int_equal(brew(100 + (long)i, NULL), WF_OK);
        done = run(brew, 20000, how, n, &status);
        size_t brewed = brewed_by_both(0);
        assert_true(brewed == had || brewed == had + 1);
        seen[brewed - had] = true;
        if (done || status == 0)
            assert_int_equal(brewed, had + 1); /* who says that it is done has done it */
        if (brewed == had + 1)
            assert_int_equal(brew(20000, NULL), WF_BAD_INPUT); /* told twice */
        assert_int_equal(brewed_by_both(0), brewed);
        go_on(brewed, 0);
    }
    assert_true(n > 20 && seen[0] && seen[1]);
}

static void killed_before_each_call(void **state)
{
    (void)state;
    stop_everywhere(KILL_BEFORE, 0);
    stop_everywhere(KILL_BEFORE, 2);
}

static void killed_after_each_call(void **state)
{
    (void)state;
    stop_everywhere(KILL_AFTER, 0);
    stop_everywhere(KILL_AFTER, 1);
}

static void each_call_fails(void **state)
{
    (void)state;
    stop_everywhere(FAIL_ONCE, 0);
    stop_everywhere(FAIL_ONCE, 1);
}

static void the_disk_is_full_from_a_call_on(void **state)
{
    (void)state;
    stop_everywhere(DISK_FULL, 1);
}

/* Who puts right what another has left is killed as well. */
static void killed_twice(void **state)
{
    int status;
    bool done = false;
    long pairs = 0;
    (void)state;
    for (long n = 0; !done; n++) {
        bool second_done = false;
        for (long m = 0; !second_done; m++, pairs++) {
            put_store();
            done = run(brew, 20000, KILL_AFTER, n, &status);
            size_t before = brewed_by_both(0);
            second_done = run(use_one, 0, KILL_AFTER, m, &status);
            double used = GRAMS_BEFORE - GRAMS_TAKEN * (double)before - grams();
            assert_true(fabs(used) < 1e-6 || fabs(used - 1) < 1e-6);
            assert_int_equal(brewed_by_both(round(used)), before);
            if (second_done)
                assert_close(used, 1, 1e-6);
        }
        go_on(brews(), 1);
    }
    assert_true(pairs > 200);
}

/* A full disk is told, nothing is left behind, and both files stay byte by byte. */
static void a_full_disk_leaves_nothing(void **state)
{
    char *before = NULL, *after = NULL;
    size_t before_length, after_length;
    struct wf_error e = {0};
    (void)state;
    put_store();
    assert_int_equal(brew(1, NULL), WF_OK);
    assert_int_equal(wf_file_read(in_folder("s.json"), &before, &before_length, NULL), WF_OK);
    stop.how = DISK_FULL;
    stop.at = stop.calls = 0;
    enum wf_status status = brew(2, &e);
    stop.how = NEVER;
    assert_int_equal(status, WF_FILE);
    assert_non_null(strstr(e.text, "the disk is full"));
    assert_int_equal(wf_file_read(in_folder("s.json"), &after, &after_length, NULL), WF_OK);
    assert_int_equal(after_length, before_length);
    assert_memory_equal(after, before, before_length);
    assert_int_equal(count_files(false), 2);
    wf_free(before);
    wf_free(after);
}

/* ---- Several at once ------------------------------------------------------------------------- */

#define AT_ONCE 4
#define EACH    3

/* Reads both files over and over while others write them: each must always be whole. */
static void keep_reading(void)
{
    for (double least = GRAMS_BEFORE; least > GRAMS_BEFORE - 0.5;) {
        double left = grams();
        (void)brews();
        least = fmin(least, left);
    }
}

static void several_brew_at_once(void **state)
{
    (void)state;
    put_store();
    const char *text = "{ \"store\": \"s\", \"malts\": [{ \"id\": \"pilsner-malt\", \"have\": \"20 "
                       "kg\" }], \"hops\": [{ \"id\": \"magnum\", \"have\": \"500 g\" }] }";
    char big[512];
    snprintf(big, sizeof big, "%s", text);
    memcpy(strstr(big, "20 kg"), "99 kg", 5);
    assert_int_equal(wf_file_write(in_folder("s.json"), big, strlen(big), NULL), WF_OK);
    fflush(NULL);
    for (long p = 0; p < AT_ONCE; p++)
        if (fork() == 0) {
            int failed = 0;
            for (long i = 0; i < EACH; i++)
                failed += brew(100 * p + i, NULL) != WF_OK || use_gram(NULL) != WF_OK;
            _exit(failed);
        }
    for (int p = 0; p < AT_ONCE; p++) {
        int status = 0;
        assert_true(wait(&status) > 0);
        assert_int_equal(status, 0);
    }
    assert_int_equal(brews(), AT_ONCE * EACH);
    assert_close(grams(), 99000 - AT_ONCE * EACH * (GRAMS_TAKEN + 1), 1e-6);
    assert_int_equal(count_files(false), 2);
}

static void readers_never_see_a_part(void **state)
{
    (void)state;
    put_store();
    fflush(NULL);
    pid_t reader = fork();
    if (reader == 0) {
        keep_reading();
        _exit(0);
    }
    for (long day = 0; day < 4; day++)
        assert_int_equal(brew(day, NULL), WF_OK);
    int status;
    assert_true(waitpid(reader, &status, 0) == reader);
    assert_int_equal(status, 0);
    assert_int_equal(brewed_by_both(0), 4);
}

/* The brew that a reader has seen half-way is put in its place, and the next one begins: what it
 * has written of the log does not count yet. */
static void finish_and_begin_the_next(const char *path)
{
    assert_string_equal(path, in_folder("s.brews.jsonl.brewing"));
    assert_int_equal(rename(path, in_folder("s.brews.jsonl")), 0);
    assert_int_equal(rename(in_folder("s.json.brewing"), in_folder("s.json")), 0);
    fclose(fopen(path, "w")); /* an empty one, to be told from any other */
}

static void a_reader_does_not_take_the_next_brews_log(void **state)
{
    int status;
    long n = 0;
    (void)state;
    for (;; n++) { /* killed right after both count */
        put_store();
        assert_false(run(brew, 1, KILL_AFTER, n, &status));
        if (access(in_folder("s.json.brewing"), F_OK) == 0)
            break;
    }
    assert_int_equal(access(in_folder("s.brews.jsonl.brewing"), F_OK), 0);
    meanwhile = finish_and_begin_the_next;
    assert_int_equal(brews(), 1);
    assert_null(meanwhile);
    assert_int_equal(brewed_by_both(0), 1);
}

/* ---- Odd folders ----------------------------------------------------------------------------- */

/* What lies under our names and is none of ours is neither read nor written through. */
static void links_are_not_followed(void **state)
{
    static const char other[] = "not ours";
    char *text = NULL;
    size_t length;
    (void)state;
    put_store();
    assert_int_equal(wf_file_write(in_folder("other"), other, strlen(other), NULL), WF_OK);
    assert_int_equal(symlink("other", in_folder("s.json.brewing")), 0);
    assert_int_equal(symlink("other", in_folder("s.brews.jsonl.brewing")), 0);
    assert_int_equal(brewed_by_both(0), 0);
    assert_int_equal(brew(1, NULL), WF_OK);
    assert_int_equal(brewed_by_both(0), 1);
    assert_int_equal(unlink(in_folder("s.brews.jsonl")), 0);
    assert_int_equal(symlink("other", in_folder("s.brews.jsonl")), 0);
    assert_int_equal(brew(2, NULL), WF_BAD_INPUT); /* it reads as no log */
    assert_int_equal(wf_file_read(in_folder("other"), &text, &length, NULL), WF_OK);
    assert_string_equal(text, other);
    wf_free(text);
}

/* A store that is a link: its log is beside the file that it leads to. */
static void a_linked_store_has_its_own_log(void **state)
{
    struct wf_store *s = NULL;
    (void)state;
    put_store();
    assert_int_equal(rename(in_folder("s.json"), in_folder("real.json")), 0);
    assert_int_equal(symlink("real.json", in_folder("s.json")), 0);
    assert_int_equal(brew(1, NULL), WF_OK);
    assert_int_equal(access(in_folder("real.brews.jsonl"), F_OK), 0);
    assert_int_not_equal(access(in_folder("s.brews.jsonl"), F_OK), 0);
    assert_int_equal(wf_store_read(in_folder("real.json"), catalogue, &s, NULL), WF_OK);
    assert_close(s->malts[0].have_kg, 16, 1e-9);
    wf_store_free(s);
}

/* The log is nobody else's to read where it was not before; a first one is as the umask says. */
static void permissions_stay(void **state)
{
    struct stat info;
    (void)state;
    put_store();
    assert_int_equal(brew(1, NULL), WF_OK);
    assert_int_equal(chmod(in_folder("s.json"), 0640), 0);
    assert_int_equal(chmod(in_folder("s.brews.jsonl"), 0600), 0);
    assert_int_equal(brew(2, NULL), WF_OK);
    assert_int_equal(stat(in_folder("s.json"), &info), 0);
    assert_int_equal(info.st_mode & 0777, 0640);
    assert_int_equal(stat(in_folder("s.brews.jsonl"), &info), 0);
    assert_int_equal(info.st_mode & 0777, 0600);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(killed_before_each_call),
        cmocka_unit_test(killed_after_each_call),
        cmocka_unit_test(each_call_fails),
        cmocka_unit_test(the_disk_is_full_from_a_call_on),
        cmocka_unit_test(killed_twice),
        cmocka_unit_test(a_full_disk_leaves_nothing),
        cmocka_unit_test(several_brew_at_once),
        cmocka_unit_test(readers_never_see_a_part),
        cmocka_unit_test(a_reader_does_not_take_the_next_brews_log),
        cmocka_unit_test(links_are_not_followed),
        cmocka_unit_test(a_linked_store_has_its_own_log),
        cmocka_unit_test(permissions_stay),
    };
    return cmocka_run_group_tests_name("brewed_stop", tests, set_up, tear_down);
}
