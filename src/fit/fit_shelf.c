/* What the shelves under it bear. */
#include "fit/fit_way.h"
#include "studio/parts.h"
#include "studio/plate.h"
#include "studio/shelf_strength.h"

#include <math.h>

static const ks_firing *firing_of(const ks_fit_case *asked)
{
    return &asked->order.firings[asked->kind.firing];
}

/* What of it stands on the shelf itself: its slab or its feet. */
static ks_outline ground_of(const ks_fit_case *asked, const ks_fit_way *way, ks_arena *arena)
{
    const ks_piece *piece = &asked->order.pieces[0];
    ks_outline ground = ks_parts_feet(piece->parts, piece->n_parts, piece->has_setter, arena);
    return ks_outline_place(&ground, way->stand, arena);
}

static void note_shelf(const ks_fit_case *asked, const ks_stack_level *level, int shelf, int kind,
                       ks_fit_way *way)
{
    const ks_shelf_kind *shelf_kind = &asked->kiln.shelves[kind];
    double limit = ks_level_shelf_kg(&asked->job, &asked->kind, level, shelf);
    way->n_shelves++;
    if (way->n_shelves > 1 && limit >= way->limit_kg)
        return;
    way->shelf = kind;
    way->bending = ks_level_bending(&asked->kind, level, shelf);
    way->limit_kg = limit;
    way->bears_low_kg =
        ks_shelf_bears_kg(shelf_kind, firing_of(asked), way->bending, 1 - ks_shelf_doubt);
}

/* Of the piece, which weighs on its ground alone, and the shelf, which weighs all over. */
static double stress_mpa(const ks_fit_case *asked, const ks_stack_level *level, int shelf,
                         const ks_outline *ground, ks_arena *arena)
{
    const ks_furniture *f = asked->kind.furniture;
    const ks_post_places *places = &f->places[f->post_layouts[level->standing].places];
    const ks_support *support = &asked->kiln.bays[level->bay].supports[level->support];
    const ks_shelf_kind *kind = &asked->kiln.shelves[support->shelves[shelf].kind];
    ks_outline laid = ks_shelf_lay(&asked->kiln, support, shelf, arena);
    ks_point *under = KS_TAKE(arena, places->n, ks_point);
    int n = ks_posts_under(f, places, NULL, &laid, ks_rotation_of(0), under, arena);
    double all = ks_plate_bending(&laid, NULL, n, under, arena);
    double here = ks_plate_bending(&laid, ground, n, under, arena);
    return ks_shelf_stress_mpa(kind, all, kind->mass_kg) +
           ks_shelf_stress_mpa(kind, here, asked->order.pieces[0].mass_kg);
}

/* As the checker has it, a piece weighs, all of it, on every shelf under it. */
void ks_fit_find_shelf(const ks_fit_case *asked, const ks_stack_level *level, ks_fit_way *way,
                       ks_arena *arena)
{
    const ks_support *support = &asked->kiln.bays[way->bay].supports[way->support];
    ks_outline ground = ground_of(asked, way, arena);
    way->shelf = support->shelves[0].kind;
    way->limit_kg = way->bears_low_kg = INFINITY;
    for (int s = 0; s < support->n_shelves; s++) {
        const struct ks_laid_shelf *laid = &support->shelves[s];
        ks_outline shelf =
            ks_outline_place(&asked->kiln.shelves[laid->kind].outline, laid->stand, arena);
        if (ks_outline_distance(&ground, &shelf) < -KS_GRID)
            note_shelf(asked, level, s, laid->kind, way);
    }
    if (support->n_shelves == 1 && way->bending > 0)
        way->stress_mpa = stress_mpa(asked, level, 0, &ground, arena);
}
