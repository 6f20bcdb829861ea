/* Levels of other ware under a form. */
#include "fit/fit_way.h"
#include "place/stack/stack_bound.h"

#include <math.h>

/* Posts of each kind that are not used yet. */
static bool take_posts(const ks_fit_case *asked, int gap, int n_posts, int *left)
{
    const ks_gap *g = &asked->kind.furniture->gaps[gap];
    bool enough = true;
    for (int i = 0; i < g->n; i++) {
        left[g->kind[i]] -= n_posts;
        enough = enough && left[g->kind[i]] >= 0;
    }
    for (int i = 0; i < g->n && !enough; i++)
        left[g->kind[i]] += n_posts;
    return enough;
}

static bool has_shelves(const ks_fit_case *asked, const ks_support *support, int levels)
{
    for (int s = 0; s < support->n_shelves; s++) {
        int of_kind = 0;
        for (int k = 0; k < support->n_shelves; k++)
            of_kind += support->shelves[k].kind == support->shelves[s].kind;
        if (asked->kiln.shelves[support->shelves[s].kind].count < of_kind * levels)
            return false;
    }
    return true;
}

/* The lowest gap over this level that is high enough and can be built. */
static bool raise_once(const ks_fit_case *asked, int way, ks_stack_level *level, double clear_mm,
                       double least_mm, int *posts_left)
{
    const ks_furniture *f = asked->kind.furniture;
    const ks_column *column = &f->post_layouts[level->standing].columns[level->column];
    ks_um thick = column->ways[way].thickness;
    for (int g = 0; g < f->n_gaps; g++) {
        ks_um base = level->z + f->gaps[g].height;
        if (ks_gap_clear_mm(&asked->kind, f->gaps[g].height, false) < clear_mm ||
            ks_mm_of(f->gaps[g].height) < least_mm || !ks_posts_stand(f, column, g, level->z) ||
            !ks_way_rests(f, column, way, g, base) ||
            !ks_support_lies(f, level->bay, level->support, base + thick, base + thick) ||
            !take_posts(asked, g, column->n_posts, posts_left))
            continue;
        level->z = base + thick;
        level->under = g;
        level->number++;
        return true;
    }
    return false;
}

bool ks_fit_raise(const ks_fit_case *asked, int way, int bay, ks_stack_level *level,
                  ks_arena *arena)
{
    if (asked->n_below == 0)
        return true;
    const ks_furniture *f = asked->kind.furniture;
    const ks_kiln *kiln = &asked->kiln;
    const ks_column *column = &f->post_layouts[level->standing].columns[level->column];
    const ks_support *support = &kiln->bays[column->bays[bay]].supports[level->support];
    int *posts_left = KS_TAKE(arena, kiln->n_posts, int);
    for (int k = 0; k < kiln->n_posts; k++)
        posts_left[k] = kiln->posts[k].count;
    if (!has_shelves(asked, support, asked->n_below + 1) ||
        (level->under >= 0 && !take_posts(asked, level->under, column->n_posts, posts_left)))
        return false;
    for (int i = 0; i < asked->n_below; i++)
        if (!raise_once(asked, way, level, asked->below_mm[i], i == 0 ? kiln->first_gap_mm : 0,
                        posts_left))
            return false;
    return true;
}
