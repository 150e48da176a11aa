/* terminal.c: see terminal.h. */
#include "cli/terminal.h"

#include "base/try.h"
#include "base/utf8.h"
#include "wortfit/status.h"

#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define RENEW_SECONDS 0.25

void wf_terminal_begin(void)
{
    static const int mode[] = {O_WRONLY, O_RDONLY, O_RDONLY}; /* the wrong way round */
    for (int fd = 0; fd < (int)WF_COUNT_OF(mode); fd++)
        if (fcntl(fd, F_GETFD) < 0)
            (void)open("/dev/null", mode[fd]); /* takes the lowest number that is free: fd */
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    sigemptyset(&ignore.sa_mask);
    sigaction(SIGXFSZ, &ignore, NULL);
}

bool wf_terminal_colour(void)
{
    const char *no = getenv("NO_COLOR"), *kind = getenv("TERM");
    return isatty(STDOUT_FILENO) && !(no && *no) && kind && strcmp(kind, "dumb") != 0;
}

void wf_terminal_complain(const char *text)
{
    char safe[WF_ERROR_TEXT_MAX];
    while (*text) {
        size_t length = strcspn(text, "\n");
        const char *head = *text == ' ' ? "" : "wortfit: "; /* a line of a file, its caret */
        (void)fprintf(stderr, "%s%s\n", head, wf_utf8_safe(text, length, safe, sizeof safe));
        text += length + (text[length] == '\n');
    }
}

void wf_terminal_progress(void *data, double seconds, double value, double bound)
{
    struct wf_terminal_line *line = data;
    if (seconds < 1 || seconds < line->last + RENEW_SECONDS || !isatty(STDERR_FILENO))
        return;
    line->shown = true;
    line->last = seconds;
    (void)fprintf(stderr, "\r%78s\rworking, %.0f s", "", seconds);
    if (isfinite(value))
        (void)fprintf(stderr, ": best so far %.4g", value);
    if (isfinite(value) && isfinite(bound))
        (void)fprintf(stderr, ", none can be under %.4g", bound);
    (void)fflush(stderr);
}

void wf_terminal_progress_end(struct wf_terminal_line *line)
{
    if (line->shown)
        (void)fprintf(stderr, "\r%78s\r", "");
    line->shown = false;
}

/* A signal handler can only reach a static; nothing else in the program writes it. */
static volatile bool interrupted;

static void on_signal(int signal)
{
    (void)signal;
    interrupted = true;
}

const volatile bool *wf_terminal_watch(void)
{
    struct sigaction action = {.sa_handler = on_signal, .sa_flags = (int)SA_RESETHAND};
    sigemptyset(&action.sa_mask);
    sigaction(SIGINT, &action, NULL);
    sigaction(SIGTERM, &action, NULL);
    return &interrupted;
}
