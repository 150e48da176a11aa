/*
 * sheet.h: a brew day as a document: sections of lines, tables and drawings. What it says is
 * written once (sheet_*.c); a form turns it into text for a terminal or into HTML.
 */
#ifndef WF_SHEET_H
#define WF_SHEET_H

#include "report/html_put.h"
#include "report/style.h"
#include "report/table.h"
#include "wortfit/brewday.h"

enum wf_line {
    WF_LINE_PLAIN,
    WF_LINE_TICK,    /* to be done or weighed: a box before it */
    WF_LINE_READ,    /* a reading to take: room for it behind */
    WF_LINE_CAUTION, /* "Caution:" before it */
    WF_LINE_SMALL,   /* what figures rest on */
    WF_LINE_COUNT
};

enum wf_drawing { WF_DRAW_GLASS, WF_DRAW_GRIST, WF_DRAW_BOIL, WF_DRAW_BITTERNESS, WF_DRAW_GRAVITY };

struct wf_sheet;

/* How a document is written. Texts are as they come from files: a form makes them safe. */
struct wf_sheet_form {
    void (*begin)(struct wf_sheet *s, const char *title);
    void (*section)(struct wf_sheet *s, const char *title);
    void (*line)(struct wf_sheet *s, enum wf_line kind, const char *text);
    /* Writes and clears the table; its first row holds the titles. */
    void (*table)(struct wf_sheet *s, struct wf_table *t, const char *caption);
    void (*drawing)(struct wf_sheet *s, enum wf_drawing what);
    void (*end)(struct wf_sheet *s);
    bool whole_names; /* cells are not cut to a width */
};
extern const struct wf_sheet_form wf_sheet_text, wf_sheet_html;

#define WF_FIGURES_MOST 12

struct wf_sheet {
    const struct wf_brewday *day;
    const struct wf_report_style *style;
    const struct wf_sheet_form *form;
    struct wf_text *out;
    struct wf_html html;
    bool in_list, in_section; /* of the HTML form */
    size_t section_count;
    struct {
        char text[WF_FIGURES_MOST][48];
        size_t next;
    } figures;
};

/* A figure in the sheet's units: good until WF_FIGURES_MOST more are made. Temperatures in
 * Fahrenheit are whole. */
const char *wf_sheet_figure(struct wf_sheet *s, enum wf_dimension d, double value);
/* A volume, weight or time to measure by: in steps that suit its size. Whole minutes. */
const char *wf_sheet_about(struct wf_sheet *s, enum wf_dimension d, double value);

/* A temperature as it is shown, C. */
double wf_sheet_temperature(const struct wf_sheet *s, double celsius);

void wf_sheet_section(struct wf_sheet *s, const char *title);
void wf_sheet_line(struct wf_sheet *s, enum wf_line kind, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* Begins a table of the columns, without their limits where the form shows whole names. */
struct wf_table wf_sheet_table(struct wf_sheet *s, const struct wf_column *columns, size_t count,
                               struct wf_column room[WF_COLUMNS_MOST]);
void wf_sheet_add_table(struct wf_sheet *s, struct wf_table *t, const char *caption);
void wf_sheet_draw(struct wf_sheet *s, enum wf_drawing what);

/* ---- What the sheet says, in the order of the day -------------------------------------------- */

void wf_sheet_head(struct wf_sheet *s);    /* sheet_head.c */
void wf_sheet_weigh(struct wf_sheet *s);   /* sheet_weigh.c */
void wf_sheet_water(struct wf_sheet *s);   /* sheet_water.c */
void wf_sheet_mash(struct wf_sheet *s);    /* sheet_mash.c */
void wf_sheet_boil(struct wf_sheet *s);    /* sheet_boil.c */
void wf_sheet_cool(struct wf_sheet *s);    /* sheet_ferment.c */
void wf_sheet_ferment(struct wf_sheet *s); /* sheet_ferment.c */
void wf_sheet_package(struct wf_sheet *s); /* sheet_package.c */
void wf_sheet_basis(struct wf_sheet *s);   /* sheet_head.c */

/* What to say where a vessel is too small, in its section; nothing where it is not
 * (sheet_vessels.c). */
void wf_sheet_vessel(struct wf_sheet *s, enum wf_vessel v);

/* The reading to take, and what to do where it is off; nothing where it does not apply
 * (sheet_measure.c). */
void wf_sheet_measure(struct wf_sheet *s, enum wf_measure what);

/* Drawings as SVG, one file each. */
void wf_svg_glass(struct wf_html *h, const struct wf_sheet *s);
void wf_svg_grist(struct wf_html *h, const struct wf_sheet *s);
void wf_svg_boil(struct wf_html *h, const struct wf_sheet *s);
void wf_svg_bitterness(struct wf_html *h, const struct wf_sheet *s);
void wf_svg_gravity(struct wf_html *h, const struct wf_sheet *s);

#endif
