/* bare_plan.h: a load with one shelf and nothing on it, to which a test adds what a rule is about.
 */
#ifndef KILNSTOW_TESTS_BARE_PLAN_H
#define KILNSTOW_TESTS_BARE_PLAN_H

#include "kilnstow/plan.h"

/* Chamber 600 x 600 x 400, open from above; a shelf of 500 x 500 x 15 whose top is at 40, on three
 * posts of 25. All clearances differ, so that none can be taken for another. */
typedef struct {
    ks_arena *arena;
    ks_order *order;
    ks_kiln *kiln;
    ks_plan *plan;
    ks_load *load;
} bare_plan;

bare_plan bare_plan_made(ks_arena *arena);

/* To be called when all is in: writes the steps of loading, from below. */
void bare_plan_list_steps(bare_plan *s);

/* Three outlines that reach 40 mm to the right and to the left. */
typedef enum { CIRCLE, ROUNDED, CONCAVE, N_KINDS } shape_kind;
ks_outline bare_shape(const bare_plan *s, shape_kind kind);

/* The vertex at its corner on the upper right, and how far it is rounded there. The opposite
 * corner is at minus this. */
ks_point bare_corner(shape_kind kind);
double bare_round(shape_kind kind);

/* A point so far from another towards the upper right, on the way (0.6, 0.8). */
ks_point bare_along(ks_point from, double mm);

/* A glazed piece of one copy, with no part yet. */
ks_piece *bare_piece(bare_plan *s, const char *id);
void bare_part(const bare_plan *s, ks_piece *piece, ks_part_kind kind, double from, double to,
               ks_outline outline);
/* A piece that is one foot of this outline and height. */
ks_piece *bare_block(bare_plan *s, const char *id, ks_outline outline, double height);

/* Puts the next copy on a level; adds to the order's count if need be. */
ks_placed *bare_put(const bare_plan *s, int level, const ks_piece *piece, double x, double y);
/* So that the corner on the upper right (way 1) or its opposite (way -1) has its vertex there. */
ks_placed *bare_put_corner(const bare_plan *s, int level, const ks_piece *piece, shape_kind kind,
                           int way, ks_point at);
ks_placed *bare_put_on(const bare_plan *s, const ks_piece *piece, const ks_placed *carrier,
                       double x, double y);
void bare_put_cones(bare_plan *s, int level, double x, double y);

ks_outline bare_moved(const bare_plan *s, ks_outline shape, double x, double y);
ks_outline bare_square(const bare_plan *s, double x, double y, double width, double depth);
/* A square of this side about the centre without its quarter on the upper right. */
ks_outline bare_ell(const bare_plan *s, double side);

void bare_chamber(const bare_plan *s, ks_outline outline);
/* Gives the shelf of a level another outline, in the kiln too; drawn at x, y. */
void bare_shelf(const bare_plan *s, int level, ks_outline outline, double x, double y);
/* Another level on posts of 150 over the first, with its top at 205; the gap below it is 150. */
ks_level *bare_upper_level(bare_plan *s, ks_outline shelf, double x, double y);
/* Without shelves or posts. */
ks_level *bare_add_level(const bare_plan *s, double z, double gap);
void bare_lay_shelf(const bare_plan *s, int level, ks_outline outline, double x, double y);
void bare_post(bare_plan *s, ks_outline outline, double from, double to);
void bare_keep_out(const bare_plan *s, ks_outline outline, double from, double to);
void bare_front_loader(const bare_plan *s);

/* The same clearance in the load and in the kiln: `which` is one of the load's. */
void bare_clearance(const bare_plan *s, double *which, double mm);

#endif
