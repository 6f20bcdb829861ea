#include "draw/sheets/level_sheet.h"

#include "studio/level_name.h"

#include <limits.h>
#include <math.h>

static int next_larger(int under)
{
    static const int unders[] = {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000};
    int larger = 1;
    for (int i = 0; i < 10 && unders[i] < under; i++)
        larger = unders[i];
    return larger;
}

typedef struct {
    int columns, rows, under;
} cutting;

static const char *part_words(cutting cut, int row, int column, ks_arena *arena)
{
    static const char *const across[4][3] = {
        {"", "", ""},
        {"", "", ""},
        {KS_WORDS("left"), KS_WORDS("right"), ""},
        {KS_WORDS("left"), KS_WORDS("middle"), KS_WORDS("right")}};
    static const char *const along[4][3] = {
        {"", "", ""},
        {"", "", ""},
        {KS_WORDS("back"), KS_WORDS("front"), ""},
        {KS_WORDS("back"), KS_WORDS("middle"), KS_WORDS("front")}};
    if (cut.columns > 3 || cut.rows > 3)
        return ks_arena_print(arena, "part %d", row * cut.columns + column + 1);
    return ks_say_join(arena, " ", ks_tr(along[cut.rows][row]), ks_tr(across[cut.columns][column]));
}

static ks_box join(ks_box a, ks_box b)
{
    return (ks_box){fmin(a.x0, b.x0), fmin(a.y0, b.y0), fmax(a.x1, b.x1), fmax(a.y1, b.y1)};
}

ks_box ks_level_extent(const ks_level_facts *level)
{
    ks_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int i = 0; i < level->n_items; i++)
        box = join(box, ks_item_extent(level->items[i]->placed));
    for (int i = 0; i < level->level->n_shelves; i++)
        box = join(box, ks_extent(&level->level->shelves[i].outline));
    return box;
}

static ks_box part_of(ks_box all, cutting cut, int row, int column)
{
    double w = (all.x1 - all.x0) / cut.columns, h = (all.y1 - all.y0) / cut.rows;
    return (ks_box){all.x0 + column * w, all.y1 - (row + 1) * h, all.x0 + (column + 1) * w,
                    all.y1 - row * h};
}

static bool is_empty(const ks_level_facts *level, ks_box part)
{
    for (int i = 0; i < level->n_items; i++) {
        ks_point at = ks_item_centre(level->items[i]->placed);
        if (at.x >= part.x0 && at.x < part.x1 && at.y >= part.y0 && at.y < part.y1)
            return false;
    }
    return true;
}

/* The part in the middle of the space; one with the wall in it close to that side. */
static ks_view view_of_part(ks_box part, cutting cut, int row, int column, ks_box space)
{
    double scale = 1.0 / cut.under;
    ks_point origin = {(space.x0 + space.x1) / 2 - (part.x0 + part.x1) / 2 * scale,
                       (space.y0 + space.y1) / 2 + (part.y0 + part.y1) / 2 * scale};
    if (cut.columns > 1 && column == 0)
        origin.x = space.x0 + KS_LEVEL_AROUND - part.x0 * scale;
    else if (cut.columns > 1 && column == cut.columns - 1)
        origin.x = space.x1 - KS_LEVEL_AROUND - part.x1 * scale;
    if (cut.rows > 1 && row == 0)
        origin.y = space.y0 + KS_LEVEL_ABOVE + 2 + part.y1 * scale;
    else if (cut.rows > 1 && row == cut.rows - 1)
        origin.y = space.y1 - KS_LEVEL_BELOW + part.y0 * scale;
    return (ks_view){origin, scale};
}

static int larger_sheet(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level,
                        cutting cut, int at)
{
    ks_arena *arena = sheets->arena;
    ks_heading heading = {.below = ks_contents_words(level, arena),
                          .kind = ks_arena_print(arena, "Plan of %s", level->code)};
    int row = at / cut.columns, column = at % cut.columns;
    ks_box part = part_of(ks_level_extent(level), cut, row, column);
    if (is_empty(level, part))
        return 0;
    heading.name = ks_arena_print(arena, "level-%s-part-%d",
                                  ks_level_file_name(level->bare_name, arena), at + 1);
    heading.title = ks_say_join(arena, ", ", level->name, part_words(cut, row, column, arena));
    ks_scene *scene = ks_sheet_begin_framed(sheets, facts, heading, KS_FRAME_TALL);
    ks_box space = {KS_SHEET_LEFT, KS_SHEET_TOP + 2, KS_SHEET_RIGHT, KS_SHEET_TOP + 188};
    ks_level_shown shown = {
        facts, 1, &level, NULL, false, cut.under > 1 ? KS_MOST_LEADERS : INT_MAX, part};
    int lost =
        ks_level_draw(scene, &shown, view_of_part(part, cut, row, column, space), space).lost;
    ks_scale_bar_short(scene, (ks_point){KS_SHEET_LEFT, space.y1 + 5}, cut.under,
                       ks_say_inches(facts->display));
    return lost;
}

/* Parts of the level at the next larger scale, or the one after that, until all numbers find their
 * place. */
void ks_level_larger(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level,
                     int under)
{
    ks_box all = ks_level_extent(level);
    double w = all.x1 - all.x0, h = all.y1 - all.y0;
    int before = sheets->n, lost = 1;
    while (lost > 0 && under > 1) {
        under = next_larger(under);
        sheets->n = before;
        lost = 0;
        cutting cut = {(int)ceil(w / under / 164), (int)ceil(h / under / 165), under};
        for (int at = 0; at < cut.rows * cut.columns; at++)
            lost += larger_sheet(sheets, facts, level, cut, at);
    }
    if (lost > 0)
        ks_level_lost(sheets, level, lost);
}
