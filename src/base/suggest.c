/* suggest.c: edit distance of short words. */
#include "base/suggest.h"

#include "base/ascii.h"

#include <string.h>

#define WORD_MOST 48 /* longer words are typed by machines, and get no suggestion */

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

static int same(char a, char b)
{
    return wf_ascii_lower(a) == wf_ascii_lower(b);
}

/* Optimal string alignment distance: insertions, deletions, replacements and swaps of neighbours
 * cost 1 each (the restricted form of Damerau 1964). Row i of the table is kept in at[i % 3]. */
static size_t distance(const char *a, size_t n, const char *b, size_t m)
{
    size_t at[3][WORD_MOST + 1];
    for (size_t j = 0; j <= m; j++)
        at[0][j] = j;
    for (size_t i = 1; i <= n; i++) {
        size_t *row = at[i % 3];
        const size_t *above = at[(i + 2) % 3], *two_above = at[(i + 1) % 3];
        row[0] = i;
        for (size_t j = 1; j <= m; j++) {
            size_t replace = above[j - 1] + (same(a[i - 1], b[j - 1]) ? 0 : 1);
            row[j] = least(replace, least(above[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && same(a[i - 1], b[j - 2]) && same(a[i - 2], b[j - 1]))
                row[j] = least(row[j], two_above[j - 2] + 1);
        }
    }
    return at[n % 3][m];
}

/* One edit for every three letters of the longer word is near enough. */
int wf_suggest(const char *word, const char *const *words, size_t count)
{
    size_t n = strlen(word), best_distance = WORD_MOST;
    int best = -1;
    for (size_t i = 0; i < count && n <= WORD_MOST; i++) {
        size_t m = strlen(words[i]);
        if (m > WORD_MOST)
            continue;
        size_t d = distance(word, n, words[i], m);
        if (d <= (n > m ? n : m) / 3 && d < best_distance) {
            best_distance = d;
            best = (int)i;
        }
    }
    return best;
}
