/* fit_piece.h: a piece as it will be in another firing, or made larger or smaller. */
#ifndef KILNSTOW_FIT_FIT_PIECE_H
#define KILNSTOW_FIT_FIT_PIECE_H

#include "kilnstow/piece.h"

/* About the origin. */
ks_outline ks_outline_scaled(const ks_outline *outline, double factor, ks_arena *arena);

/* All lengths times `factor`, but for beds of grog, which keep their thickness. */
ks_piece ks_piece_scale(const ks_piece *piece, double factor, ks_arena *arena);

/* The form made lower, or narrower all round, by so much of its greatest height or breadth; its
 * setter as it was but for the slab under a narrower form. */
ks_piece ks_piece_lower(const ks_piece *piece, double by_mm, ks_arena *arena);
ks_piece ks_piece_narrower(const ks_piece *piece, double by_mm, ks_arena *arena);

/* The form without its setter, standing on the shelf. */
ks_piece ks_piece_bare(const ks_piece *piece, ks_arena *arena);

/* Its slab thinner and with less margin; the form sinks with it. Neither may be more than there is.
 */
ks_piece ks_piece_on_less(const ks_piece *piece, double thinner_mm, double narrower_mm,
                          ks_arena *arena);

/* Least distance between two parallel walls that the piece goes through, turned as one likes. */
double ks_piece_breadth_mm(const ks_piece *piece, ks_arena *arena);

/* All parts seen from above, as one convex outline. */
ks_outline ks_piece_hull(const ks_piece *piece, ks_arena *arena);

#endif
