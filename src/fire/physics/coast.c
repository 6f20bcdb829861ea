#include "fire/physics/coast.h"

#include <math.h>

#define STEP_S 120.0
#define COASTS_MOST_S (6 * 3600.0)
#define ADDS_NO_MORE 0.01 /* of the rate at which it begins */

double ks_coast_h(const ks_coast *coast, ks_arena *arena, ks_network_state *kept)
{
    double begins = coast->work_rate(coast->of), rate = begins, sum = 0, set_c = coast->from_c;
    ks_network_keep(coast->net, arena, kept);
    for (double s = 0; s < COASTS_MOST_S && rate > ADDS_NO_MORE * begins; s += STEP_S) {
        double power_w, before = rate;
        set_c -= coast->fall_k_h * STEP_S / 3600;
        ks_drive drive = {STEP_S, coast->fall_k_h > 0 ? set_c : NAN, coast->most_w};
        if (!ks_network_step(coast->net, &drive, 0, &power_w))
            break;
        rate = coast->work_rate(coast->of);
        sum += 0.5 * (before + rate) * STEP_S / 3600;
    }
    ks_network_restore(coast->net, kept);
    return begins > 0 ? sum / begins : 0;
}
