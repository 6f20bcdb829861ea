#include "draw/flow.h"

#include <limits.h>
#include <math.h>

#define LIST_PITCH 4.7
#define HALF_COLUMN 86.0

/* More leaders than this on one drawing are a tangle: parts of it are drawn larger instead. */
enum { MOST_LEADERS = 16 };

static const ks_box everything = {-INFINITY, -INFINITY, INFINITY, INFINITY};

static const char *summary_of(const ks_facts *facts, const ks_level_facts *level, ks_arena *arena)
{
    return ks_arena_print(arena, "%s · shelf top %s above the floor · %s clear above it",
                          ks_contents_words(level, arena),
                          ks_say_both(facts->display, level->level->z_mm, arena),
                          ks_say_both(facts->display, level->level->gap_mm, arena));
}

static const char *posts_and_tightest(const ks_facts *facts, const ks_level_facts *level,
                                      ks_arena *arena)
{
    const char *words = *level->posts
                            ? ks_arena_print(arena, "Posts on this shelf: %s.", level->posts)
                            : "No posts on this shelf.";
    if (level->tallest)
        words = ks_arena_print(arena, "%s Tallest: %s, %s; %s free above it.", words,
                               level->tallest->mark,
                               ks_say_both(facts->display, level->tallest->placed->top_mm, arena),
                               ks_say_both(facts->display, level->free_mm, arena));
    if (isfinite(level->tight_mm))
        words =
            ks_arena_print(arena, "%s Tightest place: %s between %s.", words,
                           ks_say_fine(facts->display, level->tight_mm, arena), level->tight_words);
    return words;
}

static const char *owner_of(const ks_facts *facts, const ks_item *item, ks_arena *arena)
{
    if (item->owner < 0)
        return "";
    const ks_owner *owner = &facts->owners[item->owner];
    return facts->n_owners > 1 ? ks_arena_print(arena, "%s %s", owner->letter, owner->words)
                               : owner->words;
}

static void short_row(ks_scene *scene, const ks_facts *facts, const ks_item *item, double x,
                      double y)
{
    ks_scene_words(scene, KS_LOOK_NUMBER, (ks_point){x + 7.5, y}, KS_RIGHT, KS_SMALL, item->mark);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 9.5, y}, KS_LEFT, KS_SMALL, item->name, 38);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 49, y}, KS_LEFT, KS_SMALL,
                    owner_of(facts, item, scene->arena), 17);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 84, y}, KS_RIGHT, KS_SMALL, item->height,
                    17);
}

static void long_row(ks_scene *scene, const ks_facts *facts, const ks_item *item, double x,
                     double y)
{
    ks_scene_words(scene, KS_LOOK_NUMBER, (ks_point){x + 7.5, y}, KS_RIGHT, KS_SMALL, item->mark);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 9.5, y}, KS_LEFT, KS_SMALL, item->name, 46);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 57, y}, KS_LEFT, KS_SMALL,
                    owner_of(facts, item, scene->arena), 21);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 101, y}, KS_RIGHT, KS_SMALL, item->height,
                    22);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 104, y}, KS_LEFT, KS_SMALL, item->where,
                    68);
}

/* The level's list from y to the bottom: one column with places where all fit, else two without;
 * false, and nothing drawn, where there is no room for either. */
static bool list_drawn(ks_scene *scene, const ks_facts *facts, const ks_level_facts *level,
                       double y)
{
    int rows = (int)((KS_SHEET_BOTTOM - y) / LIST_PITCH), n = level->n_items;
    bool one = n <= rows;
    int each = one ? n : (n + 1) / 2;
    if (each > rows)
        return false;
    for (int i = 0; i < n; i++)
        (one ? long_row : short_row)(scene, facts, level->items[i],
                                     KS_SHEET_LEFT + HALF_COLUMN * (i / each),
                                     y + LIST_PITCH * (i % each) + 3.6);
    return true;
}

/* The lists that found no room beside their drawings. */
static void lists_flown(ks_sheets *sheets, const ks_facts *facts, const bool *listed)
{
    ks_flow flow = {0};
    for (int l = 0; l < facts->n_levels; l++) {
        if (listed[l])
            continue;
        if (!flow.scene)
            flow = ks_flow_begin(
                sheets, facts,
                (ks_heading){
                    "pieces", "Pieces, level by level",
                    "In the order in which they go in; the numbers are those of the plans.",
                    "Pieces by level"});
        ks_flow_title(&flow, facts->levels[l].name, 3 * LIST_PITCH);
        for (int i = 0; i < facts->levels[l].n_items; i++) {
            ks_flow_need(&flow, LIST_PITCH);
            long_row(flow.scene, facts, facts->levels[l].items[i], KS_SHEET_LEFT, flow.y + 3.6);
            flow.y += LIST_PITCH;
        }
    }
}

