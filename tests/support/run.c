/* run.c: fork, exec, and a wait that has an end. */
#include "support/run.h"

#include <fcntl.h>
#include <signal.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* In the child: never returns. */
static void become(const char *const *argv, const char *log)
{
    char *copy[32]; /* execv takes pointers to non-const, though it changes nothing */
    size_t n = 0;
    for (; argv[n] != NULL && n + 1 < sizeof copy / sizeof *copy; n++)
        copy[n] = (char *)(uintptr_t)argv[n];
    copy[n] = NULL;
    int out = open(log, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    if (out >= 0 && dup2(out, STDOUT_FILENO) >= 0 && dup2(out, STDERR_FILENO) >= 0)
        execv(copy[0], copy);
    _exit(127);
}

int run_program(const char *const *argv, const char *log, double seconds)
{
    const struct timespec moment = {.tv_nsec = 2000000};
    double end = now() + seconds;
    pid_t child = fork();
    int status;
    if (child < 0)
        return -1;
    if (child == 0)
        become(argv, log);
    for (;;) {
        pid_t got = waitpid(child, &status, WNOHANG);
        if (got == child)
            return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
        if (got < 0)
            return -1;
        if (now() > end) {
            kill(child, SIGKILL);
            waitpid(child, &status, 0);
            return -1;
        }
        nanosleep(&moment, NULL);
    }
}
