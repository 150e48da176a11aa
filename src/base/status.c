/* status.c: texts and exit codes of the statuses, and the error that gathers messages. */
#include "wortfit/status.h"

#include "base/number.h"
#include "base/try.h"

#include <stdarg.h>
#include <string.h>

static const struct {
    int exit_code;
    const char *text;
} status_row[] = {
#define WF_X(id, code, text) [WF_##id] = {code, text},
    WF_STATUS_LIST(WF_X)
#undef WF_X
};
_Static_assert(WF_COUNT_OF(status_row) == WF_STATUS_COUNT, "one row a status");

void wf_error_clear(struct wf_error *e)
{
    if (e)
        memset(e, 0, sizeof *e);
}

/* Text that a message quotes begins no message of its own: line feeds in it become '?', but where a
 * line of a file is shown under the message, indented. "%s" alone passes on what was told before.
 */
static void keep_to_one(char *message, const char *format)
{
    if (strcmp(format, "%s") == 0)
        return;
    for (char *c = strchr(message, '\n'); c; c = strchr(c + 1, '\n'))
        if (c[1] != ' ')
            *c = '?';
}

/* Messages are whole or hidden: a line cut in the middle could say the opposite. */
enum wf_status(wf_error_add)(struct wf_error *e, enum wf_status status, const char *format, ...)
{
    if (!e)
        return status;
    if (e->count++ == 0)
        e->status = status;

    size_t used = strlen(e->text), newline = used > 0 ? 1 : 0;
    size_t room = sizeof e->text - used;
    if (e->hidden > 0 || room <= newline) {
        e->hidden++;
        return status;
    }
    va_list args;
    va_start(args, format);
    int length = wf_vsnprintf(e->text + used + newline, room - newline, format, args);
    va_end(args);
    if (length < 0 || (size_t)length >= room - newline) {
        e->hidden++;
        e->text[used] = '\0';
        return status;
    }
    keep_to_one(e->text + used + newline, format);
    if (newline)
        e->text[used] = '\n';
    return status;
}

const char *wf_status_text(enum wf_status status)
{
    return (size_t)status < WF_STATUS_COUNT ? status_row[status].text : "unknown status";
}

int wf_status_exit(enum wf_status status)
{
    return status_row[(size_t)status < WF_STATUS_COUNT ? status : WF_INTERNAL].exit_code;
}
