/* slices.h: a form by its widths at several heights, or by its outline in a photograph. */
#ifndef KILNSTOW_STUDIO_FORMS_SLICES_H
#define KILNSTOW_STUDIO_FORMS_SLICES_H

#include "studio/parts.h"
#include "studio/reading/reading.h"

/* Between two heights: the box around it at either end, and straight lines from one to the other.
 */
typedef struct {
    double low_mm, high_mm;
    ks_box low, high;
} ks_slice;

/* From the foot up, without gaps. */
typedef struct {
    int n;
    ks_slice *at;
} ks_slices;

/* `[[height, width, depth], ...]`, as deep as wide where the depth is left out. False after noting
 * what is wrong. */
bool ks_slices_of_widths(ks_reading *reading, const ks_json *node, ks_slices *out);

/* A photograph: `{"stick": length, "ends": [[x, y], [x, y]], "points": [[x, y], ...]}` in any unit
 * of the picture, along its outline from one end of the foot over the top to the other. With one
 * from the side its depth is that one's; else `deep_mm` where it is widest, and in proportion
 * elsewhere; NAN = as deep as wide. */
bool ks_slices_of_photos(ks_reading *reading, const ks_json *front, const ks_json *side,
                         double deep_mm, ks_slices *out);

/* Blocks that enclose it, oval or rectangular seen from above, the lowest its foot. */
void ks_slices_add(const ks_slices *slices, bool square, ks_part_list *list);

double ks_slices_height_mm(const ks_slices *slices);

#endif
