/* Rings and a ladder at full size, to cut out and measure ware with before it is planned. */
#include "draw/sheets/sheets.h"
#include "studio/files/sizing.h"

#include <math.h>

/* Steps of sizes: 10 mm, or half an inch. */
typedef struct {
    double step_mm;
    int first, rungs; /* the smallest ring, and the rungs of a ladder's part, in steps */
} gauge;

static gauge gauge_of(const ks_facts *facts)
{
    return ks_say_inches(facts->display) ? (gauge){12.7, 3, 15} : (gauge){10, 4, 19};
}

/* "cup, mug M": the families that come along whose width is this step's, as they are typed. */
static const char *families_at(ks_arena *arena, const gauge *g, int step)
{
    int n;
    const ks_family *families = ks_families_usual(&n, arena);
    const char *names = "";
    for (int i = 0; i < n; i++)
        if ((int)ceil(families[i].diameter_mm / g->step_mm - 1e-9) == step)
            names = ks_say_join(arena, ", ", names, families[i].name);
    return names;
}

/* Every second size, one within the other: each ring is as wide as a step. */
static void rings(ks_sheets *sheets, const ks_facts *facts, int nth)
{
    const double most_mm = 155;
    const ks_point centre = {90, 116};
    ks_arena *arena = sheets->arena;
    gauge g = gauge_of(facts);
    ks_scene *scene = ks_sheet_begin(
        sheets, facts,
        (ks_heading){ks_arena_print(arena, "measure-rings-%d", nth + 1),
                     ks_arena_print(arena, "Rings to measure with, %d of 2", nth + 1),
                     ks_tr("On card. Cut along each line, the largest first: what is left around "
                           "it is the ring."),
                     ks_tr("Measuring")});
    ks_scene_tag(scene, KS_TAG_FIGURE);
    for (int k = g.first + nth; k * g.step_mm <= most_mm; k += 2) {
        double r = k * g.step_mm / 2;
        ks_scene_disc(scene, KS_LOOK_FOOT, centre, r);
        ks_scene_words(scene, KS_LOOK_NUMBER, (ks_point){centre.x, centre.y - r - 2.5}, KS_MIDDLE,
                       KS_PLAIN, ks_say_length(facts->display, k * g.step_mm, arena));
        ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){centre.x, centre.y + r + 4.2}, KS_MIDDLE,
                       KS_SMALL, families_at(arena, &g, k));
    }
    ks_scene_tag(scene, KS_TAG_PARAGRAPH);
    ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT, KS_SHEET_TOP + 4}, KS_SMALL,
                  KS_SHEET_RIGHT - KS_SHEET_LEFT, 3, 4.2,
                  ks_tr("The smallest ring that a piece passes through, handle aside, is its "
                        "width. The names in the rings are sizes that come along; families of "
                        "the order that are called the same stand in their place."));
    ks_scale_bar(scene, 212, 1);
}

/* A part of the ladder, `nth` from below, its foot at the bottom. */
static void ladder_part(ks_scene *scene, const ks_facts *facts, int nth)
{
    const double left = 14 + 84 * nth, right = left + 66, foot = 222;
    gauge g = gauge_of(facts);
    ks_scene_box(scene, KS_LOOK_RULE, (ks_box){left, foot - g.rungs * g.step_mm, right, foot});
    for (int k = 0; k <= g.rungs; k++) {
        double y = foot - k * g.step_mm;
        ks_scene_line(scene, KS_LOOK_RIM, (ks_point){left, y}, (ks_point){right, y});
        if (k > 0)
            ks_scene_words(
                scene, KS_LOOK_NUMBER, (ks_point){left + 2, y + 4}, KS_LEFT, KS_SMALL,
                ks_say_length(facts->display, (nth * g.rungs + k) * g.step_mm, scene->arena));
    }
}

static void ladder(ks_sheets *sheets, const ks_facts *facts)
{
    ks_arena *arena = sheets->arena;
    gauge g = gauge_of(facts);
    const char *wide = ks_say_length(facts->display, (g.first + 5) * g.step_mm, arena),
               *high = ks_say_length(facts->display, (g.first + 6) * g.step_mm, arena);
    ks_scene *scene = ks_sheet_begin(
        sheets, facts,
        (ks_heading){"measure-ladder", ks_tr("Ladder to measure with"),
                     ks_tr("On card. Cut out both parts; join the right one on top of the left."),
                     ks_tr("Measuring")});
    ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT, KS_SHEET_TOP + 3}, KS_SMALL,
                  KS_SHEET_RIGHT - KS_SHEET_LEFT, 2, 3.6,
                  ks_arena_print(arena,
                                 "The lowest line over a piece is its height. With its ring that "
                                 "is its \"size\" in the ware table: \"%s x %s\"",
                                 wide, high));
    ks_scene_tag(scene, KS_TAG_FIGURE);
    ladder_part(scene, facts, 0);
    ladder_part(scene, facts, 1);
}

void ks_measure_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    if (facts->index > 0 && sheets->options->load < 0)
        return; /* once is enough for a plan */
    rings(sheets, facts, 0);
    rings(sheets, facts, 1);
    ladder(sheets, facts);
}
