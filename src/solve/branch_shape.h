/*
 * branch_shape.h: a model of lots without its use columns: the linear program that is solved at the
 * nodes, and what is needed beside it.
 */
#ifndef WF_BRANCH_SHAPE_H
#define WF_BRANCH_SHAPE_H

#include "solve/part.h"

/* What is present or not as one: a lot by its use column, or all lots of a kind by their present
 * column. It is in if any of its lots is, and out if all are. */
struct wf_unit {
    int column; /* of the whole model */
    int *lots;
    int count;
    double charge; /* what its presence costs */
};

/* A row of nothing but units: low <= number of them that are in <= high. */
struct wf_count_row {
    double low, high;
    int *units;
    int count;
};

/* The units of about one size that a count speaks of, at most so many of which may be in: the
 * linear program has a row, sum of their presence - column <= 0. */
struct wf_size {
    int row;       /* of the lp */
    int column;    /* whole: how many are in */
    int count_row; /* among the shape's counts */
    int *units;
    int count;
};

/*
 * A row that ties columns of its own to the weights, so that weights alone say their values: the
 * distance from an aim, below and above it, or the whole packs that hold a weight.
 */
struct wf_tied {
    int row;          /* of the lp */
    double low, high; /* activity of the weights that needs none of them */
    int column[2];    /* lp columns; -1: none */
    double per[2];    /* what one of them adds to the row */
    double cost[2], most[2];
    bool whole;
};

struct wf_lot {
    int column;         /* in the linear program */
    int weight, use;    /* in the whole model */
    double least, most; /* steps */
    double step_cost;   /* of the weight, a step */
    int charged;        /* unit whose charge its use brings; -1: none */
    double step;        /* kg or g */
    int group;
    int sum; /* lp column of the steps of all lots of its group and step; its own if it is alone */
    double in_total; /* what a step adds to the total column; 0 without one */
};

struct wf_shape {
    const struct wf_model *whole;
    struct wf_model *lp; /* costs: with the charges spread over the steps */
    int *column_of;      /* whole model's column of each of the lp's */
    struct wf_lot *lots;
    int sums; /* lp columns from here on: the steps of all lots of a group or step together, and how
                 many units of a count and a size are in */
    struct wf_size *sizes;
    int size_count;
    int lot_count, total; /* total: lp column that is the sum of in_total x weight; -1 */
    struct wf_tied *tied;
    int tied_count;
    bool plain; /* weights say the values of all other columns */
    struct wf_unit *units;
    int unit_count;
    struct wf_count_row *counts;
    int count_rows;
    double
        *dense; /* [row x lot_count + lot]: effect of a step on an lp row, the total's included */
    int *wide;  /* rows of the lp that speak of most lots, but for the total's own */
    int wide_count;
    double *row_low, *row_high; /* of the lp's rows; the total's own row is free here */
    int rows;
    bool charged;     /* some unit's presence has a cost */
    bool whole_value; /* every point's value is a whole number */
    struct wf_arena *arena;
};

/* Of the part's lots only those with keep[i] are taken; NULL: all. The rest are out. The part must
 * be `of_lots`. */
enum wf_status wf_shape_make(const struct wf_part *part, const bool *keep, struct wf_shape **out,
                             struct wf_error *e) WF_MUST_USE;
void wf_shape_free(struct wf_shape *s);

/* What of its unit's charge a step of an undecided lot bears, of which at most so many can be:
 * since a unit is present by no less than any of its lots is used, and so by no less than their
 * mean, this is never too much. */
double wf_shape_spread(const struct wf_shape *s, int lot, double most);

/* By how much of a unit, at least, a step of one of its lots says that it is present. */
double wf_shape_presence(const struct wf_shape *s, const struct wf_unit *u, int lot);

/* Fills the values of tied columns for these weights, whose activity each row has; returns what
 * they cost, +inf where there are none that fit. */
double wf_shape_complete(const struct wf_shape *s, const double *activity, double *lp_x);

/* Fills the whole model's point x from the lp's. */
void wf_shape_expand(const struct wf_shape *s, const double *lp_x, double *x);

#endif
