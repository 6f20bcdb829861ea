/* placing.h: what else of a placing the house may touch. */
#ifndef KILNSTOW_PLACE_FINISH_PLACING_H
#define KILNSTOW_PLACE_FINISH_PLACING_H

#include "base/stop.h"
#include "kilnstow/place.h"

/* What ks_placing_stop asks; its looks count how much is done, without a clock. */
ks_stop *ks_placing_stop_of(ks_placing *placing);

#endif
