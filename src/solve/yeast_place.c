#include "solve/yeast_place.h"

#include "model/problem.h"

#include <string.h>

long wf_yeast_place(const struct wf_target *t, const struct wf_recipe *r)
{
    for (long i = 0; r->yeast.id != NULL && t->yeasts != NULL && t->yeasts[i] != NULL; i++) {
        const char *one[] = {t->yeasts[i], NULL};
        if (wf_id_listed(one, r->yeast.id, r->yeast.of) ||
            (r->yeast.family != NULL && strcmp(t->yeasts[i], r->yeast.family) == 0))
            return i;
    }
    return -1;
}
