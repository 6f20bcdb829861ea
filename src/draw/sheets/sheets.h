/* sheets.h: the sheets of a plan, one scene each, in a common frame of 180 x 255 mm. */
#ifndef KILNSTOW_DRAW_SHEETS_SHEETS_H
#define KILNSTOW_DRAW_SHEETS_SHEETS_H

#include "draw/facts/facts.h"
#include "kilnstow/draw.h"

/* Within the frame; what a sheet shows keeps to LEFT..RIGHT and TOP..BOTTOM, the heading and the
 * title block take the rest. Sheets to be pinned up beside the kiln have a foot of two lines
 * instead of the title block, and may be wide: their room is ks_sheet_room(). */
#define KS_FRAME_WIDTH 180.0
#define KS_FRAME_HEIGHT 255.0
#define KS_SHEET_LEFT 4.0
#define KS_SHEET_RIGHT 176.0
#define KS_SHEET_TOP 24.0
#define KS_SHEET_BOTTOM 229.0
#define KS_ROW 9.0 /* rows to be filled in by a gloved hand */

typedef enum { KS_FRAME_BLOCK, KS_FRAME_TALL, KS_FRAME_WIDE } ks_frame;

typedef struct {
    ks_scene *scene;
    const ks_facts *facts; /* NULL for a chart */
    const char *kind;      /* document type, for the title block */
    ks_frame frame;
} ks_sheet;

typedef struct {
    const ks_plan *plan; /* NULL for a chart */
    const ks_draw_options *options;
    const char *hash;
    const char *studio; /* for the title block, where there is no plan; NULL = none */
    ks_arena *arena;
    ks_type *type;
    int n, room;
    ks_sheet *sheets;
    int n_warnings, warnings_room;
    const char **warnings;
} ks_sheets;

/* Checks the options and readies the typesetter, which the caller destroys (sheets->type) when all
 * is written; plan may be NULL for a chart. Then makes all sheets that the options ask for. */
ks_status ks_sheets_begin(ks_sheets *sheets, const ks_plan *plan, const ks_draw_options *options,
                          ks_arena *arena, ks_error *err);
ks_status ks_sheets_make(ks_sheets *sheets, ks_error *err);

typedef struct {
    const char *name, *title, *below, *kind;
} ks_heading;

/* Where the things of a sheet have room. */
ks_box ks_sheet_room(ks_frame frame);

/* A new sheet with frame and heading; it gets its title block when all are made. */
ks_scene *ks_sheet_begin(ks_sheets *sheets, const ks_facts *facts, ks_heading heading);
ks_scene *ks_sheet_begin_framed(ks_sheets *sheets, const ks_facts *facts, ks_heading heading,
                                ks_frame frame);
void ks_sheets_finish(ks_sheets *sheets);
void ks_sheets_warn(ks_sheets *sheets, const char *words);

void ks_overview_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_level_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_side_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_list_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_record_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_form_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_template_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_mat_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_measure_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_wall_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_room_sheets(ks_sheets *sheets, const ks_facts *facts);
void ks_member_sheets(ks_sheets *sheets, const ks_facts *facts, int owner);

/* A dimension between two points of one horizontal or upright line, its words beside the middle. */
void ks_dimension_line(ks_scene *scene, ks_point a, ks_point b);
void ks_dimension(ks_scene *scene, ks_point a, ks_point b, const char *words);

/* Columns of a list. */
typedef struct {
    const char *head;
    double x_mm, width_mm;
} ks_column;

/* Heads at y (their baseline), with a rule below; returns where the first row begins. */
double ks_columns_headed(ks_scene *scene, const ks_column *columns, int n, double y);

/* Words in a row's cell, wrapped from `line` lines down the row's top; returns the lines that it
 * then has. Draws only where it is told to. */
int ks_cell_wrapped(ks_scene *scene, const ks_column *column, ks_look look, double row_top,
                    int line, const char *text, bool draw);

/* Height of a row of so many lines. */
double ks_row_height(int lines);

/* Rows of one sheet's list; `row` draws one with its top at y, or only measures it, and returns its
 * height. Goes over as many sheets as needed. */
typedef struct {
    ks_heading heading;
    const ks_column *columns;
    int n_columns, n_rows;
    double (*row)(ks_scene *scene, const void *data, int row, double y, bool draw);
    const void *data;
    const char *note; /* above the list of the first sheet, wrapped; NULL = none */
} ks_listing;
void ks_listing_sheets(ks_sheets *sheets, const ks_facts *facts, const ks_listing *listing);

/* The largest scale of ISO 5455 at which width x height real mm fit a space of paper mm. */
int ks_scale_under(double width, double height, double paper_width, double paper_height);

/* Scale bar in cm and inches, the scale's name, and a 100 mm ruler to check the print by; takes
 * 16 mm below y. */
void ks_scale_bar(ks_scene *scene, double y, int under);

/* The scale's name and a bar of some cm or inches on one line. */
void ks_scale_bar_short(ks_scene *scene, ks_point at, double under, bool inches);

/* A level seen from above, or those that stand side by side with their shelves at one height. */
typedef struct {
    const ks_facts *facts;
    int n_levels;
    const ks_level_facts *const *levels;
    const char *only; /* owner's id: others are pale and have no number; NULL = all alike */
    bool few_words;   /* numbers only: no heights, posts' sizes or dimension */
    int leaders;      /* how many numbers may stand beside their piece */
    ks_box part;      /* chamber axes: only pieces whose middle is in it have labels */
} ks_level_shown;

/* What became of the numbers of the pieces. */
typedef struct {
    int lost; /* found no place */
    int led;  /* stand beside their piece, with a leader */
} ks_numbers;
ks_numbers ks_level_draw(ks_scene *scene, const ks_level_shown *shown, ks_view view, ks_box space);

void ks_chart_sheet(ks_sheets *sheets, const ks_chart *chart, int nth);
ks_scene *ks_chart_scene(ks_sheets *sheets, const ks_chart *chart, double width_mm,
                         double height_mm);

void ks_price_sheets(ks_sheets *sheets, const ks_price_list *list);
void ks_table_sheets(ks_sheets *sheets, const ks_table *table, int nth);

/* The single page for a telephone; `only` is an owner's id, or NULL for all. */
void ks_html(ks_sheets *sheets, ks_facts *const *facts, int n_loads, const char *only,
             ks_text *out);

#endif
