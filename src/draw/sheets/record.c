#include "draw/sheets/sheets.h"

static const ks_column columns[] = {{KS_WORDS("No."), 5, 16},     {KS_WORDS("Piece"), 22, 50},
                                    {KS_WORDS("Owner"), 73, 16},  {KS_WORDS("Where"), 88, 36},
                                    {KS_WORDS("Good"), 125, 10},  {KS_WORDS("Flaw"), 136, 10},
                                    {KS_WORDS("Crack"), 147, 11}, {KS_WORDS("Note"), 159, 17}};
enum { NUMBER, PIECE, OWNER, WHERE, GOOD, FLAW, CRACK, NOTE, COLUMNS };

typedef struct {
    const ks_item *item; /* NULL = words */
    const char *words;
} row;

typedef struct {
    const ks_facts *facts;
    row *rows;
    int n;
} row_list;

static void boxes(ks_scene *scene, double y)
{
    for (int i = GOOD; i <= CRACK; i++)
        ks_scene_box(scene, KS_LOOK_TICK,
                     (ks_box){columns[i].x_mm + 1, y + 2, columns[i].x_mm + 6, y + 7});
}

static void item_row(ks_scene *scene, const ks_facts *facts, const ks_item *item, double y)
{
    ks_scene_sized(scene, KS_LOOK_NUMBER, (ks_point){columns[NUMBER].x_mm, y + 7}, KS_LARGE,
                   item->full_mark, columns[NUMBER].width_mm);
    ks_scene_wrap(scene, KS_LOOK_STRONG, (ks_point){columns[PIECE].x_mm, y + 3.8}, KS_SMALL,
                  columns[PIECE].width_mm, 2, 3.9, item->name);
    if (item->owner >= 0)
        ks_cell(scene, &columns[OWNER], KS_LOOK_TEXT, y, 0, facts->owners[item->owner].words);
    ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){columns[WHERE].x_mm, y + 3.8}, KS_SMALL,
                  columns[WHERE].width_mm, 2, 3.9, item->where);
    if (item->placed->role == KS_CONES)
        ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){columns[GOOD].x_mm, y + 6}, KS_LEFT,
                       KS_SMALL, ks_tr("bend: __________________"));
    else
        boxes(scene, y);
}

static void draw_row(ks_scene *scene, const void *data, int at, double y)
{
    const row_list *list = data;
    const row *r = &list->rows[at];
    if (r->item) {
        item_row(scene, list->facts, r->item, y);
        return;
    }
    ks_scene_box(scene, KS_LOOK_BAND, (ks_box){KS_SHEET_LEFT, y, KS_SHEET_RIGHT, y + KS_ROW});
    ks_scene_fitted(scene, KS_LOOK_STRONG, (ks_point){columns[NUMBER].x_mm, y + 6}, KS_LEFT,
                    KS_SMALL, r->words, KS_SHEET_RIGHT - columns[NUMBER].x_mm - 1);
}

static void add_words(row_list *list, const char *words)
{
    list->rows[list->n++] = (row){NULL, words};
}

/* From the lid down, each level in the reverse of its loading. */
static row_list rows_of(const ks_facts *facts, ks_arena *arena)
{
    row_list list = {facts, KS_TAKE(arena, facts->n_items + facts->n_levels + 3, row), 0};
    add_words(&list, ks_tr("Opened on ______________ at ________ o'clock, kiln at ________"));
    add_words(&list,
              ks_tr("Meter before ______________ after ______________   hours fired ________"));
    add_words(&list, ks_tr("Sitter or controller said ______________   top shown ________"));
    for (int l = facts->n_levels - 1; l >= 0; l--) {
        const ks_level_facts *level = &facts->levels[l];
        add_words(&list, ks_arena_print(arena, "%s: %s, last in first out", level->name,
                                        ks_contents_words(level, arena)));
        for (int i = level->n_items - 1; i >= 0; i--)
            list.rows[list.n++] = (row){level->items[i], NULL};
    }
    return list;
}

void ks_record_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    row_list list = rows_of(facts, sheets->arena);
    ks_listing listing = {
        .heading = {"record", ks_tr("Unloading, and what came out"),
                    ks_tr("From the lid down. Tick what is true of each piece; beside "
                          "C1, C2, … write how far each cone bent"),
                    ks_tr("Firing record")},
        .columns = columns,
        .n_columns = COLUMNS,
        .n_rows = list.n,
        .row = draw_row,
        .data = &list};
    ks_listing_sheets(sheets, facts, &listing);
}
