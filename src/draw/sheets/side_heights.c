#include "draw/sheets/side.h"

#include <math.h>

#define LEADER_MM 8.0 /* from the chamber over its wall to the words */

static const char *gap_words(const ks_facts *facts, const ks_level *level, ks_arena *arena)
{
    return ks_arena_print(arena, "  ↕ %s", ks_say_bare(facts->display, level->gap_mm, arena));
}

double ks_side_heights_width(ks_scene *scene, const ks_facts *facts)
{
    const double least = 16;
    const char *lid = facts->from_front ? ks_tr("roof") : ks_tr("lid");
    const char *top =
        ks_arena_print(scene->arena, "%s  %s",
                       ks_say_bare(facts->display, facts->load->height_mm, scene->arena), lid);
    double width = fmax(least, ks_scene_measure(scene, KS_LOOK_TEXT, KS_SMALL, top));
    for (int i = 0; i < facts->n_levels; i++) {
        const ks_level_facts *level = &facts->levels[i];
        const char *height = ks_say_bare(facts->display, level->level->z_mm, scene->arena);
        const char *words = ks_arena_print(scene->arena, "%s  %s", height, level->code);
        width = fmax(width, ks_scene_measure(scene, KS_LOOK_STRONG, KS_SMALL, words));
        width = fmax(width, ks_scene_measure(scene, KS_LOOK_TEXT, KS_SMALL,
                                             gap_words(facts, level->level, scene->arena)));
    }
    return LEADER_MM + width;
}

typedef struct {
    double y; /* where it belongs, and then where it stands */
    double at;
    bool strong;
    const char *words;
} height_mark;

/* Moves marks, sorted from below, apart by `pitch` within top and bottom; false if they cannot be.
 */
static bool spread(height_mark *marks, int n, double pitch, double top, double bottom)
{
    if ((n - 1) * pitch > bottom - top)
        return false;
    double below = bottom + pitch;
    for (int i = 0; i < n; i++) {
        marks[i].at = fmin(marks[i].y, below - pitch);
        below = marks[i].at;
    }
    double above = top - pitch;
    for (int i = n - 1; i >= 0 && marks[i].at < above + pitch; i--) {
        marks[i].at = above + pitch;
        above = marks[i].at;
    }
    return true;
}

static const char *height_words(const ks_facts *facts, double z_mm, const char *what,
                                ks_arena *arena)
{
    return ks_arena_print(arena, "%s  %s", ks_say_bare(facts->display, z_mm, arena), what);
}

/* Levels of several bays at one height have one mark, without the bay's name. */
static int marks_of(const ks_side *s, bool with_gaps, height_mark *marks)
{
    const ks_facts *facts = s->facts;
    ks_arena *arena = s->scene->arena;
    int n = 0;
    marks[n++] = (height_mark){s->y0, 0, false, ks_tr("0  floor")};
    for (int i = 0; i < facts->n_levels; i++) {
        const ks_level *level = facts->levels[i].level;
        double y = s->y0 - level->z_mm * s->scale;
        bool same = i > 0 && fabs(facts->levels[i - 1].level->z_mm - level->z_mm) < 0.5;
        const char *code = same ? facts->levels[i].short_code : facts->levels[i].code;
        n -= same;
        marks[n++] = (height_mark){y, 0, true, height_words(facts, level->z_mm, code, arena)};
        if (with_gaps)
            marks[n++] = (height_mark){y - level->gap_mm / 2 * s->scale, 0, false,
                                       gap_words(facts, level, arena)};
    }
    double lid = facts->load->height_mm;
    marks[n++] = (height_mark){
        s->y0 - lid * s->scale, 0, false,
        height_words(facts, lid, facts->from_front ? ks_tr("roof") : ks_tr("lid"), arena)};
    return n;
}

/* Running heights at the right, with the clear gaps between where there is one column and room. */
void ks_side_heights(const ks_side *s, double right, double edge, double top)
{
    const double pitch = 4.2, bottom = s->y0 + 6;
    height_mark *marks = KS_TAKE(s->scene->arena, 2 * s->facts->n_levels + 2, height_mark);
    int n = marks_of(s, s->facts->load->n_bays < 2, marks);
    if (!spread(marks, n, pitch, top, bottom)) {
        n = marks_of(s, false, marks);
        if (!spread(marks, n, pitch, top, bottom))
            return; /* the table below has them */
    }
    for (int i = 0; i < n; i++) {
        ks_point from = {right + 4.6, marks[i].y}, to = {right + LEADER_MM - 0.8, marks[i].at};
        ks_scene_line(s->scene, KS_LOOK_LEADER, from, to);
        ks_scene_fitted(s->scene, marks[i].strong ? KS_LOOK_STRONG : KS_LOOK_TEXT,
                        (ks_point){right + LEADER_MM, marks[i].at + 1.2}, KS_LEFT, KS_SMALL,
                        marks[i].words, edge - right - LEADER_MM);
    }
}
