#include "draw/sheets/level_sheet.h"

#include "studio/level_name.h"

#include <limits.h>
#include <math.h>

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
                            : ks_tr("No posts on this shelf.");
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

typedef struct {
    double width, height; /* of the chamber, real mm */
    int under;            /* scale 1 : under */
    double paper_height;  /* what the drawing takes */
} fit;

static fit fit_of(const ks_facts *facts)
{
    fit f = {facts->extent.x1 - facts->extent.x0, facts->extent.y1 - facts->extent.y0, 0, 0};
    f.under = ks_scale_under(f.width, f.height, KS_SHEET_RIGHT - KS_SHEET_LEFT - KS_LEVEL_AROUND,
                             KS_SHEET_BOTTOM - KS_SHEET_TOP - 36 - KS_LEVEL_ABOVE - KS_LEVEL_BELOW);
    f.paper_height = f.height / f.under + KS_LEVEL_ABOVE + KS_LEVEL_BELOW;
    return f;
}

static ks_view view_of(const ks_facts *facts, const fit *f, double y)
{
    double scale = 1.0 / f->under, middle = (KS_SHEET_LEFT + KS_SHEET_RIGHT) / 2;
    return (ks_view){{middle - (facts->extent.x0 + facts->extent.x1) / 2 * scale,
                      y + KS_LEVEL_ABOVE + facts->extent.y1 * scale},
                     scale};
}

static const char legend[] = KS_WORDS(
    "Black: posts on this shelf, with their height; faint: posts below it. Dashes: foot. Thin "
    "line: rim. Chain "
    "line: ware stays inside it. Cross-hatched: keep free. Under each number: the piece's height");

/* A line of the sheet's foot, where there is room; y of the next one. */
static double foot_line(ks_scene *scene, ks_look look, double y, const char *words)
{
    const double pitch = 4;
    int lines = (int)((KS_SHEET_BOTTOM - y + 3) / pitch);
    return y + pitch * ks_scene_wrap(scene, look, (ks_point){KS_SHEET_LEFT, y}, KS_SMALL,
                                     KS_SHEET_RIGHT - KS_SHEET_LEFT, lines < 3 ? lines : 3, pitch,
                                     words);
}

/* Scale bar, what the reader has to know, the key to the lines and, where there is room, the list:
 * returns whether there was. */
static bool draw_foot(ks_scene *scene, const ks_facts *facts, const ks_level_facts *level,
                      int under, double y, bool larger)
{
    ks_scale_bar(scene, y, under);
    y += 13.5;
    if (larger)
        y = foot_line(
            scene, KS_LOOK_STRONG, y,
            ks_tr("Pieces without a number here have theirs on the larger drawings that follow."));
    y = foot_line(scene, KS_LOOK_FAINT, y,
                  ks_arena_print(scene->arena, "%s%s, %s.", ks_tr(legend),
                                 facts->n_owners > 1 ? ks_tr(" with its owner's letter") : "",
                                 ks_say_unit(facts->display)));
    if (ks_level_list(scene, facts, level, y - 1))
        return true;
    (void)foot_line(scene, KS_LOOK_STRONG, y,
                    ks_tr("Its pieces are listed on the sheets headed: Pieces, level by level."));
    return false;
}

ks_heading ks_level_heading(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level)
{
    const char *file = ks_level_file_name(level->bare_name, sheets->arena);
    return (ks_heading){ks_arena_print(sheets->arena, "level-%s", file),
                        ks_arena_print(sheets->arena, "%s, from above", level->name),
                        summary_of(facts, level, sheets->arena),
                        ks_arena_print(sheets->arena, "Plan of %s", level->code)};
}

void ks_level_lost(ks_sheets *sheets, const ks_level_facts *level, int lost)
{
    const char *count = ks_say_count(lost, "number", "numbers", sheets->arena);
    ks_sheets_warn(sheets,
                   ks_arena_print(sheets->arena,
                                  "%s: %s found no place on the drawing; the list has them all",
                                  level->name, count));
}

/* The whole level; true when its numbers need larger drawings of its parts, which are then left to
 * tell them. */
static bool draw_whole(ks_sheets *sheets, ks_scene *scene, const ks_level_shown *shown,
                       ks_view view, ks_box space)
{
    int before = scene->n;
    ks_numbers numbers = ks_level_draw(scene, shown, view, space);
    bool full_size = view.scale >= 1;
    if (full_size && numbers.lost > 0)
        ks_level_lost(sheets, shown->level, numbers.lost);
    if (full_size || (numbers.lost == 0))
        return false;
    scene->n = before;
    ks_level_shown plain = *shown;
    plain.leaders = 0;
    (void)ks_level_draw(scene, &plain, view, space);
    return true;
}

static bool level_sheet(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level,
                        const fit *f, bool *listed)
{
    ks_scene *scene = ks_sheet_begin(sheets, facts, ks_level_heading(sheets, facts, level));
    double y = KS_SHEET_TOP + 3;
    y += 4 * ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT, y}, KS_SMALL,
                           KS_SHEET_RIGHT - KS_SHEET_LEFT, 3, 4,
                           posts_and_tightest(facts, level, sheets->arena)) -
         2;
    ks_box space = {KS_SHEET_LEFT, y, KS_SHEET_RIGHT, y + f->paper_height};
    ks_level_shown shown = {facts,     level, NULL, false, f->under > 1 ? KS_MOST_LEADERS : INT_MAX,
                            everything};
    bool larger = draw_whole(sheets, scene, &shown, view_of(facts, f, y), space);
    *listed = draw_foot(scene, facts, level, f->under, space.y1, larger);
    return larger;
}

void ks_level_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    fit f = fit_of(facts);
    bool *listed = KS_TAKE(sheets->arena, facts->n_levels, bool);
    for (int i = 0; i < facts->n_levels; i++)
        if (level_sheet(sheets, facts, &facts->levels[i], &f, &listed[i]))
            ks_level_larger(sheets, facts, &facts->levels[i], f.under);
    ks_level_lists(sheets, facts, listed);
}
