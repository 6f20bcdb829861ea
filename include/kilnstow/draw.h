/* draw.h: the sheets that people pin beside the kiln, as files in memory. */
#ifndef KILNSTOW_DRAW_H
#define KILNSTOW_DRAW_H

#include "kilnstow/clock.h"
#include "kilnstow/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    KS_SHEET_OVERVIEW = 1, /* the stack from the side, what to fetch, whose ware, what waits */
    KS_SHEET_LEVELS = 2,   /* each level on a sheet that is enough to load it */
    KS_SHEET_SIDE = 4,     /* side elevation, to scale, with a table of heights */
    KS_SHEET_LIST = 8,     /* loading, step by step */
    KS_SHEET_RECORD = 16,  /* unloading, and results to write down */
    KS_SHEET_FORMS = 32,   /* forms on setters, one sheet each */
    KS_SHEET_PINNED = 51,  /* overview, levels, record, forms: what is pinned up beside the kiln */
    KS_SHEET_ALL = 63,
    KS_SHEET_ROOM = 64, /* forms on setters, or a piece alone, in the kiln with their distances from
                         * its walls; not among all, the level plans tell those */
    KS_SHEET_TEMPLATE =
        128,                /* foot and slab of those as cut from wet clay, full size; not among all
                             */
    KS_SHEET_WALL = 256,    /* the usual cautions, once for each kiln */
    KS_SHEET_MEASURE = 512, /* rings and a ladder to measure ware with, full size */
    KS_SHEET_MAT = 1024,    /* levels at full size, on sheets to tape together */
    KS_SHEET_MORE = 1792    /* these three: asked for by name only */
} ks_sheet_kind;

typedef enum { KS_PDF, KS_SVG, KS_PNG, KS_HTML } ks_draw_format;
typedef enum { KS_A4, KS_LETTER } ks_paper;

/* A chart of lines over one pair of axes, such as a firing curve. */
typedef struct {
    const char *name;
    int n;
    const ks_point *at; /* in the axes' units, in order of x */
    bool dashed, dotted;
} ks_curve;

/* A row of the table under a chart. */
enum { KS_CHART_CELLS = 7, KS_CHART_BLANKS = 5 };
typedef struct {
    const char *cell[KS_CHART_CELLS];
} ks_chart_row;

typedef struct {
    const char *title, *x_label, *y_label; /* labels carry the unit: "hours", "°C" */
    int n_curves;
    const ks_curve *curves;
    const char *note;         /* under the chart, a paragraph a line, "" = none */
    int n_rows;               /* of the table on its sheet, 0 = none */
    const ks_chart_row *rows; /* the first is its head */
    const char
        *blanks[KS_CHART_BLANKS]; /* heads of a log to be kept by hand; the first NULL = none */
    const ks_plan *plan;          /* whose load it is, for the foot of its sheet; NULL = none */
    int load;
} ks_chart;

/* A table, such as what pieces cost or who owes what; goes over several sheets where it is long. */
typedef struct {
    const char *head;
    double share; /* of the width; all shares are taken together */
    bool right;   /* numbers: at the right of the column */
} ks_table_column;

typedef struct {
    const char *title, *below; /* "below": one line under the heading, "" = none */
    const char *kind;          /* document type for the title block: "Shares" */
    int n_columns;
    const ks_table_column *columns;
    int n_rows;
    const char *const *cells; /* n_rows x n_columns, row by row */
    const char *note;         /* under the table, "" = none */
} ks_table;

/* What ware is sold for. */
typedef struct {
    const char *name, *size;
    const char *price, *wholesale; /* "38.00 EUR"; NULL = none */
    const char *owner;             /* name or initials; "" = the studio's */
    int copies;
} ks_price_row;

typedef struct {
    const char *studio, *below; /* "below": one line under the heading, "" = none */
    const char *note;           /* under the list, "" = none */
    int n;
    const ks_price_row *rows;
} ks_price_list;

/* A font (TrueType, OpenType) for scripts that the built-in one lacks; letters that both have are
 * the built-in one's. The bytes are borrowed: they stay until the drawing is done. */
typedef struct {
    const char *name;           /* for messages */
    const unsigned char *bytes; /* NULL = none */
    size_t size;
} ks_font;