typedef struct {
    double width, height; /* of the chamber, real mm */
    int under;            /* scale 1 : under */
    double paper_height;  /* what the drawing takes */
} fit;

#define AROUND_MM 8.0 /* wall, left and right together */
#define ABOVE_MM 11.0 /* wall and the name of the back */
#define BELOW_MM 13.0 /* wall and FRONT */

static fit fit_of(const ks_facts *facts)
{
    fit f = {facts->extent.x1 - facts->extent.x0, facts->extent.y1 - facts->extent.y0, 0, 0};
    f.under = ks_scale_under(f.width, f.height, KS_SHEET_RIGHT - KS_SHEET_LEFT - AROUND_MM,
                             KS_SHEET_BOTTOM - KS_SHEET_TOP - 36 - ABOVE_MM - BELOW_MM);
    f.paper_height = f.height / f.under + ABOVE_MM + BELOW_MM;
    return f;
}

static ks_view view_of(const ks_facts *facts, const fit *f, double y)
{
    double scale = 1.0 / f->under, middle = (KS_SHEET_LEFT + KS_SHEET_RIGHT) / 2;
    return (ks_view){{middle - (facts->extent.x0 + facts->extent.x1) / 2 * scale,
                      y + ABOVE_MM + facts->extent.y1 * scale},
                     scale};
}

static const char legend[] =
    "Black: posts on this shelf, with their height; faint: posts below it. Dashes: foot. Thin "
    "line: rim. Chain "
    "line: ware stays inside it. Cross-hatched: keep free. Under each number: the piece's height";

/* A line of the sheet's foot, where there is room; y of the next one. */
static double foot_line(ks_scene *scene, ks_look look, double y, const char *words)
{
    const double pitch = 4;
    int lines = (int)((KS_SHEET_BOTTOM - y + 3) / pitch);
    return y + pitch * ks_scene_wrapped(scene, look, (ks_point){KS_SHEET_LEFT, y}, KS_SMALL,
                                        KS_SHEET_RIGHT - KS_SHEET_LEFT, lines < 3 ? lines : 3,
                                        pitch, words);
}

/* Scale bar, what the reader has to know, the key to the lines and, where there is room, the list:
 * returns whether there was. */
static bool foot_drawn(ks_scene *scene, const ks_facts *facts, const ks_level_facts *level,
                       int under, double y, bool larger)
{
    ks_scale_bar(scene, y, under);
    y += 13.5;
    if (larger)
        y = foot_line(
            scene, KS_LOOK_STRONG, y,
            "Pieces without a number here have theirs on the larger drawings that follow.");
    y = foot_line(scene, KS_LOOK_FAINT, y,
                  ks_arena_print(scene->arena, "%s%s, %s.", legend,
                                 facts->n_owners > 1 ? " with its owner's letter" : "",
                                 ks_say_unit(facts->display)));
    if (list_drawn(scene, facts, level, y - 1))
        return true;
    (void)foot_line(scene, KS_LOOK_STRONG, y,
                    "Its pieces are listed on the sheets headed: Pieces, level by level.");
    return false;
}

static ks_heading heading_of(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level)
{
    const char *nth = ks_arena_print(sheets->arena, "level-%d", (int)(level - facts->levels) + 1);
    return (ks_heading){nth, ks_arena_print(sheets->arena, "%s, from above", level->name),
                        summary_of(facts, level, sheets->arena),
                        ks_arena_print(sheets->arena, "Plan of %s", level->code)};
}

static void lost_told(ks_sheets *sheets, const ks_level_facts *level, int lost)
{
    const char *count = ks_say_count(lost, "number", "numbers", sheets->arena);
    ks_sheets_warn(sheets,
                   ks_arena_print(sheets->arena,
                                  "%s: %s found no place on the drawing; the list has them all",
                                  level->name, count));
}

/* The whole level; true when its numbers need larger drawings of its parts, which are then left to
 * tell them. */
static bool whole_drawn(ks_sheets *sheets, ks_scene *scene, const ks_level_shown *shown,
                        ks_view view, ks_box space)
{
    int before = scene->n;
    ks_numbers numbers = ks_level_drawn(scene, shown, view, space);
    bool full_size = view.scale >= 1;
    if (full_size && numbers.lost > 0)
        lost_told(sheets, shown->level, numbers.lost);
    if (full_size || (numbers.lost == 0))
        return false;
    scene->n = before;
    ks_level_shown plain = *shown;
    plain.leaders = 0;
    (void)ks_level_drawn(scene, &plain, view, space);
    return true;
}

