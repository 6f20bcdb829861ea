#include "draw/sheets/flow.h"

#include <math.h>

#define ROW_MM 5.4
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

static void put_cell(ks_scene *scene, const layout *l, int column, ks_look look, double y,
                     const char *text)
{
    bool right = l->table->columns[column].right;
    ks_scene_fitted(scene, look, (ks_point){l->left[column] + (right ? l->width[column] : 0), y},
                    right ? KS_RIGHT : KS_LEFT, KS_SMALL, text, l->width[column]);
}

static void put_head(ks_flow *flow, const layout *l)
{
    flow->y += 5;
    for (int i = 0; i < l->table->n_columns; i++)
        put_cell(flow->scene, l, i, KS_LOOK_FAINT, flow->y, l->table->columns[i].head);
    flow->y += 1.4;
    ks_scene_line(flow->scene, KS_LOOK_LEADER, (ks_point){KS_SHEET_LEFT, flow->y},
                  (ks_point){KS_SHEET_RIGHT, flow->y});
}

static void put_row(ks_flow *flow, const layout *l, int row)
{
    const ks_table *table = l->table;
    for (int i = 0; i < table->n_columns; i++)
        put_cell(flow->scene, l, i, KS_LOOK_TEXT, flow->y + 3.8,
                 table->cells[row * table->n_columns + i]);
    flow->y += ROW_MM;
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
        ks_flow_need(&flow, ROW_MM);
        if (flow.scene != page)
            put_head(&flow, &l);
        put_row(&flow, &l, row);
    }
    flow.y += 3;
    if (table->note && *table->note)
        ks_flow_words(&flow, KS_LOOK_TEXT, 0, table->note);
}
