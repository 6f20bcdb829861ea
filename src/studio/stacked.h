/* stacked.h: ware that stands on other ware: how it may, and where it comes to rest. */
#ifndef KILNSTOW_STUDIO_STACKED_H
#define KILNSTOW_STUDIO_STACKED_H

#include "kilnstow/piece.h"

/* A solid block that lies flat: one part, no round plate, no taller than KS_TILE_MM. */
#define KS_TILE_MM 25.0
bool ks_piece_is_tile(const ks_piece *piece);

/* Low for its breadth: a plate, a saucer or a tile, piled where it may be stacked at all. */
bool ks_piece_is_flat(const ks_piece *piece);

/* Whether there is room inside it. */
bool ks_piece_is_open(const ks_piece *piece);

/* The ways in which a piece is stacked when nobody says: none if it is glazed, leather-hard, of
 * joined parts or on a setter; tiles in piles and on edge, other flat ware in piles, hollow ware in
 * nests and on rims, and what is neither inside other ware alone. Common practice, no source. */
unsigned ks_ways_usual(const ks_piece *piece);

/* How far two parts at one height are from meeting, mm: clear between them, or within the other's
 * hollow; negative where they meet. */
double ks_parts_apart_mm(const ks_part *a, const ks_part *b);

/* How far the upper's parts must rise, as they stand, until none of them meets one of the lower's
 * on the way down to there, mm; negative: they hang so far above what would carry them. Parts meet
 * that are apart by less than `near_mm` (0, or a little to either side for what only touches).
 * -INFINITY where nothing is under them. */
double ks_parts_rise_mm(const ks_part *lower, int n_lower, const ks_part *upper, int n_upper,
                        double near_mm);

/* The piece's parts in another pose, heights from where it stands, hollows with them; its own where
 * the pose is. On edge it stands upright, its thickness along y. How many. */
int ks_piece_posed(const ks_piece *piece, ks_pose pose, ks_arena *arena, ks_part **parts);

/* A row on edge leans: what the first of it takes besides its thickness, as a part of its height
 * (15 degrees). Its block is so much longer along y, about the same middle. */
#define KS_LEAN 0.26
ks_part ks_part_leaning(const ks_part *on_edge, ks_arena *arena);

/* Centre of mass of parts as walls and floors: of each part its outline less its hollow. */
typedef struct {
    double x, y, z; /* mm, in the parts' own axes */
} ks_mass_centre;
ks_mass_centre ks_parts_mass_centre(const ks_part *parts, int n);

#endif
