#include "base/language.h"
#include "draw/sheets/flow.h"

#include <math.h>

#define ROW_MM 5.4
#define LINE_MM 3.9
#define APART_MM 3.0

typedef struct {
    const ks_table *table;
    double *left, *width; /* of each column, mm */
} layout;

static layout layout_of(const ks_table *table, ks_arena *arena)
{
    layout l = {table, KS_TAKE(arena, table->n_columns, double),
                KS_TAKE(arena, table->n_columns, double)};
    double shares = 0, x = KS_SHEET_LEFT;
    for (int i = 0; i < table->n_columns; i++)
        shares += fmax(0, table->columns[i].share);
    double room = KS_SHEET_RIGHT - KS_SHEET_LEFT - APART_MM * (table->n_columns - 1);
    for (int i = 0; i < table->n_columns; i++) {
        l.left[i] = x;
        l.width[i] =
            shares > 0 ? room * fmax(0, table->columns[i].share) / shares : room / table->n_columns;
        x += l.width[i] + APART_MM;
    }
    return l;
}

/* A column's words, wrapped, or at its right edge where they are numbers; how many lines. */
static int put_cell(ks_scene *scene, const layout *l, int column, ks_look look, double y,
                    const char *text)
{
    double width = l->width[column];
    if (!l->table->columns[column].right)
        return ks_scene_wrap(scene, look, (ks_point){l->left[column], y}, KS_SMALL, width,
                             ks_scene_lines(scene, look, KS_SMALL, width, text), LINE_MM, text);
    ks_scene_fitted(scene, look, (ks_point){l->left[column] + width, y}, KS_RIGHT, KS_SMALL, text,
                    width);
    return 1;
}

static void put_head(ks_flow *flow, const layout *l)
{
    int most = 1;
    flow->y += 5;
    for (int i = 0; i < l->table->n_columns; i++) {
        int lines =
            put_cell(flow->scene, l, i, KS_LOOK_FAINT, flow->y, ks_tr(l->table->columns[i].head));
        most = lines > most ? lines : most;
    }
    flow->y += 1.4 + LINE_MM * (most - 1);
    ks_scene_line(flow->scene, KS_LOOK_LEADER, (ks_point){KS_SHEET_LEFT, flow->y},
                  (ks_point){KS_SHEET_RIGHT, flow->y});
}

static const char *cell_of(const layout *l, int row, int column)
{
    return l->table->cells[row * l->table->n_columns + column];
}

static double row_height(const layout *l, ks_scene *scene, int row)
{
    int most = 1;
    for (int i = 0; i < l->table->n_columns; i++) {
        int lines = l->table->columns[i].right ? 1
                                               : ks_scene_lines(scene, KS_LOOK_TEXT, KS_SMALL,
                                                                l->width[i], cell_of(l, row, i));
        most = lines > most ? lines : most;
    }
    return ROW_MM + LINE_MM * (most - 1);
}

static void put_row(ks_flow *flow, const layout *l, int row)
{
    double height = row_height(l, flow->scene, row);
    for (int i = 0; i < l->table->n_columns; i++)
        put_cell(flow->scene, l, i, KS_LOOK_TEXT, flow->y + 3.8, cell_of(l, row, i));
    flow->y += height;
    ks_scene_line(flow->scene, KS_LOOK_RULE, (ks_point){KS_SHEET_LEFT, flow->y},
                  (ks_point){KS_SHEET_RIGHT, flow->y});
}

void ks_table_sheets(ks_sheets *sheets, const ks_table *table, int nth)
{
    ks_heading heading = {ks_arena_print(sheets->arena, "table-%d", nth), table->title,
                          table->below, table->kind};
    layout l = layout_of(table, sheets->arena);
    ks_flow flow = ks_flow_begin(sheets, NULL, heading);
    put_head(&flow, &l);
    for (int row = 0; row < table->n_rows; row++) {
        const ks_scene *page = flow.scene;
        ks_flow_need(&flow, row_height(&l, flow.scene, row));
        if (flow.scene != page)
            put_head(&flow, &l);
        put_row(&flow, &l, row);
    }
    flow.y += 3;
    if (table->note && *table->note)
        ks_flow_words(&flow, KS_LOOK_TEXT, 0, table->note);
}
