/* A store file changed in place: by several processes at once, by one that is killed, on a disk
 * that is full. In a folder of the test's own. */
#include "support/dice.h"
#include "support/memory.h"
#include "support/test.h"

#include "base/file.h"
#include "base/lock.h"
#include "base/text.h"
#include "wortfit/stock.h"

#include <dirent.h>
#include <signal.h>
#include <stdbool.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static char folder[] = "/tmp/wortfit-stock-XXXXXX";
static struct wf_catalogue *catalogue;

static const char *in_folder(const char *name)
{
    static char path[512];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static int set_up(void **state)
{
    (void)state;
    return mkdtemp(folder) && wf_catalogue_read(&catalogue, NULL) == WF_OK ? 0 : -1;
}

/* Visible files; all are removed on `clear`. */
static size_t count_files(bool clear)
{
    size_t count = 0;
    DIR *d = opendir(folder);
    for (struct dirent *f; d && (f = readdir(d)) != NULL;) {
        if (f->d_name[0] == '.')
            continue;
        count++;
        if (clear && unlink(in_folder(f->d_name)) != 0)
            rmdir(in_folder(f->d_name));
    }
    if (d)
        closedir(d);
    return count;
}

static int tear_down(void **state)
{
    (void)state;
    count_files(true);
    wf_catalogue_free(catalogue);
    return rmdir(folder);
}

static int start_afresh(void **state)
{
    (void)state;
    count_files(true);
    return 0;
}

/* ---- A store, and changes to it -------------------------------------------------------------- */

/* One lot of pilsner malt with so many grams, and others of a total of some `bytes` behind it. */
static void put_store(const char *name, long grams, size_t bytes)
{
    struct wf_text t = {0};
    wf_text_add(&t,
                "// invented\n{\n  \"store\": \"s\",\n  \"malts\": [\n"
                "    { \"id\": \"pilsner-malt\", \"have\": \"%ld g\" }",
                grams);
    for (int i = 0; t.length < bytes; i++)
        wf_text_add(&t, ",\n    { \"id\": \"lot-%d\", \"is\": \"crystal-60\", \"have\": \"1 kg\" }",
                    i);
    wf_text_add(&t, "\n  ]\n}\n");
    assert_false(t.failed);
    assert_int_equal(wf_file_write(in_folder(name), t.data, t.length, NULL), WF_OK);
    wf_text_free(&t);
}

static enum wf_status use_gram(const char *name, struct wf_error *e)
{
    static const struct wf_stock_change c = {
        .deed = WF_STOCK_USE, .kind = WF_KIND_MALT, .id = "pilsner-malt", .take = "1 g"};
    return wf_stock_change_file(in_folder(name), catalogue, &c, 1, NULL, NULL, e);
}

/* Grams of the first lot; the file must read as a store. */
static double grams_left(const char *name, size_t *lots)
{
    static struct wf_error e;
    struct wf_store *s = NULL;
    wf_error_clear(&e);
    if (wf_store_read(in_folder(name), catalogue, &s, &e) != WF_OK)
        fail_msg("%s", e.text);
    double grams = s->malts[0].have_kg * 1000;
    if (lots)
        *lots = s->malt_count;
    wf_store_free(s);
    return grams;
}

static void a_change_is_written(void **state)
{
    struct wf_store *after = NULL;
    struct wf_stock_outcome outcome;
    static const struct wf_stock_field have = {"have", "4 kg", NULL};
    static const struct wf_stock_change c = {.deed = WF_STOCK_SET,
                                             .kind = WF_KIND_COUNT,
                                             .id = "pilsner-malt",
                                             .fields = &have,
                                             .field_count = 1};
    (void)state;
    put_store("s.json", 1000, 0);
    assert_int_equal(use_gram("s.json", NULL), WF_OK);
    assert_close(grams_left("s.json", NULL), 999, 1e-9);
    assert_int_equal(
        wf_stock_change_file(in_folder("s.json"), catalogue, &c, 1, &outcome, &after, NULL), WF_OK);
    assert_close(after->malts[outcome.index].have_kg, 4, 1e-12);
    wf_store_free(after);
    assert_close(grams_left("s.json", NULL), 4000, 1e-9);
    assert_int_equal(count_files(false), 1);
}

static void what_is_refused_leaves_the_file_alone(void **state)
{
    struct stat before, after;
    struct wf_error e = {0};
    (void)state;
    put_store("s.json", 0, 0);
    assert_int_equal(stat(in_folder("s.json"), &before), 0);
    assert_int_equal(use_gram("s.json", &e), WF_BAD_INPUT);
    assert_string_equal(e.text, "pilsner-malt: 1 g is more than is there: 0 g");
    assert_int_equal(stat(in_folder("s.json"), &after), 0);
    assert_true(before.st_ino == after.st_ino && before.st_mtim.tv_nsec == after.st_mtim.tv_nsec);
    assert_int_equal(count_files(false), 1);
}

static void links_stay_and_lead_to_the_change(void **state)
{
    struct stat info;
    (void)state;
    put_store("s.json", 1000, 0);
    assert_int_equal(chmod(in_folder("s.json"), 0640), 0);
    assert_int_equal(symlink("s.json", in_folder("link")), 0);
    assert_int_equal(use_gram("link", NULL), WF_OK);
    assert_int_equal(lstat(in_folder("link"), &info), 0);
    assert_true(S_ISLNK(info.st_mode));
    assert_int_equal(stat(in_folder("s.json"), &info), 0);
    assert_int_equal(info.st_mode & 0777, 0640);
    assert_close(grams_left("s.json", NULL), 999, 1e-9);
}

static void expect_failure(const char *path, const char *words)
{
    static const struct wf_stock_change c = {
        .deed = WF_STOCK_REMOVE, .kind = WF_KIND_MALT, .id = "pilsner-malt"};
    struct wf_error e = {0};
    assert_int_equal(wf_stock_change_file(path, catalogue, &c, 1, NULL, NULL, &e), WF_FILE);
    if (!strstr(e.text, words))
        fail_msg("\"%s\" does not say \"%s\"", e.text, words);
}

/* A pipe must not be waited for. */
static void what_is_no_file_is_not_changed(void **state)
{
    (void)state;
    expect_failure(in_folder("absent"), "no such file");
    expect_failure(folder, "it is a folder; give a file");
    expect_failure("-", "standard input cannot be changed in place");
    expect_failure("/dev/null", "it is no ordinary file");
    assert_int_equal(mkfifo(in_folder("pipe"), 0600), 0);
    expect_failure(in_folder("pipe"), "it is no ordinary file");
}

static void a_full_disk_leaves_the_old_file(void **state)
{
    struct rlimit old, tight;
    struct wf_error e = {0};
    size_t lots;
    (void)state;
    put_store("s.json", 1000, 100000);
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &old), 0);
    tight = old;
    tight.rlim_cur = 50000;
    signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &tight), 0);
    enum wf_status status = use_gram("s.json", &e);
    setrlimit(RLIMIT_FSIZE, &old);
    signal(SIGXFSZ, SIG_DFL);
    assert_int_equal(status, WF_FILE);
    assert_non_null(strstr(e.text, "larger than the system allows"));
    assert_close(grams_left("s.json", &lots), 1000, 1e-9);
    assert_true(lots > 1000);
    assert_int_equal(count_files(false), 1);
}