static bool level_sheet(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level,
                        const fit *f, bool *listed)
{
    ks_scene *scene = ks_sheet_begin(sheets, facts, heading_of(sheets, facts, level));
    double y = KS_SHEET_TOP + 3;
    y += 4 * ks_scene_wrapped(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT, y}, KS_SMALL,
                              KS_SHEET_RIGHT - KS_SHEET_LEFT, 3, 4,
                              posts_and_tightest(facts, level, sheets->arena)) -
         2;
    ks_box space = {KS_SHEET_LEFT, y, KS_SHEET_RIGHT, y + f->paper_height};
    ks_level_shown shown = {facts,     level, NULL, false, f->under > 1 ? MOST_LEADERS : INT_MAX,
                            everything};
    bool larger = whole_drawn(sheets, scene, &shown, view_of(facts, f, y), space);
    *listed = foot_drawn(scene, facts, level, f->under, space.y1, larger);
    return larger;
}

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
        {"", "", ""}, {"", "", ""}, {"left", "right", ""}, {"left", "middle", "right"}};
    static const char *const along[4][3] = {
        {"", "", ""}, {"", "", ""}, {"back", "front", ""}, {"back", "middle", "front"}};
    if (cut.columns > 3 || cut.rows > 3)
        return ks_arena_print(arena, "part %d", row * cut.columns + column + 1);
    return ks_say_joined(arena, " ", along[cut.rows][row], across[cut.columns][column]);
}

static ks_box joined(ks_box a, ks_box b)
{
    return (ks_box){fmin(a.x0, b.x0), fmin(a.y0, b.y0), fmax(a.x1, b.x1), fmax(a.y1, b.y1)};
}

/* What there is to show larger: the level's shelves and pieces. */
static ks_box extent_of(const ks_level_facts *level)
{
    ks_box box = ks_item_extent(level->items[0]->placed);
    for (int i = 1; i < level->n_items; i++)
        box = joined(box, ks_item_extent(level->items[i]->placed));
    for (int i = 0; i < level->level->n_shelves; i++)
        box = joined(box, ks_extent(&level->level->shelves[i].outline));
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
        origin.x = space.x0 + AROUND_MM - part.x0 * scale;
    else if (cut.columns > 1 && column == cut.columns - 1)
        origin.x = space.x1 - AROUND_MM - part.x1 * scale;
    if (cut.rows > 1 && row == 0)
        origin.y = space.y0 + ABOVE_MM + 2 + part.y1 * scale;
    else if (cut.rows > 1 && row == cut.rows - 1)
        origin.y = space.y1 - BELOW_MM + part.y0 * scale;
    return (ks_view){origin, scale};
}

static int larger_sheet(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level,
                        cutting cut, int at)
{
    ks_heading heading = heading_of(sheets, facts, level);
    int row = at / cut.columns, column = at % cut.columns;
    ks_box part = part_of(extent_of(level), cut, row, column);
    if (is_empty(level, part))
        return 0;
    heading.name = ks_arena_print(sheets->arena, "%s-part-%d", heading.name, at + 1);
    heading.title = ks_say_joined(sheets->arena, ", ", level->name,
                                  part_words(cut, row, column, sheets->arena));
    ks_scene *scene = ks_sheet_begin(sheets, facts, heading);
    ks_box space = {KS_SHEET_LEFT, KS_SHEET_TOP + 2, KS_SHEET_RIGHT, KS_SHEET_TOP + 188};
    ks_level_shown shown = {facts, level, NULL, false, cut.under > 1 ? MOST_LEADERS : INT_MAX,
                            part};
    int lost =
        ks_level_drawn(scene, &shown, view_of_part(part, cut, row, column, space), space).lost;
    ks_scale_bar(scene, space.y1 + 1, cut.under);
    return lost;
}

/* Parts of the level at the next larger scale, or the one after that, until all numbers find their
 * place. */
static void larger_sheets(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level,
                          int under)
{
    ks_box all = extent_of(level);
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
        lost_told(sheets, level, lost);
}

void ks_level_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    fit f = fit_of(facts);
    bool *listed = KS_TAKE(sheets->arena, facts->n_levels, bool);
    for (int i = 0; i < facts->n_levels; i++)
        if (level_sheet(sheets, facts, &facts->levels[i], &f, &listed[i]))
            larger_sheets(sheets, facts, &facts->levels[i], f.under);
    lists_flown(sheets, facts, listed);
}
