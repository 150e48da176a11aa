/*
 * faults.c: a library to preload (LD_PRELOAD) that makes a program's n-th allocation or system call
 * fail, or ends the program there, and tells what it left unfreed. The program knows nothing of it.
 *
 *     WF_FAULT_ALLOC=N       the N-th allocation fails (from 0); N+: it and all later ones
 *     WF_FAULT_CALL=NAME:N:E the N-th call of NAME fails with the errno E; N+: and all later ones;
 *                            E may be "kill", "after" (killed once it is done), "half" (killed
 * half-way through a write) or "sigS" (signal S comes before it) WF_FAULT_PLACES=FILE   gets 8
 * bytes for each allocation: a number for the place that asked, its callers included
 *     WF_FAULT_OPENED=FILE   gets the name of each file that is opened, a NUL after each
 *     WF_FAULT_TOLD=FILE     what was counted, written at the ordinary end of the program
 *
 * Freed memory is overwritten, new memory is not zero, and every realloc moves, so that a use of
 * what is gone is seen. Only blocks that the program, GLPK or cJSON asked for count as leaks: the C
 * library keeps some to the end by design. glibc only.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <malloc.h>
#include <signal.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/auxv.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>
#include <unwind.h>

void *__libc_malloc(size_t size);
void __libc_free(void *p);

/* ---- Blocks ---------------------------------------------------------------------------------- */

#define SLOTS (1u << 19) /* of the table of live blocks; a power of 2 */

static struct block {
    void *p; /* NULL: never used */
    void *caller;
    bool live;
} block[SLOTS];
static atomic_flag busy = ATOMIC_FLAG_INIT;
static long allocations, failed, wild;
static long fail_at = -1;
static bool fail_on, counting;

static void lock(void)
{
    while (atomic_flag_test_and_set(&busy))
        ;
}

static void unlock(void)
{
    atomic_flag_clear(&busy);
}

/* The block's slot, or the free one where it belongs. */
static struct block *slot_of(const void *p)
{
    size_t i = (uintptr_t)p >> 4 & (SLOTS - 1); /* neighbours stay so: few pages are touched */
    while (block[i].p && block[i].p != p)
        i = (i + 1) & (SLOTS - 1);
    return &block[i];
}

/* Whether an object that asked for memory, or gave it back, is one whose leaks are faults. */
static bool is_ours(void *caller, const char **name)
{
    Dl_info info;
    if (!dladdr(caller, &info) || !info.dli_fname)
        return false;
    const char *slash = strrchr(info.dli_fname, '/');
    *name = slash ? slash + 1 : info.dli_fname;
    return strstr(*name, "wortfit") || strstr(*name, "libglpk") || strstr(*name, "libcjson");
}

/* ---- Places ---------------------------------------------------------------------------------- */

static int frames = 8;  /* innermost callers that tell two places apart */
static int places = -1; /* the file that they are written to */
static uint64_t place[8192];
static size_t place_count;

struct walk {
    uint64_t hash;
    int frames;
};

/* Programs and libraries are loaded elsewhere each time; their distances from these two stay. */
static uint64_t relative(uint64_t address)
{
    uint64_t program = getauxval(AT_PHDR), library = (uint64_t)(uintptr_t)&places;
    uint64_t from_program = address - program, from_library = address - library;
    return from_program < (uint64_t)1 << 30 ? from_program : from_library;
}

static _Unwind_Reason_Code on_frame(struct _Unwind_Context *c, void *data)
{
    struct walk *w = data;
    w->hash = (w->hash ^ relative(_Unwind_GetIP(c))) * 0x100000001B3u; /* FNV-1a's prime */
    return ++w->frames < frames + 3 ? _URC_NO_REASON : _URC_END_OF_STACK;
}

static void flush_places(void)
{
    if (place_count > 0)
        (void)!syscall(SYS_write, places, place, place_count * sizeof place[0]);
    place_count = 0;
}

static void note_place(void)
{
    struct walk w = {.hash = 0xCBF29CE484222325u};
    counting = false; /* what the walk itself asks for */
    _Unwind_Backtrace(on_frame, &w);
    counting = true;
    place[place_count++] = w.hash;
    if (place_count == sizeof place / sizeof place[0])
        flush_places();
}

