/* Temporary files: signals wait while there is one, and what others left is taken away. */
#include "support/test.h"

#include "base/file.h"
#include "base/temporary.h"

#include <dirent.h>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static char folder[64];

static const char *in_folder(const char *name)
{
    static char path[4][384];
    static int next;
    char *p = path[next++ % 4];
    snprintf(p, sizeof path[0], "%s/%s", folder, name);
    return p;
}

static int set_up(void **state)
{
    (void)state;
    snprintf(folder, sizeof folder, "/tmp/wortfit-temporary-XXXXXX");
    return mkdtemp(folder) ? 0 : -1;
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

static int clear(void **state)
{
    (void)state;
    count_files(true);
    return 0;
}

static int tear_down(void **state)
{
    clear(state);
    return rmdir(folder);
}

static int put(const char *name)
{
    int fd = open(in_folder(name), O_WRONLY | O_CREAT, 0666);
    assert_true(fd >= 0);
    return fd;
}

static bool is_there(const char *name)
{
    struct stat info;
    return lstat(in_folder(name), &info) == 0;
}

static void write_mine(void)
{
    assert_int_equal(wf_file_write(in_folder("mine"), "text", 4, NULL), WF_OK);
}

/* Only what has exactly the name of a temporary file of this file, is an ordinary file and held by
 * nobody. */
static void what_was_left_is_taken_away(void **state)
{
    static const char *const stays[] = {
        "mine.12-34.tmp",           "mine.12-34.wortfit-new2", "mine.12-.wortfit-new",
        "mine.-34.wortfit-new",     "mine.12-3x.wortfit-new",  "mine2.12-34.wortfit-new",
        "yours.12-34.wortfit-new",  "mine12-34.wortfit-new",   "ine.12-34.wortfit-new",
        "mine.12-34-5.wortfit-new",
    };
    (void)state;
    close(put("mine.12-34.wortfit-new"));
    close(put("mine.99999999-1.wortfit-new"));
    for (size_t i = 0; i < sizeof stays / sizeof *stays; i++)
        close(put(stays[i]));
    assert_int_equal(symlink("yours", in_folder("mine.5-6.wortfit-new")), 0);
    assert_int_equal(mkdir(in_folder("mine.7-8.wortfit-new"), 0755), 0);
    assert_int_equal(mkfifo(in_folder("mine.9-10.wortfit-new"), 0644), 0);
    write_mine();
    assert_false(is_there("mine.12-34.wortfit-new"));
    assert_false(is_there("mine.99999999-1.wortfit-new"));
    for (size_t i = 0; i < sizeof stays / sizeof *stays; i++)
        assert_true(is_there(stays[i]));
    assert_true(is_there("mine.5-6.wortfit-new"));
    assert_true(is_there("mine.7-8.wortfit-new"));
    assert_true(is_there("mine.9-10.wortfit-new"));
    assert_true(is_there("mine"));
}

static void what_is_being_written_stays(void **state)
{
    (void)state;
    int fd = put("mine.12-34.wortfit-new");
    assert_int_equal(flock(fd, LOCK_EX), 0);
    write_mine();
    assert_true(is_there("mine.12-34.wortfit-new"));
    close(fd);
    write_mine();
    assert_false(is_there("mine.12-34.wortfit-new"));
}

/* Of two that write the same file each keeps its own. */
static void two_writers_do_not_meet(void **state)
{
    (void)state;
    struct wf_temporary a, b;
    assert_int_equal(wf_temporary_begin(in_folder("mine"), 0666, &a), 0);
    assert_int_equal(wf_temporary_begin(in_folder("mine"), 0666, &b), 0);
    assert_int_equal(count_files(false), 2);
    wf_temporary_end(&b, false);
    wf_temporary_end(&a, false);
    assert_int_equal(count_files(false), 0);
}

/* The signal ends the process once the temporary file is gone, and no sooner. */
static void signals_wait(void **state)
{
    static const int signals[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGPIPE, SIGALRM};
    (void)state;
    for (size_t i = 0; i < sizeof signals / sizeof *signals; i++) {
        pid_t child = fork();
        assert_true(child >= 0);
        if (child == 0) {
            struct wf_temporary t;
            if (wf_temporary_begin(in_folder("mine"), 0666, &t) != 0)
                _exit(1);
            raise(signals[i]);
            close(put("reached"));
            wf_temporary_end(&t, false);
            _exit(2);
        }
        int status;
        assert_int_equal(waitpid(child, &status, 0), child);
        assert_true(WIFSIGNALED(status));
        assert_int_equal(WTERMSIG(status), signals[i]);
        assert_true(is_there("reached"));
        assert_int_equal(count_files(true), 1);
    }
}

/* Afterwards the program's own mask is as it was. */
static void the_mask_is_given_back(void **state)
{
    (void)state;
    sigset_t before, after;
    struct wf_temporary t;
    sigprocmask(SIG_SETMASK, NULL, &before);
    write_mine();
    assert_int_not_equal(wf_temporary_begin(in_folder("none/mine"), 0666, &t), 0);
    sigprocmask(SIG_SETMASK, NULL, &after);
    for (int s = 1; s < 32; s++)
        assert_int_equal(sigismember(&after, s), sigismember(&before, s));
}

/* Nobody else may read the new text before it has the old one's permissions. */
static void a_private_file_stays_private(void **state)
{
    (void)state;
    struct stat info;
    struct wf_temporary t;
    assert_int_equal(wf_temporary_begin(in_folder("mine"), 0600, &t), 0);
    assert_int_equal(fstat(t.fd, &info), 0);
    assert_int_equal(info.st_mode & 077, 0);
    wf_temporary_end(&t, false);
    write_mine();
    assert_int_equal(chmod(in_folder("mine"), 0640), 0);
    write_mine();
    assert_int_equal(stat(in_folder("mine"), &info), 0);
    assert_int_equal(info.st_mode & 0777, 0640);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(what_was_left_is_taken_away, clear),
        cmocka_unit_test_teardown(what_is_being_written_stays, clear),
        cmocka_unit_test_teardown(two_writers_do_not_meet, clear),
        cmocka_unit_test_teardown(signals_wait, clear),
        cmocka_unit_test_teardown(the_mask_is_given_back, clear),
        cmocka_unit_test_teardown(a_private_file_stays_private, clear),
    };
    return cmocka_run_group_tests_name("temporary", tests, set_up, tear_down);
}
