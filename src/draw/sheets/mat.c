/* A level at full size, on sheets to tape together and lay the ware on. */
#include "draw/sheets/level_sheet.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

/* What a sheet shows of it, and where. */
static const ks_box pane = {10, 28, 170, 208};

typedef struct {
    ks_sheets *sheets;
    const ks_facts *facts;
    const ks_level_facts *level;
    ks_box all; /* of its shelves and ware, chamber axes */
} mat;

/* Sheets are lettered from the left and counted from the back. */
static void tile(const mat *m, int column, int row)
{
    ks_arena *arena = m->sheets->arena;
    const double width = pane.x1 - pane.x0, height = pane.y1 - pane.y0;
    ks_box part = {m->all.x0 + column * width, m->all.y1 - (row + 1) * height,
                   m->all.x0 + (column + 1) * width, m->all.y1 - row * height};
    const char *place = ks_arena_print(arena, "%c%d", 'A' + column % 26, row + 1);
    ks_heading heading = {ks_arena_print(arena, "mat-%s-%s", m->level->bare_name, place),
                          ks_arena_print(arena, "%s at full size, %s", m->level->name, place),
                          ks_tr("A1 is at the back, left. Print at 100 %, check the ruler, join "
                                "along the thin frames."),
                          ks_tr("Mat")};
    ks_scene *scene = ks_sheet_begin(m->sheets, m->facts, heading);
    ks_level_shown shown = {m->facts, 1, &m->level, NULL, false, INT_MAX, part};
    ks_view view = {{pane.x0 - part.x0, pane.y0 + part.y1}, 1};
    int lost = ks_level_draw(scene, &shown, view, pane).lost;
    if (lost > 0)
        ks_sheets_warn(m->sheets,
                       ks_arena_print(arena, "%s: %s found no place on the drawing", heading.title,
                                      ks_say_count(lost, "number", "numbers", arena)));
    ks_scene_box(scene, KS_LOOK_RULE, pane); /* over the drawing: it is what is cut along */
    ks_scale_bar(scene, pane.y1 + 4, 1);
}

static void mat_of(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level)
{
    mat m = {sheets, facts, level, ks_level_extent(level)};
    if (!isfinite(m.all.x0))
        return;
    int columns = (int)ceil((m.all.x1 - m.all.x0) / (pane.x1 - pane.x0)),
        rows = (int)ceil((m.all.y1 - m.all.y0) / (pane.y1 - pane.y0));
    for (int row = 0; row < rows; row++)
        for (int column = 0; column < columns; column++)
            tile(&m, column, row);
}

void ks_mat_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    int only = sheets->options->level;
    for (int i = 0; i < facts->n_levels; i++)
        if (only == 0 || atoi(facts->levels[i].bare_name) == only)
            mat_of(sheets, facts, &facts->levels[i]);
}
