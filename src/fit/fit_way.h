/* fit_way.h: the ways a piece can stand alone in a kiln. */
#ifndef KILNSTOW_FIT_FIT_WAY_H
#define KILNSTOW_FIT_FIT_WAY_H

#include "kilnstow/fit.h"
#include "place/stack/level_space.h"

/* An order made for the question: one kiln, one load, the pieces asked about, its own rules. */
typedef struct {
    ks_order order;
    ks_kiln kiln;
    ks_job job;
    ks_load_kind kind;
    int n_below; /* levels of other ware under it, and the clear height that each needs */
    const double *below_mm;
} ks_fit_case;

/* Which of the order's firings it is for. */
int ks_fit_firing(const ks_order *order, const ks_piece *piece, ks_arena *arena);

/* `known` may be NULL. */
ks_status ks_fit_case_of(const ks_order *order, const ks_piece *pieces, int n_pieces,
                         const ks_kiln *kiln, ks_fit_known *known, ks_arena *arena,
                         ks_fit_case *out, ks_error *err);

/* The kiln's furniture, worked out the first time it is asked for; NULL where nothing is known. */
const ks_furniture *ks_fit_furniture(ks_fit_known *known, const ks_kiln *kiln);

/* Lifts a bottom level over the levels of other ware that are to be under it, on posts and shelves
 * in stock. False: that cannot be built. */
bool ks_fit_raise(const ks_fit_case *asked, int way, int bay, ks_stack_level *level,
                  ks_arena *arena);

/* The lowest level of each bay and shelving, right up to the lid; over those of other ware that are
 * asked for. */
typedef struct {
    int n;
    ks_stack_level *levels;
    double *thickness_mm; /* of each one's shelves */
    bool *again;          /* the same bay and shelves came before, with posts in other places */
} ks_fit_levels;
ks_fit_levels ks_fit_bottom_levels(const ks_fit_case *asked, ks_arena *arena);

/* The roomiest of all ways under the lid, by the smaller of its two spares; of those whose shelves
 * bear the piece, if it goes in there. possible = false when the kiln has no shelf that can be set
 * up. */
ks_fit_way ks_fit_best_way(const ks_fit_case *asked, double within_mm, ks_arena *arena);
/* The roomiest way with a shelf over it, on the shortest posts in stock that leave the errors of
 * the visit room, else on the shortest of all; possible = false when there is none. */
ks_fit_way ks_fit_covered_way(const ks_fit_case *asked, const ks_fit_visit *visit, double within_mm,
                              ks_arena *arena);
/* Whether the way stands on this level. */
bool ks_fit_way_on(const ks_fit_way *way, const ks_stack_level *level);
/* Diameter of the widest disc, 100 mm high, that finds room beside it. */
double ks_fit_beside_mm(const ks_fit_case *asked, const ks_fit_way *way, ks_arena *arena);
/* Which shelf of the level the way stands on, and what that bears. */
void ks_fit_find_shelf(const ks_fit_case *asked, const ks_stack_level *level, ks_fit_way *way,
                       ks_arena *arena);
/* Whether there is a way at all with a shelf that bears it; quicker. */
bool ks_fit_somehow(const ks_fit_case *asked, ks_arena *arena);

#endif