/* ---- Locks ----------------------------------------------------------------------------------- */

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void a_locked_file_is_waited_for_and_then_given_up(void **state)
{
    struct wf_lock mine, other;
    struct wf_error e = {0};
    (void)state;
    put_store("s.json", 1000, 0);
    assert_int_equal(wf_lock_take(in_folder("s.json"), 0, &mine, &e), WF_OK);
    double start = now();
    assert_int_equal(wf_lock_take(in_folder("s.json"), 0.2, &other, &e), WF_FILE);
    assert_true(now() - start >= 0.2 && now() - start < 5);
    assert_non_null(strstr(e.text, "another process is at it, and was not done after 0.2 s"));
    wf_lock_release(&mine);
    assert_int_equal(wf_lock_take(in_folder("s.json"), 0, &other, &e), WF_OK);
    wf_lock_release(&other);
}

/* Who waits for a file that is replaced meanwhile gets the new one, not what lies no more there. */
static void who_waited_locks_the_file_that_is_there_now(void **state)
{
    struct wf_lock mine;
    int status;
    (void)state;
    put_store("s.json", 1000, 0);
    assert_int_equal(wf_lock_take(in_folder("s.json"), 0, &mine, NULL), WF_OK);
    pid_t child = fork();
    if (child == 0)
        _exit(use_gram("s.json", NULL) == WF_OK ? 0 : 1);
    nanosleep(&(struct timespec){.tv_nsec = 100000000}, NULL); /* it waits now */
    put_store("s.json", 500, 0);
    wf_lock_release(&mine);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    assert_close(grams_left("s.json", NULL), 499, 1e-9);
}

