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

#endif