/* ---- Blocks that are asked for -----------------------------------------------------------------
 */

static bool refused(void)
{
    if (!counting)
        return false;
    if (places >= 0)
        note_place();
    long n = allocations++;
    bool now = fail_at >= 0 && (n == fail_at || (fail_on && n > fail_at));
    failed += now;
    return now;
}

static long glpk_lost; /* blocks that GLPK forgot before it asked to have them made larger */

static void note_refusal(bool larger, void *caller)
{
    const char *name = "";
    glpk_lost += larger && is_ours(caller, &name) && strstr(name, "libglpk");
}

static void *take(bool larger, size_t size, int fill, void *caller)
{
    lock();
    bool no = refused();
    if (no)
        note_refusal(larger, caller);
    unlock();
    void *p = no ? NULL : __libc_malloc(size);
    if (!p) {
        errno = ENOMEM;
        return NULL;
    }
    memset(p, fill, size);
    lock();
    *slot_of(p) = (struct block){.p = p, .caller = caller, .live = true};
    unlock();
    return p;
}

static void give_back(void *p, void *caller)
{
    const char *name;
    if (!p)
        return;
    lock();
    struct block *b = slot_of(p);
    bool known = b->p && b->live;
    b->live = false;
    unlock();
    if (!known && is_ours(caller, &name)) {
        wild++;
        return;
    }
    if (known)
        memset(p, 0xDD, malloc_usable_size(p));
    __libc_free(p);
}

void *malloc(size_t size)
{
    return take(false, size, 0xA5, __builtin_return_address(0));
}

void *calloc(size_t count, size_t size)
{
    size_t bytes;
    if (__builtin_mul_overflow(count, size, &bytes)) {
        errno = ENOMEM;
        return NULL;
    }
    return take(false, bytes, 0, __builtin_return_address(0));
}

void *realloc(void *old, size_t size)
{
    void *caller = __builtin_return_address(0);
    void *p = take(old != NULL, size, 0xA5, caller);
    if (!p || !old)
        return p;
    size_t kept = malloc_usable_size(old);
    memcpy(p, old, kept < size ? kept : size);
    give_back(old, caller);
    return p;
}

void free(void *p)
{
    give_back(p, __builtin_return_address(0));
}

/* ---- System calls ---------------------------------------------------------------------------- */

enum call { OPEN, READ, WRITE, RENAME, UNLINK, FSYNC, FCHMOD, FLOCK, CALL_COUNT };

static const char *const call_name[CALL_COUNT] = {"open",   "read",  "write",  "rename",
                                                  "unlink", "fsync", "fchmod", "flock"};
static long calls[CALL_COUNT];

static struct {
    int call; /* -1: none */
    long at;
    bool on;      /* it and all later ones */
    char how[16]; /* an errno, or a word */
} stop = {.call = -1};

static bool here(enum call c)
{
    return stop.call == (int)c && (calls[c] == stop.at || (stop.on && calls[c] > stop.at));
}

static bool how(const char *word)
{
    return strcmp(stop.how, word) == 0;
}

/* Before the call; true: it is to fail. */
static bool begins(enum call c)
{
    if (!here(c))
        return false;
    if (how("kill"))
        raise(SIGKILL);
    if (strncmp(stop.how, "sig", 3) == 0)
        raise(atoi(stop.how + 3));
    if (atoi(stop.how) <= 0)
        return false;
    errno = atoi(stop.how);
    calls[c]++;
    return true;
}

static void ends(enum call c)
{
    int kept = errno;
    if (here(c) && how("after"))
        raise(SIGKILL);
    calls[c]++;
    errno = kept;
}

#define WRAPPED(type, name, number, params, args)                                                  \
    type name params                                                                               \
    {                                                                                              \
        if (begins(number))                                                                        \
            return -1;                                                                             \
        type result = (type)syscall args;                                                          \
        ends(number);                                                                              \
        return result;                                                                             \
    }

