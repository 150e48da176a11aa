/*
 * golden.h: folders of cases, each a folder with the files that go in and the text that must come
 * out.
 *
 * Each case is a test of its own, named after its folder. WF_RECORD=1 in the environment writes
 * what came out as what is wanted; what changed is then to be read in the diff.
 */
#ifndef WF_TEST_GOLDEN_H
#define WF_TEST_GOLDEN_H

#include "support/test.h"

#define GOLDEN_PATH_MAX 1024

/* Runs `one` on each folder below tests/golden/<folder>; *state is the case's path. Returns what
 * main returns. A folder without cases is a failure. */
int golden_run(const char *folder, CMUnitTestFunction one);

/* The file `name` of a case; *length without the NUL behind the text. NULL: there is none. Freed by
 * free(). */
char *golden_read(const char *path, const char *name, size_t *length);

/* Fails unless the case's file `name` is `got` with a newline at its end. */
void golden_compare(const char *path, const char *name, const char *got);

#endif
