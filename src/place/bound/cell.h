/* cell.h: how much of a level a convex body takes for certain, with the waste around it. */
#ifndef KILNSTOW_PLACE_BOUND_CELL_H
#define KILNSTOW_PLACE_BOUND_CELL_H

#include "kilnstow/shape.h"

/* Convex bodies that do not overlap in a convex region can each be widened to a convex cell, the
 * cells not overlapping either, until no cell can be widened. Then every side of a cell that is not
 * the region's own is touched, between its ends, by another cell, and by no two sides the same. So
 * sides are edges of a planar graph of n cells and the wall, which has at most 3 (n + 1) - 6 edges
 * (Euler), and for a round region
 *
 *   sum over cells of (sides + 2 if the cell touches the wall - 6)  <=  -6,
 *
 * for a region of M sides, its own sides counted with the cells',  <=  M - 6 (after L. Fejes Toth,
 * Some packing and covering theorems, Acta Sci. Math. Szeged 12, 1950). A cell of few sides is much
 * larger than a round body. At any price of a side
 *
 *   sum over bodies of (least over k of: area of a cell with k sides + price (k - 6))
 *     <=  area of the region - 6 price      (round; else + (M - 6) price).
 *
 * A body may be left out of the sum; at price 0 it says that areas add up. */
typedef struct {
    double side_mm2; /* price of a side, >= 0 */
    double wall_mm;  /* radius of a round region; 0 = one with sides */
} ks_cell_rule;

/* A convex body: what is known of it from below. */
typedef struct {
    double area_mm2;
    double oval_mm2; /* area of an ellipse within it */
    double disc_mm;  /* radius of a disc within it */
} ks_cell_body;

/* The outline, convex, grown by `grow_mm`. */
ks_cell_body ks_cell_body_of(const ks_outline *shape, double grow_mm);

/* Least area of a cell of k sides, k >= 3, that touches no wall. */
double ks_cell_area_mm2(const ks_cell_body *body, int sides);

/* Least area of a cell of so many sides that shares the round wall. */
double ks_cell_wall_area_mm2(const ks_cell_body *body, int sides, double wall_mm);

/* What the body adds to the sum at least; 0 when it is better left out. Rounded down. */
double ks_cell_need_mm2(const ks_cell_body *body, const ks_cell_rule *rule);

#endif