WRAPPED(ssize_t, read, READ, (int fd, void *to, size_t size), (SYS_read, fd, to, size))
WRAPPED(int, rename, RENAME, (const char *from, const char *to),
        (SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0))
WRAPPED(int, unlink, UNLINK, (const char *path), (SYS_unlinkat, AT_FDCWD, path, 0))
WRAPPED(int, fsync, FSYNC, (int fd), (SYS_fsync, fd))
WRAPPED(int, fchmod, FCHMOD, (int fd, mode_t mode), (SYS_fchmod, fd, mode))
WRAPPED(int, flock, FLOCK, (int fd, int operation), (SYS_flock, fd, operation))

ssize_t write(int fd, const void *bytes, size_t size)
{
    if (here(WRITE) && how("half")) {
        syscall(SYS_write, fd, bytes, size / 2);
        raise(SIGKILL);
    }
    if (begins(WRITE))
        return -1;
    ssize_t result = syscall(SYS_write, fd, bytes, size);
    ends(WRITE);
    return result;
}

static int names = -1; /* the file that names of opened files go to */

int open(const char *path, int flags, ...)
{
    if (names >= 0)
        (void)!syscall(SYS_write, names, path, strlen(path) + 1); /* with its NUL */
    va_list args;
    va_start(args, flags);
    mode_t mode = flags & (O_CREAT | O_TMPFILE) ? va_arg(args, mode_t) : 0;
    va_end(args);
    if (begins(OPEN))
        return -1;
    int fd = (int)syscall(SYS_openat, AT_FDCWD, path, flags, mode);
    ends(OPEN);
    return fd;
}

/* ---- Begin and end --------------------------------------------------------------------------- */

static void read_call(const char *wish)
{
    char name[16] = "", number[16] = "";
    if (!wish || sscanf(wish, "%15[a-z]:%15[0-9+]:%15s", name, number, stop.how) != 3)
        return;
    for (int c = 0; c < CALL_COUNT; c++)
        if (strcmp(name, call_name[c]) == 0)
            stop.call = c;
    stop.at = atol(number);
    stop.on = strchr(number, '+') != NULL;
}

__attribute__((constructor)) static void begin(void)
{
    const char *wish = getenv("WF_FAULT_ALLOC");
    if (wish) {
        fail_at = atol(wish);
        fail_on = strchr(wish, '+') != NULL;
    }
    read_call(getenv("WF_FAULT_CALL"));
    const char *path = getenv("WF_FAULT_PLACES");
    if (getenv("WF_FAULT_FRAMES"))
        frames = atoi(getenv("WF_FAULT_FRAMES"));
    if (path)
        places = (int)syscall(SYS_openat, AT_FDCWD, path, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    path = getenv("WF_FAULT_OPENED");
    if (path)
        names = (int)syscall(SYS_openat, AT_FDCWD, path, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    counting = true;
}

static void tell_leaks(int fd)
{
    long leaked = 0;
    for (size_t i = 0; i < SLOTS; i++) {
        const char *name;
        if (!block[i].live || !is_ours(block[i].caller, &name) || leaked++ >= 5)
            continue;
        Dl_info info;
        dladdr(block[i].caller, &info);
        dprintf(fd, "leak %s+%#tx\n", name, (char *)block[i].caller - (char *)info.dli_fbase);
    }
    dprintf(fd, "leaked %ld\n", leaked);
}

__attribute__((destructor)) static void end(void)
{
    const char *path = getenv("WF_FAULT_TOLD");
    counting = false;
    stop.call = -1;
    flush_places();
    int fd =
        path ? (int)syscall(SYS_openat, AT_FDCWD, path, O_WRONLY | O_CREAT | O_TRUNC, 0666) : -1;
    if (fd < 0)
        return;
    dprintf(fd, "allocations %ld\nfailed %ld\nwild %ld\n", allocations, failed, wild);
    dprintf(fd, "glpk-lost %ld\n", glpk_lost);
    for (int c = 0; c < CALL_COUNT; c++)
        dprintf(fd, "%s %ld\n", call_name[c], calls[c]);
    tell_leaks(fd);
    close(fd);
}
