/* What the shelves under it bear. */
#include "fit/fit_way.h"
#include "studio/parts.h"
#include "studio/shelf_strength.h"

#include <math.h>

static const ks_firing *firing_of(const ks_fit_case *asked)
{
    return &asked->order.firings[asked->kind.firing];
}

double ks_fit_shelf_kg(const ks_fit_case *asked, const struct ks_laid_shelf *shelf, bool lies)
{
    return ks_shelf_limit_kg(&asked->kiln.shelves[shelf->kind], firing_of(asked), lies);
}

/* What of it stands on the shelf itself: its slab or its feet. */
static ks_outline ground_of(const ks_fit_case *asked, const ks_fit_way *way, ks_arena *arena)
{
    const ks_piece *piece = &asked->order.pieces[0];
    ks_outline ground = ks_parts_feet(piece->parts, piece->n_parts, piece->has_setter, arena);
    return ks_outline_place(&ground, way->stand, arena);
}

static bool lies(const ks_fit_way *way, const ks_shelf_kind *kind)
{
    return way->z_mm <= kind->thickness_mm + KS_GRID;
}

static void note_shelf(const ks_fit_case *asked, const struct ks_laid_shelf *laid, ks_fit_way *way)
{
    const ks_shelf_kind *kind = &asked->kiln.shelves[laid->kind];
    double limit = ks_fit_shelf_kg(asked, laid, lies(way, kind));
    way->n_shelves++;
    if (way->n_shelves > 1 && limit >= way->limit_kg)
        return;
    way->shelf = laid->kind;
    way->limit_kg = way->bears_kg = way->bears_low_kg = limit;
    if (lies(way, kind))
        return;
    way->bears_kg = ks_shelf_bears_kg(kind, firing_of(asked), 1);
    way->bears_low_kg = ks_shelf_bears_kg(kind, firing_of(asked), 1 - ks_shelf_doubt);
}

/* As the checker has it, a piece weighs, all of it, on every shelf under it. */
void ks_fit_find_shelf(const ks_fit_case *asked, ks_fit_way *way, ks_arena *arena)
{
    const ks_support *support = &asked->kiln.bays[way->bay].supports[way->support];
    ks_outline ground = ground_of(asked, way, arena);
    way->shelf = support->shelves[0].kind;
    way->limit_kg = way->bears_kg = way->bears_low_kg = INFINITY;
    for (int s = 0; s < support->n_shelves; s++) {
        const struct ks_laid_shelf *laid = &support->shelves[s];
        ks_outline shelf =
            ks_outline_place(&asked->kiln.shelves[laid->kind].outline, laid->stand, arena);
        if (ks_outline_distance(&ground, &shelf) < -KS_GRID)
            note_shelf(asked, laid, way);
    }
}
