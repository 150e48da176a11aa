/* change.c: see change.h. */
#include "model/change.h"

#include "base/alloc.h"
#include "model/grist_model.h"
#include "wortfit/revise.h"

#include <math.h>

/* Columns for each line of the recipe, and for each lot that it has not. */
#define A_LINE 4
#define A_LOT  2

struct build {
    struct wf_model *m;
    const struct wf_item *items;
    const int *line_of; /* the recipe's line that each item is; -1: none */
    size_t item_count;
    struct wf_charges *out;
};

static void charge(struct build *b, int column, double cost)
{
    b->out->list[b->out->count++] = (struct wf_charge){column, cost};
}

/* sum of the weights + what is below `aim` - what is above it = aim. */
static void add_distance(struct build *b, int line, double aim, const double cost[2],
                         const char *label)
{
    int row = wf_model_row(b->m, aim, aim, label);
    for (size_t i = 0; i < b->item_count; i++)
        if (b->line_of[i] == line)
            wf_model_term(b->m, row, b->items[i].weight, b->items[i].step);
    for (int side = 0; side < 2; side++) {
        int column = wf_model_column(b->m, 0, INFINITY, 0, false, label);
        wf_model_term(b->m, row, column, side == 0 ? 1 : -1);
        charge(b, column, cost[side]);
    }
}

/* The least weight of the lots that a line can be, kg or g; +inf: no lot can. */
static double least_of(const struct build *b, int line)
{
    double least = INFINITY;
    for (size_t i = 0; i < b->item_count; i++)
        if (b->line_of[i] == line && wf_model_high(b->m, b->items[i].weight) > 0)
            least = fmin(least, fmax(1, b->items[i].least) * b->items[i].step);
    return least;
}

static void add_line(struct build *b, int line, double was, double per_unit, const char *label)
{
    double least = least_of(b, line);
    if (isinf(least)) {
        b->out->offset += was * per_unit + WF_CHANGE_INGREDIENT;
        return;
    }
    add_distance(b, line, was, (const double[]){per_unit, per_unit}, label);
    add_distance(b, line, least, (const double[]){WF_CHANGE_INGREDIENT / least, 0}, label);
}

static void add_lot(struct build *b, size_t i, double per_unit, double comes)
{
    charge(b, b->items[i].weight, per_unit * b->items[i].step);
    charge(b, b->items[i].use, comes);
}

static bool make_room(struct build *b, size_t lines, int **line_of)
{
    b->out->list = wf_alloc(A_LINE * lines + A_LOT * b->item_count, sizeof *b->out->list);
    b->line_of = *line_of = wf_alloc(b->item_count, sizeof **line_of);
    return b->out->list && *line_of;
}

static struct wf_recipe_malt as_line(const struct wf_malt *lot)
{
    struct wf_recipe_malt m = {.id = lot->id,
                               .of = lot->of,
                               .class = lot->class,
                               .grain = lot->grain,
                               .usual_most = lot->usual_most};
    for (int w = 0; w < WF_MALT_WORD_COUNT; w++)
        m.character[w] = lot->character[w];
    return m;
}

bool wf_change_malts(struct wf_model *m, const struct wf_problem *p, const struct wf_item *items,
                     struct wf_charges *out)
{
    const struct wf_recipe *from = p->from;
    struct build b = {.m = m, .items = items, .item_count = p->malt_count, .out = out};
    double per_kg = wf_change_per_kg(from, p->kettle.batch_l);
    int *line_of = NULL;
    bool room = make_room(&b, from->malt_count, &line_of);
    for (size_t i = 0; room && i < p->malt_count; i++) {
        struct wf_recipe_malt line = as_line(p->malts[i].lot);
        line_of[i] = wf_change_malt_of(from, &line);
        double unlike = wf_change_malt_unlike(from, &line);
        if (line_of[i] < 0)
            add_lot(&b, i, per_kg * unlike, wf_change_malt_comes(from, unlike));
    }
    for (size_t i = 0; room && i < from->malt_count; i++) {
        double was = wf_change_malt_was(from, (int)i, p->kettle.batch_l);
        if (was > 0)
            add_line(&b, (int)i, was, per_kg, from->malts[i].id);
    }
    wf_free(line_of);
    return room;
}

int wf_change_malt_lot(const struct wf_recipe *r, const struct wf_malt *lot)
{
    struct wf_recipe_malt line = as_line(lot);
    return wf_change_malt_of(r, &line);
}

bool wf_change_hop_lot(const struct wf_recipe *r, const struct wf_hop *lot, int line)
{
    struct wf_recipe_hop h = {
        .id = lot->id, .of = lot->of, .addition = r->hops[line].addition, .whole = lot->whole};
    h.addition.alpha = lot->alpha;
    for (int w = 0; w < WF_WORD_COUNT - WF_MALT_WORD_COUNT; w++)
        h.character[w] = lot->character[w];
    double boil = r->kettle.boil_minutes;
    return wf_change_hop_of(r, &h, boil) == wf_change_hop_of(r, &r->hops[line], boil);
}

static struct wf_recipe_hop place_line(const struct wf_problem *p, const struct wf_place *place)
{
    const struct wf_hop *lot = p->hops[place->hop].lot;
    struct wf_recipe_hop h = {
        .id = lot->id, .of = lot->of, .addition = place->addition, .whole = lot->whole};
    for (int w = 0; w < WF_WORD_COUNT - WF_MALT_WORD_COUNT; w++)
        h.character[w] = lot->character[w];
    return h;
}

bool wf_change_hops(struct wf_model *m, const struct wf_problem *p, const struct wf_item *items,
                    struct wf_charges *out)
{
    const struct wf_recipe *from = p->from;
    struct build b = {.m = m, .items = items, .item_count = p->place_count, .out = out};
    double batch_l = p->kettle.batch_l, boil = p->kettle.boil_minutes;
    int *line_of = NULL;
    bool room = make_room(&b, from->hop_count, &line_of);
    for (size_t i = 0; room && i < p->place_count; i++) {
        struct wf_recipe_hop line = place_line(p, &p->places[i]);
        line_of[i] = wf_change_hop_of(from, &line, boil);
        double unlike = wf_change_hop_unlike(from, &line);
        double per_gram = wf_change_per_gram(&line.addition, batch_l);
        if (line_of[i] < 0)
            add_lot(&b, i, per_gram * unlike, wf_change_hop_comes(from, unlike));
    }
    for (size_t i = 0; room && i < from->hop_count; i++) {
        double was = wf_change_hop_was(from, (int)i, batch_l, boil);
        if (was > 0)
            add_line(&b, (int)i, was, wf_change_per_gram(&from->hops[i].addition, batch_l),
                     from->hops[i].id);
    }
    wf_free(line_of);
    return room;
}

void wf_charges_set(const struct wf_charges *c, struct wf_model *m)
{
    for (size_t i = 0; i < c->count; i++)
        wf_model_set_cost(m, c->list[i].column, c->list[i].cost);
    wf_model_set_offset(m, c->offset);
}

void wf_charges_free(struct wf_charges *c)
{
    wf_free(c->list);
    *c = (struct wf_charges){0};
}
