/* parts.h: a piece's blocks while they are being put together. */
#ifndef KILNSTOW_STUDIO_PARTS_H
#define KILNSTOW_STUDIO_PARTS_H

#include "kilnstow/piece.h"
#include "kilnstow/reason.h"

/* A foot that is told, but not how tall it is, is taken this tall; the least that keeps apart what
 * stands on the shelf from what only hangs over it. */
#define KS_FOOT_MM 3.0
/* A thrown form is cut into bands whose radius differs from the true one by no more than this,
 * or, where that would take more than KS_MOST_BANDS, into that many. */
#define KS_BAND_ERROR_MM 1.0
enum { KS_MOST_BANDS = 16 };
/* The lowest of its bands is the foot: what must stand on the shelf. */
#define KS_FOOT_BAND_MM 1.0

typedef struct {
    ks_arena *arena;
    ks_part *at;
    int n, room;
} ks_part_list;

void ks_part_add(ks_part_list *list, ks_part_kind kind, double from_mm, double to_mm,
                 ks_outline outline);

/* Discs, foot first, that enclose the form thrown to straight lines between points of
 * (height, radius): x and y of each point. Heights start at 0 and never fall; n >= 2. */
void ks_profile_bands(const ks_point *profile, int n, ks_part_list *list);

/* Radius at a height, the greater one at a step. */
double ks_profile_radius(const ks_point *profile, int n, double height_mm);

/* Lateral surface of one side of the thrown form, and the area its wall encloses at the bottom. */
double ks_profile_lateral_mm2(const ks_point *profile, int n);

/* A block `reach` beyond the bodies in the list between two heights, `width` broad, at `at_deg`
 * counter-clockwise from the right; it starts within them. */
void ks_handle_add(ks_part_list *list, double reach_mm, double width_mm, double from_mm,
                   double to_mm, double at_deg);

/* Turns the blocks over as the pose says: heights upside down; or, on edge or side, the box around
 * all of them laid over. */
void ks_parts_posed(ks_part_list *list, ks_pose pose);

/* Puts what the setter is made of under the blocks and lifts them onto it. */
void ks_parts_set(ks_part_list *list, const ks_setter *setter);

/* Area that the blocks cover seen from above; shares of partly hidden ones are found by sampling.
 */
double ks_parts_area_mm2(const ks_part *parts, int n, ks_arena *arena);

double ks_parts_top_mm(const ks_part *parts, int n);
bool ks_part_of_setter(ks_part_kind kind);

/* Hull of the lowest blocks that are (or are not) the setter's: what stands. */
ks_outline ks_parts_feet(const ks_part *parts, int n, bool setter, ks_arena *arena);

double ks_outline_perimeter_mm(const ks_outline *outline);

/* What would hold up a piece that on a tilted shelf stands by this much, less than nothing. */
ks_reason ks_piece_upheld(double stands_tilted_mm);

#endif