/* What the overview of a load says of its firing: schedule and times, a line each. */
typedef struct {
    int n_lines;
    const char *const *lines;
} ks_load_notes;

typedef struct {
    unsigned sheets;       /* of ks_sheet_kind, joined by | */
    ks_draw_format format; /* PDF and HTML make one file, SVG and PNG one for each sheet */
    ks_paper paper;
    double dpi; /* of PNG, 50 to 600 */
    int load;   /* into plan.loads, -1 = all of them */
    int level;  /* number of the level that a mat is of, 0 = all of them */
    const char
        *member;     /* id: one sheet with this member's pieces only, instead of all others; NULL */
    bool full_names; /* owners by name; else by initials only */
    bool for_class;  /* steps that an adult does are marked, glazes not for children named */
    const char *date;  /* as it is to stand on the sheets; "" leaves it to the pen */
    int64_t created_s; /* since 1970, UTC: the PDF's creation date. Same value, same bytes */
    int n_charts;      /* more sheets, after those of the loads: the firing curve, say */
    const ks_chart *charts;
    int n_tables; /* and after the charts */
    const ks_table *tables;
    const ks_price_list *prices; /* a list and tags to cut out, behind all; NULL = none */
    int n_notes;                 /* by load, as many as there are; 0 = none */
    const ks_load_notes *notes;
    ks_font font; /* of PDF and PNG; a page and SVG are shown with the reader's own fonts */
} ks_draw_options;

/* The sheets to be pinned up of all loads, PDF on A4, PNG at 150 dpi, initials only, no date. */
ks_draw_options ks_draw_default(void);

typedef struct {
    const char
        *name; /* what sets it apart in a file's name: "level-2"; "" when it is the only file */
    const unsigned char *bytes;
    size_t size;
} ks_drawn;

typedef struct {
    int n_sheets;
    int n_files;
    ks_drawn *files;
    int n_warnings;
    const char **warnings; /* letters the fonts lack (shown as "?"), labels that found no place */
} ks_drawing;

/* Draws the plan. The drawing lives in `arena`. Fails for a load or member that the plan does not
 * have, a resolution out of range, a font that is none, and when the machine refuses. */
ks_status ks_draw(const ks_plan *plan, const ks_draw_options *options, ks_arena *arena,
                  ks_drawing *out, ks_error *err);

/* The chart as a sheet of its own (PDF, SVG or PNG). */
ks_status ks_draw_chart(const ks_chart *chart, const ks_draw_options *options, ks_arena *arena,
                        ks_drawing *out, ks_error *err);

/* The chart as an <svg> element to put into a page; at least 60 x 45 mm. NULL on failure. */
const char *ks_chart_svg(const ks_chart *chart, double width_mm, double height_mm, ks_arena *arena,
                         ks_error *err);

/* A load on the studio's calendar. */
typedef struct {
    const char *uid;   /* the same for the same load of every plan of one order, 32 hex digits */
    const char *kiln;  /* id */
    const char *title; /* of the order, "" = none */
    const char *where; /* the studio */
    const char *about; /* the load in a few words; lines may be parted by \n */
    int load;          /* of its plan, from 1 */
    bool proposed;     /* no date was told */
    bool clashes;
    ks_occupation at;
} ks_dated_load;

typedef struct {
    const char *studio;
    const char *zone; /* POSIX rule; "" = not told: times are the studio's own, without an offset */
    int n_loads;
    const ks_dated_load *loads; /* by loading */
    int n_remarks;
    const char *const *remarks; /* under the times: what clashes, what is late */
    int64_t stamp_s;            /* when this was written, UTC */
} ks_calendar;

/* All loads as an iCalendar file (RFC 5545), each as loading, firing, cooling and unloading, with a
 * reminder wherever someone has to be there. `before` is the file as it stands, NULL = none: events
 * that have not changed stay as they are in it, changed ones get the next SEQUENCE, and those that
 * are no more are told as cancelled. */
const char *ks_calendar_text(const ks_calendar *calendar, const char *before, ks_arena *arena);

/* Sheets of two weeks each, a row for each kiln, and under it the times of its loads. */
ks_status ks_draw_calendar(const ks_calendar *calendar, const ks_draw_options *options,
                           ks_arena *arena, ks_drawing *out, ks_error *err);

#ifdef __cplusplus
}
#endif

#endif
