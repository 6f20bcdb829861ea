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

/* What a step asks for, an adult first. */
static const char *with_adult(const ks_facts *facts, const ks_told_step *step, const char *words,
                              ks_arena *arena)
{
    return facts->for_class ? ks_say_join(arena, ". ", ks_adult_words(step->adult, arena), words)
                            : words;
}

/* Words in a column of the row, under what stands there already; draws or only measures. */
typedef struct {
    ks_scene *scene;
    double y;
    bool draw;
    int lines[COLUMNS];
} list_row;

static void put(list_row *row, int column, ks_look look, const char *text)
{
    if (*text)
        row->lines[column] = ks_cell_wrapped(row->scene, &columns[column], look, row->y,
                                             row->lines[column], text, row->draw);
}

static void put_owner(list_row *row, const ks_facts *facts, const ks_owner *owner)
{
    if (!owner || (!*owner->id && facts->n_owners < 2))
        return;
    put(row, OWNER, KS_LOOK_TEXT, owner->words);
    if (facts->n_owners > 1 && strcmp(owner->words, owner->mark) != 0)
        put(row, OWNER, KS_LOOK_FAINT, owner->mark);
}

/* "3 · 17" on one line, or the level's name over the number where that is long: "3 left", "17". */
static void put_number(const list_row *row, const ks_facts *facts, const ks_item *item)
{
    double x = columns[NUMBER].x_mm, width = columns[NUMBER].width_mm;
    ks_scene *scene = row->scene;
    if (ks_scene_measure(scene, KS_LOOK_NUMBER, KS_SMALL, item->full_mark) <= width) {
        ks_scene_sized(scene, KS_LOOK_NUMBER, (ks_point){x, row->y + 7}, KS_LARGE, item->full_mark,
                       width);
        return;
    }
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x, row->y + 3.4}, KS_LEFT, KS_SMALL,
                    facts->levels[item->level].bare_name, width + 1);
    ks_scene_words(scene, KS_LOOK_NUMBER, (ks_point){x, row->y + 8}, KS_LEFT, KS_PLAIN, item->mark);
}

static double piece_row(list_row *row, const ks_facts *facts, const ks_told_step *step)
{
    const ks_item *item = step->of;
    ks_arena *arena = row->scene->arena;
    const char *care = ks_say_join(arena, "; ", item->remark, item->glaze);
    if (row->draw)
        put_number(row, facts, item);
    put(row, PIECE, KS_LOOK_STRONG, item->name);
    put(row, PIECE, KS_LOOK_TEXT, with_adult(facts, step, care, arena));
    put_owner(row, facts, item->owner >= 0 ? &facts->owners[item->owner] : NULL);
    put(row, HEIGHT, KS_LOOK_TEXT, item->height);
    put(row, HEIGHT, KS_LOOK_FAINT, ks_say_beside(facts->display, item->placed->top_mm, arena));
    put(row, WHERE, KS_LOOK_TEXT, item->where);
    int most = 0;
    for (int i = 0; i < COLUMNS; i++)
        most = row->lines[i] > most ? row->lines[i] : most;
    return ks_row_height(most);
}

static double words_row(list_row *row, const char *words)
{
    double x = columns[NUMBER].x_mm, room = KS_SHEET_RIGHT - x - 1;
    int lines = ks_scene_lines(row->scene, KS_LOOK_STRONG, KS_SMALL, room, words);
    double height = ks_row_height(lines);
    if (row->draw) {
        ks_scene_box(row->scene, KS_LOOK_BAND,
                     (ks_box){KS_SHEET_LEFT, row->y, KS_SHEET_RIGHT, row->y + height});
        ks_scene_wrap(row->scene, KS_LOOK_STRONG, (ks_point){x, row->y + (lines == 1 ? 5.8 : 3.8)},
                      KS_SMALL, room, lines, 3.9, words);
    }
    return height;
}

static double draw_row(ks_scene *scene, const void *data, int at, double y, bool draw)
{
    const ks_facts *facts = data;
    const ks_told_step *step = &facts->steps[at];
    list_row row = {scene, y, draw, {0}};
    double height = step->of ? piece_row(&row, facts, step)
                             : words_row(&row, with_adult(facts, step, step->words, scene->arena));
    if (draw)
        tick_box(scene, y);
    return height;
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
