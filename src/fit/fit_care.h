/* fit_care.h: what a heavy form asks of shelf and back; estimates, for caution. */
#ifndef KILNSTOW_FIT_FIT_CARE_H
#define KILNSTOW_FIT_FIT_CARE_H

#include "fit/fit_ask.h"

void ks_fit_care_of(const ks_fit_question *q, const ks_fit_way *way, ks_fit_care *out);
void ks_fit_setting_of(const ks_fit_question *q, ks_fit_setting *out);

#endif
