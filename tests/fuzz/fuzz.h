/*
 * fuzz.h: what all targets share. A target is one file with LLVMFuzzerTestOneInput and a row in
 * targets.txt. libFuzzer calls it with inputs that it makes up (run.sh); replay.c with files, in
 * the ordinary tests.
 */
#ifndef WF_FUZZ_H
#define WF_FUZZ_H

#include "wortfit/wortfit.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Ends the run unless it is so: a finding. */
#define FUZZ_MUST(condition) ((condition) ? (void)0 : fuzz_found(#condition, __FILE__, __LINE__))

static inline void fuzz_found(const char *what, const char *file, int line)
{
    fprintf(stderr, "%s:%d: not so: %s\n", file, line, what);
    abort();
}

/* A reader takes an input or says what is wrong with it, and nothing else can happen. */
static inline void fuzz_check_status(enum wf_status status, const struct wf_error *e)
{
    FUZZ_MUST(status == WF_OK || status == WF_BAD_INPUT || status == WF_OUT_OF_RANGE ||
              status == WF_USAGE);
    FUZZ_MUST((status == WF_OK) == (e->count == 0));
    FUZZ_MUST((e->count == 0) == (e->text[0] == '\0'));
    FUZZ_MUST(strlen(e->text) < sizeof e->text);
}

/* Read once for all inputs. */
static inline const struct wf_catalogue *fuzz_catalogue(void)
{
    static struct wf_catalogue *catalogue;
    struct wf_error e = {0};
    if (!catalogue)
        FUZZ_MUST(wf_catalogue_read(&catalogue, &e) == WF_OK);
    return catalogue;
}

/* The input as a C string of its own, so that one byte too far is seen; cut at a NUL. */
static inline char *fuzz_text(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    FUZZ_MUST(text != NULL);
    if (size > 0)
        memcpy(text, data, size);
    text[size] = '\0';
    return text;
}

#endif
