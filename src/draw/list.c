#include "draw/sheets.h"

#include <string.h>

static const ks_column columns[] = {{"", 5, 6},        {"No.", 13, 15},     {"Piece", 29, 66},
                                    {"Owner", 97, 20}, {"Height", 119, 20}, {"Where", 140, 36}};
enum { TICK, NUMBER, PIECE, OWNER, HEIGHT, WHERE, COLUMNS };

static void tick_box(ks_scene *scene, double y)
{
    ks_scene_box(scene, KS_LOOK_TICK,
                 (ks_box){columns[TICK].x_mm, y + 2, columns[TICK].x_mm + 5, y + 7});
}

static void two_lines(ks_scene *scene, const ks_column *column, double y, const char *text)
{
    ks_scene_wrapped(scene, KS_LOOK_TEXT, (ks_point){column->x_mm, y + 3.8}, KS_SMALL,
                     column->width_mm, 2, 3.9, text);
}

static void piece_row(ks_scene *scene, const ks_facts *facts, const ks_item *item, double y)
{
    const ks_owner *owner = item->owner >= 0 ? &facts->owners[item->owner] : NULL;
    ks_scene_words(scene, KS_LOOK_NUMBER, (ks_point){columns[NUMBER].x_mm, y + 7}, KS_LEFT,
                   KS_LARGE, item->mark);
    const char *second = ks_say_joined(scene->arena, "; ", item->remark, item->glaze);
    if (*second) {
        ks_cell(scene, &columns[PIECE], KS_LOOK_STRONG, y, 0, item->name);
        ks_cell(scene, &columns[PIECE], KS_LOOK_TEXT, y, 1, second);
    } else {
        ks_scene_wrapped(scene, KS_LOOK_STRONG, (ks_point){columns[PIECE].x_mm, y + 3.8}, KS_SMALL,
                         columns[PIECE].width_mm, 2, 3.9, item->name);
    }
    if (owner)
        ks_cell(scene, &columns[OWNER], KS_LOOK_TEXT, y, 0, owner->words);
    if (owner && facts->n_owners > 1)
        ks_cell(scene, &columns[OWNER], KS_LOOK_FAINT, y, 1, owner->letter);
    two_lines(scene, &columns[HEIGHT], y,
              ks_say_both(facts->display, item->placed->top_mm, scene->arena));
    two_lines(scene, &columns[WHERE], y, item->where);
}

static void words_row(ks_scene *scene, const char *words, double y)
{
    ks_scene_box(scene, KS_LOOK_BAND, (ks_box){KS_SHEET_LEFT, y, KS_SHEET_RIGHT, y + KS_ROW});
    double room = KS_SHEET_RIGHT - columns[NUMBER].x_mm - 1;
    bool one_line = ks_scene_measure(scene, KS_LOOK_STRONG, KS_SMALL, words) <= room;
    ks_scene_wrapped(scene, KS_LOOK_STRONG,
                     (ks_point){columns[NUMBER].x_mm, y + (one_line ? 5.8 : 3.8)}, KS_SMALL, room,
                     2, 3.9, words);
}

/* Steps and, between levels, what to check before going on. */
typedef struct {
    const ks_told_step *step; /* NULL = a check */
    const char *words;
} row;

typedef struct {
    const ks_facts *facts;
    row *rows;
    int n;
} row_list;

static void draw_row(ks_scene *scene, const void *data, int at, double y)
{
    const row_list *list = data;
    const row *r = &list->rows[at];
    if (r->step && r->step->of)
        piece_row(scene, list->facts, r->step->of, y);
    else
        words_row(scene, r->words, y);
    tick_box(scene, y);
}

static const char *check_words(const ks_facts *facts, int level, ks_arena *arena)
{
    const ks_level_facts *of = &facts->levels[level];
    const char *over = of->top ? facts->from_front ? "the roof" : "the lid" : "the next shelf";
    if (!of->tallest)
        return ks_arena_print(arena, "Stop and check %s: nothing stands here but posts.", of->name);
    return ks_arena_print(
        arena,
        "Stop and check %s: nothing touches; a straight edge over the posts clears %s "
        "(%s high), with %s free under %s.",
        of->name, of->tallest->mark,
        ks_say_length(facts->display, of->tallest->placed->top_mm, arena),
        ks_say_length(facts->display, of->free_mm, arena), over);
}

static int last_step_of(const ks_facts *facts, int level)
{
    int last = -1;
    for (int i = 0; i < facts->n_steps; i++)
        if (facts->steps[i].of && facts->steps[i].level == level)
            last = i;
    return last;
}

static row_list rows_of(const ks_facts *facts, ks_arena *arena)
{
    row_list list = {facts, KS_TAKE(arena, 2 * facts->n_steps + facts->n_levels, row), 0};
    for (int i = 0; i < facts->n_steps; i++) {
        const ks_told_step *step = &facts->steps[i];
        if (step->of && step->of->piece && step->of->piece->has_setter)
            list.rows[list.n++] = (row){NULL, ks_setter_step(facts, step->of, arena)};
        list.rows[list.n++] = (row){step, step->words};
        if (step->of && last_step_of(facts, step->level) == i)
            list.rows[list.n++] = (row){NULL, check_words(facts, step->level, arena)};
    }
    return list;
}

void ks_list_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    row_list list = rows_of(facts, sheets->arena);
    const char *below = ks_arena_print(
        sheets->arena, "%s, in this order from top to bottom. Tick each when it is in.",
        ks_say_count(list.n, "step", "steps", sheets->arena));
    ks_listing listing = {.heading = {"list", "Loading, step by step", below, "Loading list"},
                          .columns = columns,
                          .n_columns = COLUMNS,
                          .n_rows = list.n,
                          .row = draw_row,
                          .data = &list};
    ks_listing_sheets(sheets, facts, &listing);
}
