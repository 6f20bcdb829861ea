/* coast.h: what a kiln that is switched off still does to its cones. */
#ifndef KILNSTOW_FIRE_COAST_H
#define KILNSTOW_FIRE_COAST_H

#include "fire/course.h"

/* Hours at the present temperature that are worth as much heat work of the end cone as the cooling
 * would be if it began now. It is followed ahead, freely or at fall_k_h (0 = freely), and taken
 * back. */
double ks_course_coast_h(ks_course *c, double fall_k_h);

#endif
