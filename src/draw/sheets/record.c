#include "draw/sheets/sheets.h"

#include <string.h>

#define PITCH 3.9
#define ROW 6.2      /* a line to write on */
#define COLUMN 84.0  /* two of them, 4 mm apart */
#define LOST_MM 50.0 /* from a column's left: the box for how many, then why */

/* The sheet while it is being filled, column by column. */
typedef struct {
    ks_sheets *sheets;
    const ks_facts *facts;
    ks_scene *scene;
    int page, column;
    const ks_level_facts *level; /* whose rows are being filled in, NULL = none */
    double top, y;
} filling;

static void begin_page(filling *f)
{
    ks_arena *arena = f->sheets->arena;
    ks_heading heading = {
        "record", ks_tr("What came out"),
        ks_tr("How many of each kind were lost, and why; how far each cone bent."),
        ks_tr("Firing record")};
    if (f->page++ > 0) {
        heading.name = ks_arena_print(arena, "record-%d", f->page);
        heading.title = ks_tr("What came out, continued");
    }
    f->scene = ks_sheet_begin_framed(f->sheets, f->facts, heading, KS_FRAME_TALL);
    f->column = 0;
    f->top = f->y = ks_sheet_room(KS_FRAME_TALL).y0;
}

static double left_of(const filling *f)
{
    return KS_SHEET_LEFT + f->column * (COLUMN + 4);
}

static void rule(filling *f, double from, double to, double y)
{
    ks_scene_line(f->scene, KS_LOOK_LEADER, (ks_point){from, y}, (ks_point){to, y});
}

/* A word, and a line to write on up to `to`. */
static void blank(filling *f, double from, double to, const char *words)
{
    double used = ks_scene_words(f->scene, KS_LOOK_TEXT, (ks_point){from, f->y + 5}, KS_LEFT,
                                 KS_SMALL, words);
    rule(f, from + used + 1.5, to, f->y + 5.6);
}

/* What is read and written down of the firing as a whole. */
static void whole_firing(filling *f)
{
    static const char *const rows[][4] = {
        {KS_WORDS("Meter before"), KS_WORDS("after"), KS_WORDS("hours fired"), ""},
        {KS_WORDS("On, day and time"), KS_WORDS("cone down"), KS_WORDS("off"), KS_WORDS("opened")},
        {KS_WORDS("Fired by"), KS_WORDS("top shown"), KS_WORDS("unloaded by"), ""}};
    const double step = (KS_SHEET_RIGHT - KS_SHEET_LEFT) / 4;
    for (int r = 0; r < 3; r++) {
        for (int i = 0; i < 4; i++) {
            double from = KS_SHEET_LEFT + step * i, to = from + step - 3;
            if (*rows[r][i])
                blank(f, from, i == 3 ? KS_SHEET_RIGHT : to, ks_tr(rows[r][i]));
        }
        f->y += ROW + 1;
    }
    f->top = f->y += 3;
}

static void level_title(filling *f)
{
    double x = left_of(f);
    f->y += f->y > f->top ? 2 : 0;
    ks_scene_fitted(f->scene, KS_LOOK_STRONG, (ks_point){x, f->y + 4}, KS_LEFT, KS_SMALL,
                    f->level->name, LOST_MM - 1);
    double used = ks_scene_words(f->scene, KS_LOOK_FAINT, (ks_point){x + LOST_MM, f->y + 4},
                                 KS_LEFT, KS_SMALL, ks_tr("lost"));
    ks_scene_words(f->scene, KS_LOOK_FAINT, (ks_point){x + LOST_MM + used + 2, f->y + 4}, KS_LEFT,
                   KS_SMALL, ks_tr("why"));
    f->y += 5;
    rule(f, x, x + COLUMN, f->y);
}

/* Room for that much in this column, or the next one, where the level is named again. */
static void need(filling *f, double height_mm)
{
    if (f->y + height_mm <= ks_sheet_room(KS_FRAME_TALL).y1)
        return;
    f->y = f->top;
    if (++f->column == 2)
        begin_page(f);
    if (f->level)
        level_title(f);
}

static void row(filling *f, const char *words, bool cones)
{
    int lines = ks_scene_lines(f->scene, KS_LOOK_TEXT, KS_SMALL, LOST_MM - 2, words);
    double height = lines < 2 ? ROW : ROW + PITCH * (lines - 1);
    need(f, height);
    double x = left_of(f);
    ks_scene_wrap(f->scene, KS_LOOK_TEXT, (ks_point){x, f->y + 4.2}, KS_SMALL, LOST_MM - 2, lines,
                  PITCH, words);
    if (!cones)
        ks_scene_box(f->scene, KS_LOOK_TICK,
                     (ks_box){x + LOST_MM, f->y + 0.8, x + LOST_MM + 8, f->y + ROW - 0.6});
    f->y += height;
    ks_scene_line(f->scene, KS_LOOK_RULE, (ks_point){x, f->y}, (ks_point){x + COLUMN, f->y});
}

/* "6 × breakfast bowl, RU"; NULL where an earlier line has told it. */
static const char *kind_words(const ks_facts *facts, const ks_level_facts *level, int at,
                              ks_arena *arena)
{
    const ks_item *item = level->items[at];
    int count = 1;
    for (int i = 0; i < level->n_items; i++) {
        if (i == at || !ks_items_alike(item, level->items[i]))
            continue;
        if (i < at)
            return NULL;
        count++;
    }
    bool whose = item->owner >= 0 && facts->n_owners > 1;
    return ks_say_join(arena, ", ", ks_arena_print(arena, "%d × %s", count, item->name),
                       whose ? facts->owners[item->owner].words : "");
}

static void level_rows(filling *f, const ks_level_facts *level)
{
    f->level = NULL;
    need(f, 7 + 2 * ROW);
    f->level = level;
    level_title(f);
    for (int i = 0; i < level->n_items; i++)
        if (level->items[i]->placed->role == KS_CONES)
            row(f, ks_arena_print(f->sheets->arena, "%s: bent to", level->items[i]->mark), true);
    for (int i = 0; i < level->n_items; i++) {
        const ks_item *item = level->items[i];
        const char *words = item->placed->role == KS_CONES
                                ? NULL
                                : kind_words(f->facts, level, i, f->sheets->arena);
        if (words)
            row(f, words, false);
    }
}

void ks_record_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    filling f = {.sheets = sheets, .facts = facts};
    begin_page(&f);
    whole_firing(&f);
    for (int l = facts->n_levels - 1; l >= 0; l--)
        if (facts->levels[l].n_items > 0)
            level_rows(&f, &facts->levels[l]);
}