/* ---- Several processes ----------------------------------------------------------------------- */

#define PROCESSES 4
#define TIMES     25

static void add_lot(int process, int n)
{
    char id[32];
    snprintf(id, sizeof id, "lot-%d-%d", process, n);
    const struct wf_stock_field is = {"is", "crystal-60", NULL};
    const struct wf_stock_change c = {
        .deed = WF_STOCK_ADD, .kind = WF_KIND_COUNT, .id = id, .fields = &is, .field_count = 1};
    if (wf_stock_change_file(in_folder("s.json"), catalogue, &c, 1, NULL, NULL, NULL) != WF_OK)
        _exit(1);
}

/* Each process takes a gram and adds a lot, time after time. */
static void nothing_is_lost_between_processes(void **state)
{
    pid_t child[PROCESSES];
    size_t lots;
    (void)state;
    put_store("s.json", 1000, 0);
    for (int p = 0; p < PROCESSES; p++) {
        child[p] = fork();
        assert_true(child[p] >= 0);
        for (int n = 0; child[p] == 0 && n < TIMES; n++) {
            if (use_gram("s.json", NULL) != WF_OK)
                _exit(1);
            add_lot(p, n);
        }
        if (child[p] == 0)
            _exit(0);
    }
    for (int p = 0; p < PROCESSES; p++) {
        int status;
        assert_int_equal(waitpid(child[p], &status, 0), child[p]);
        assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    }
    assert_close(grams_left("s.json", &lots), 1000 - PROCESSES * TIMES, 1e-9);
    assert_int_equal(lots, 1 + PROCESSES * TIMES);
    assert_int_equal(count_files(false), 1);
}

/* Killed at any moment, mid-write included: the file is the old one or the new one, whole, and the
 * next process is not kept waiting. The store is large, so that writing takes its time. */
static void a_killed_process_leaves_a_whole_file(void **state)
{
    struct dice d = {9};
    size_t lots, lots_now;
    (void)state;
    put_store("s.json", 1000000, 100000);
    double start = now();
    assert_int_equal(use_gram("s.json", NULL), WF_OK);
    long nanoseconds = (long)(1e9 * fmin(now() - start, 0.2)); /* that one change takes */
    double first = grams_left("s.json", &lots), before = first;
    for (int run = 0; run < 40; run++) {
        int status;
        pid_t child = fork();
        assert_true(child >= 0);
        while (child == 0)
            if (use_gram("s.json", NULL) != WF_OK)
                _exit(1);
        nanosleep(&(struct timespec){.tv_nsec = dice_whole(&d, 0, 4 * nanoseconds)}, NULL);
        assert_int_equal(kill(child, SIGKILL), 0);
        assert_int_equal(waitpid(child, &status, 0), child);
        assert_true(WIFSIGNALED(status));
        double left = grams_left("s.json", &lots_now);
        assert_int_equal(lots_now, lots);
        assert_true(left <= before);
        assert_close(left, round(left), 1e-6);
        before = left;
    }
    assert_true(before < first);
    assert_int_equal(use_gram("s.json", NULL), WF_OK);
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static enum wf_status use_again(void *data, struct wf_error *e)
{
    (void)data;
    return use_gram("s.json", e);
}

static void running_out_of_memory_is_told(void **state)
{
    (void)state;
    put_store("s.json", 1000, 0);
    check_out_of_memory(use_again, NULL, 20, 7);
    assert_close(grams_left("s.json", NULL), 999, 1e-9); /* only the last one, which was whole */
    assert_int_equal(count_files(false), 1);
}

#define AFRESH(test) cmocka_unit_test_setup(test, start_afresh)

int main(void)
{
    const struct CMUnitTest tests[] = {
        AFRESH(a_change_is_written),
        AFRESH(what_is_refused_leaves_the_file_alone),
        AFRESH(links_stay_and_lead_to_the_change),
        AFRESH(what_is_no_file_is_not_changed),
        AFRESH(a_full_disk_leaves_the_old_file),
        AFRESH(a_locked_file_is_waited_for_and_then_given_up),
        AFRESH(who_waited_locks_the_file_that_is_there_now),
        AFRESH(nothing_is_lost_between_processes),
        AFRESH(a_killed_process_leaves_a_whole_file),
        AFRESH(running_out_of_memory_is_told),
    };
    return cmocka_run_group_tests_name("stock_file", tests, set_up, tear_down) != 0;
}
