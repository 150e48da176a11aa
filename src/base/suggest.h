/*
 * suggest.h: the nearest known word, for "did you mean".
 */
#ifndef WF_SUGGEST_H
#define WF_SUGGEST_H

#include <stddef.h>

/* Index of the word nearest to `word` by edit distance (case ignored, a swap of neighbours counts
 * one), or -1 where none is near enough to be worth naming. */
int wf_suggest(const char *word, const char *const *words, size_t count);

#endif
