#include "draw/sheets/sheets.h"

#include <string.h>

static const ks_column columns[] = {{"", 5, 6},
                                    {KS_WORDS("No."), 13, 15},
                                    {KS_WORDS("Piece"), 29, 66},
                                    {KS_WORDS("Owner"), 97, 20},
                                    {KS_WORDS("Height"), 119, 20},
                                    {KS_WORDS("Where"), 140, 36}};
enum { TICK, NUMBER, PIECE, OWNER, HEIGHT, WHERE, COLUMNS };

static void tick_box(ks_scene *scene, double y)
{
    ks_scene_box(scene, KS_LOOK_TICK,
                 (ks_box){columns[TICK].x_mm, y + 2, columns[TICK].x_mm + 5, y + 7});
}

static void two_lines(ks_scene *scene, const ks_column *column, double y, const char *text)
{
    ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){column->x_mm, y + 3.8}, KS_SMALL,
                  column->width_mm, 2, 3.9, text);
}

static void piece_row(ks_scene *scene, const ks_facts *facts, const ks_item *item, double y)
{
    const ks_owner *owner = item->owner >= 0 ? &facts->owners[item->owner] : NULL;
    ks_scene_sized(scene, KS_LOOK_NUMBER, (ks_point){columns[NUMBER].x_mm, y + 7}, KS_LARGE,
                   item->full_mark, columns[NUMBER].width_mm);
    const char *second = ks_say_join(scene->arena, "; ", item->remark, item->glaze);
    if (*second) {
        ks_cell(scene, &columns[PIECE], KS_LOOK_STRONG, y, 0, item->name);
        ks_cell(scene, &columns[PIECE], KS_LOOK_TEXT, y, 1, second);
    } else {
        ks_scene_wrap(scene, KS_LOOK_STRONG, (ks_point){columns[PIECE].x_mm, y + 3.8}, KS_SMALL,
                      columns[PIECE].width_mm, 2, 3.9, item->name);
    }
    if (owner && (*owner->id || facts->n_owners > 1))
        ks_cell(scene, &columns[OWNER], KS_LOOK_TEXT, y, 0, owner->words);
    if (owner && facts->n_owners > 1 && strcmp(owner->words, owner->mark) != 0)
        ks_cell(scene, &columns[OWNER], KS_LOOK_FAINT, y, 1, owner->mark);
    ks_cell(scene, &columns[HEIGHT], KS_LOOK_TEXT, y, 0, item->height);
    ks_cell(scene, &columns[HEIGHT], KS_LOOK_FAINT, y, 1,
            ks_say_beside(facts->display, item->placed->top_mm, scene->arena));
    two_lines(scene, &columns[WHERE], y, item->where);
}

static void words_row(ks_scene *scene, const char *words, double y)
{
    ks_scene_box(scene, KS_LOOK_BAND, (ks_box){KS_SHEET_LEFT, y, KS_SHEET_RIGHT, y + KS_ROW});
    double room = KS_SHEET_RIGHT - columns[NUMBER].x_mm - 1;
    bool one_line = ks_scene_measure(scene, KS_LOOK_STRONG, KS_SMALL, words) <= room;
    ks_scene_wrap(scene, KS_LOOK_STRONG,
                  (ks_point){columns[NUMBER].x_mm, y + (one_line ? 5.8 : 3.8)}, KS_SMALL, room, 2,
                  3.9, words);
}

static void draw_row(ks_scene *scene, const void *data, int at, double y)
{
    const ks_facts *facts = data;
    const ks_told_step *step = &facts->steps[at];
    if (step->of)
        piece_row(scene, facts, step->of, y);
    else
        words_row(scene, step->words, y);
    tick_box(scene, y);
}

void ks_list_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    const char *below = ks_arena_print(
        sheets->arena, "%s, in this order from top to bottom. Tick each when it is in.",
        ks_say_count(facts->n_steps, "step", "steps", sheets->arena));
    ks_listing listing = {
        .heading = {"list", ks_tr("Loading, step by step"), below, ks_tr("Loading list")},
        .columns = columns,
        .n_columns = COLUMNS,
        .n_rows = facts->n_steps,
        .row = draw_row,
        .data = facts};
    ks_listing_sheets(sheets, facts, &listing);
}
