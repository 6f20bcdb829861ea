/* switches.h: a kiln without a controller: people turn its switches up, at most each half hour. */
#ifndef KILNSTOW_FIRE_SWITCHES_H
#define KILNSTOW_FIRE_SWITCHES_H

#include "fire/course.h"

/* Runs the firing by hand, the schedule being what the ware bears; tells the turns. As told in the
 * job where it tells turns. */
void ks_course_by_hand(ks_course *c);

#endif
