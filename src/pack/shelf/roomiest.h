/* roomiest.h: where one piece has the most room on a level, proven to a fraction of a millimetre.
 */
#ifndef KILNSTOW_PACK_SHELF_ROOMIEST_H
#define KILNSTOW_PACK_SHELF_ROOMIEST_H

#include "pack/shelf/shelf.h"

typedef struct {
    ks_stand stand;
    double slack_mm; /* least spare beyond every clearance in plan; negative: short by so much */
    double bound_mm; /* no stand has more */
    int region, obstacle; /* of the space: what it is closest to, -1 */
} ks_roomiest;

/* Moving a piece by d changes no distance by more than d, and turning it by an angle by no more
 * than its reach times that angle. So a box of stands whose middle has slack s holds none with more
 * than s + its half diagonal + reach x half angle (and, from an edge or a disc's tangent, much less
 * where turning moves the nearest vertices along it; from two edges that face one another nothing
 * for moving at all). Boxes that cannot beat the best known are
 * thrown away until none is left that could by more than `within_mm` (branch and bound on a
 * Lipschitz function: R. Horst and H. Tuy, Global Optimization, 1996, ch. XI). Heights are not
 * looked at but for which parts meet which region. */
ks_roomiest ks_roomiest_find(const ks_shelf_space *space, const ks_shelf_item *item,
                             double within_mm);
/* The same, but stands with no more than `floor_mm` are of no use: when none has more by
 * `within_mm`, slack_mm is left at floor_mm and the stand says nothing. */
ks_roomiest ks_roomiest_above(const ks_shelf_space *space, const ks_shelf_item *item,
                              double floor_mm, double within_mm);
/* Whether some stand has at least this slack; may be false where none has `within_mm` more. */
bool ks_roomiest_reaches(const ks_shelf_space *space, const ks_shelf_item *item, double slack_mm,
                         double within_mm);

#endif
