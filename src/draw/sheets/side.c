#include "draw/sheets/side.h"

#include <math.h>
#include <string.h>

static bool bays_behind(const ks_load *load)
{
    if (load->n_bays < 2)
        return false;
    ks_box a = ks_extent(&load->bays[0].outline), b = ks_extent(&load->bays[1].outline);
    return fabs(a.y0 + a.y1 - b.y0 - b.y1) > fabs(a.x0 + a.x1 - b.x0 - b.x1);
}

static const ks_column columns[] = {
    {KS_WORDS("Level"), 4, 26},        {KS_WORDS("Shelf top"), 31, 26},
    {KS_WORDS("Posts on it"), 58, 52}, {KS_WORDS("Clear above"), 111, 24},
    {KS_WORDS("Tallest"), 136, 24},    {KS_WORDS("Free"), 161, 15}};
enum { COLUMNS = sizeof columns / sizeof columns[0] };

/* Draws or only measures the row; its height. */
static double table_row(ks_scene *scene, const ks_facts *facts, const ks_level_facts *level,
                        double y, bool draw)
{
    int most = 1;
    ks_arena *arena = scene->arena;
    const ks_display *display = facts->display;
    const char *tallest =
        level->tallest ? ks_arena_print(arena, "%s: %s", level->tallest->mark,
                                        ks_say_bare(display, level->tallest->placed->top_mm, arena))
                       : "";
    const char *cells[COLUMNS] = {level->code,
                                  ks_say_bare_both(display, level->level->z_mm, arena),
                                  *level->posts ? level->posts : "–",
                                  ks_say_bare_both(display, level->level->gap_mm, arena),
                                  tallest,
                                  ks_say_bare(display, level->free_mm, arena)};
    for (int i = 0; i < COLUMNS; i++) {
        ks_look look = i == 0 ? KS_LOOK_STRONG : KS_LOOK_TEXT;
        int lines = ks_cell_wrapped(scene, &columns[i], look, y, 0, cells[i], draw);
        most = lines > most ? lines : most;
    }
    return 1.1 + 3.9 * most;
}

ks_side ks_side_begin(ks_scene *scene, const ks_facts *facts)
{
    ks_side s = {.scene = scene, .facts = facts, .from_right = bays_behind(facts->load)};
    s.least = s.from_right ? facts->extent.y0 : facts->extent.x0;
    s.width_mm =
        s.from_right ? facts->extent.y1 - facts->extent.y0 : facts->extent.x1 - facts->extent.x0;
    return s;
}

static ks_side side_of(ks_scene *scene, const ks_facts *facts, double y, double room, int *under)
{
    ks_side s = ks_side_begin(scene, facts);
    double width = s.width_mm, height = facts->load->height_mm;
    double most = KS_SHEET_RIGHT - KS_SHEET_LEFT - 4 - ks_side_heights_width(scene, facts);
    *under = ks_scale_under(width, height, most, room - 16);
    s.scale = 1.0 / *under;
    s.x0 = KS_SHEET_LEFT + 4 + fmax(0, (fmin(128, most) - width * s.scale) / 2);
    s.y0 = y + 5 + height * s.scale;
    return s;
}

void ks_side_names(const ks_side *s, double right)
{
    double y = s->y0 + 8.5;
    if (s->from_right) {
        ks_scene_words(s->scene, KS_LOOK_STRONG, (ks_point){s->x0, y}, KS_LEFT, KS_SMALL,
                       ks_tr("FRONT"));
        ks_scene_words(s->scene, KS_LOOK_STRONG, (ks_point){right, y}, KS_RIGHT, KS_SMALL,
                       ks_tr("BACK"));
    } else {
        ks_scene_words(s->scene, KS_LOOK_STRONG, (ks_point){(s->x0 + right) / 2, y}, KS_MIDDLE,
                       KS_SMALL, ks_tr("seen from the FRONT"));
    }
}

/* Room that the drawing may take, largest scale first served: on its own with a short scale bar;
 * with the whole scale bar and ruler; with the table as well. */
typedef struct {
    double room; /* for the drawing and its surroundings */
    bool ruler, table;
} share;

static share share_of(ks_scene *scene, const ks_facts *facts)
{
    const double all = KS_SHEET_BOTTOM - KS_SHEET_TOP + 3;
    double table = 12 + 5.0 * facts->n_levels;
    share shares[] = {{all - 18 - table, true, true}, {all - 18, true, false}, {all, false, false}};
    int under, best = 0, least = 0;
    for (int i = 0; i < 3; i++) {
        if (shares[i].room < 50)
            continue;
        (void)side_of(scene, facts, KS_SHEET_TOP, shares[i].room, &under);
        if (least == 0 || under < least) {
            best = i;
            least = under;
        }
    }
    return shares[best];
}

static ks_scene *elevation(ks_sheets *sheets, const ks_facts *facts, ks_heading heading,
                           double *below)
{
    ks_scene *scene = ks_sheet_begin(sheets, facts, heading);
    share mine = share_of(scene, facts);
    int under;
    ks_side s = side_of(scene, facts, KS_SHEET_TOP, mine.room, &under);
    double right = s.x0 + s.width_mm * s.scale;
    ks_scene_tag(scene, KS_TAG_FIGURE);
    ks_side_things(&s);
    ks_side_heights(&s, right, KS_SHEET_RIGHT, KS_SHEET_TOP + 3);
    ks_side_names(&s, right);
    ks_scene_tag(scene, KS_TAG_PARAGRAPH);
    if (mine.ruler)
        ks_scale_bar(scene, s.y0 + 11, under);
    else
        ks_scale_bar_short(scene, (ks_point){KS_SHEET_LEFT, s.y0 + 8.5}, under,
                           ks_say_inches(facts->display));
    *below = mine.table ? s.y0 + 28 : KS_SHEET_BOTTOM;
    return scene;
}

void ks_side_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    bool inches = ks_say_inches(facts->display);
    const char *below = ks_arena_print(
        sheets->arena, "%s · heights above the chamber floor in %s · the chamber is %s high",
        ks_say_count(facts->n_levels, "level", "levels", sheets->arena),
        inches ? ks_tr("inches (mm)") : ks_say_unit(facts->display),
        ks_say_both(facts->display, facts->load->height_mm, sheets->arena));
    ks_heading heading = {"side", ks_tr("The stack from the side"), below,
                          ks_tr("Load plan, side")};
    double y;
    ks_scene *scene = elevation(sheets, facts, heading, &y);
    int row = 0;
    while (row < facts->n_levels) {
        if (y + 10 > KS_SHEET_BOTTOM) {
            heading.name = "side-table";
            heading.title = ks_tr("Heights of the levels");
            scene = ks_sheet_begin(sheets, facts, heading);
            y = KS_SHEET_TOP + 4;
        }
        y = ks_columns_headed(scene, columns, COLUMNS, y);
        const double first = y;
        for (; row < facts->n_levels; row++) {
            const ks_level_facts *level = &facts->levels[facts->n_levels - 1 - row];
            double height = table_row(scene, facts, level, y, false);
            if (y + height > KS_SHEET_BOTTOM && y > first)
                break;
            y += table_row(scene, facts, level, y, true);
        }
        y = KS_SHEET_BOTTOM;
    }
}
