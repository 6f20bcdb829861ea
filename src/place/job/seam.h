/* seam.h: shelves side by side taken as one. */
#ifndef KILNSTOW_PLACE_JOB_SEAM_H
#define KILNSTOW_PLACE_JOB_SEAM_H

#include "kilnstow/shape.h"

/* How far within the hull of the shelves a foot has to stay so that they carry it as one; negative
 * when they do not, however far (a seam too wide). 0 for one shelf. */
double ks_seam_inset_mm(const ks_outline *shelves, int n, ks_arena *arena);

#endif
