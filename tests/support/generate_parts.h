/* generate_parts.h: what the files of the generator share. */
#ifndef WF_GENERATE_PARTS_H
#define WF_GENERATE_PARTS_H

#include "support/dice.h"
#include "support/generate.h"

/* Zeroed memory from the problem's arena, or the program ends. */
void *gen_room(struct gen *g, size_t count, size_t size);
/* A text in the arena. */
const char *gen_text(struct gen *g, const char *format, ...) __attribute__((format(printf, 2, 3)));

void gen_draw_store(struct gen *g, struct dice *d);  /* generate_store.c */
void gen_draw_slots(struct gen *g, struct dice *d);  /* generate_recipe.c: the hop schedule */
void gen_draw_recipe(struct gen *g, struct dice *d); /* and a recipe for it */
void gen_draw_target(struct gen *g, struct dice *d); /* generate_target.c: the windows */

#endif
