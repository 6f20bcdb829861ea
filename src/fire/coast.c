#include "fire/coast.h"

#include <math.h>

#define COAST_STEP_S 120.0
#define COASTS_MOST_S (6 * S_PER_H)
#define ADDS_NO_MORE 0.01 /* of the rate at which it begins */

double ks_course_coast_h(ks_course *c, double fall_k_h)
{
    ks_network *net = &c->model.net;
    double begins = ks_course_work_rate(c, c->job->end_cone), rate = begins, sum = 0;
    double set_c = ks_course_reading_c(c), most_w = ks_course_most_w(c);
    ks_network_keep(net, c->arena, &c->kept);
    for (double s = 0; s < COASTS_MOST_S && rate > ADDS_NO_MORE * begins; s += COAST_STEP_S) {
        double power_w, before = rate;
        set_c -= fall_k_h * COAST_STEP_S / S_PER_H;
        ks_drive drive = {COAST_STEP_S, fall_k_h > 0 ? set_c : NAN, most_w};
        if (!ks_network_step(net, &drive, 0, &power_w))
            break;
        rate = ks_course_work_rate(c, c->job->end_cone);
        sum += 0.5 * (before + rate) * COAST_STEP_S / S_PER_H;
    }
    ks_network_restore(net, &c->kept);
    return begins > 0 ? sum / begins : 0;
}
